//! Traces of all components in one chart.

use super::MixtureFitView;
use crate::compose::mixture::Direction;
use crate::report::document::{Axis, Block, Chart, Mark, Series, Stroke, paragraph};

/// The chart, and what it is a chart of.
pub(super) fn traces(view: &MixtureFitView<'_>) -> Vec<Block> {
    let across = Axis::new("change of the component's fraction");
    let description =
        format!("{} along a line for each component, through one reference composition", view.response);
    let mut chart =
        Chart::new(across, Axis::new(view.response_titled()), description).with(Mark::place(0.0, ""));
    // Lines cross at the reference: each has a look of its own, so that many components are told apart in grey too.
    for (at, (name, trace)) in view.names.iter().zip(&view.traces).enumerate() {
        let points: Vec<(f64, f64)> = trace.iter().map(|point| (point.change, point.value)).collect();
        if 1 < points.len() {
            chart = chart.with(Mark::line(points, Stroke::Strong, *name).of(Series(at)));
        }
    }
    let reference: Vec<String> =
        view.names.iter().zip(&view.reference.0).map(|(name, x)| format!("{name} {x:.3}")).collect();
    let others = match view.direction {
        Direction::Cox => "all others keep their proportions (Cox)",
        Direction::Piepel => "what the others have above their lower bounds keeps its proportions (Piepel)",
    };
    let at = match view.reference.1.as_slice() {
        [] => String::new(),
        setting => format!(", at {}", view.setting_words(setting)),
    };
    vec![
        chart.caption("One line a component, as far as the region goes.").into(),
        paragraph(format!(
            "From {} as the reference{at}: one component changes and {others}. A steep line matters, a flat one does not.",
            reference.join(", ")
        )),
    ]
}
