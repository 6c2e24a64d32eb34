//! The model over three components as a triangle.

use super::MixtureFitView;
use crate::compose::mixture::{Goal, Study};
use crate::report::document::{Block, Shape};
use crate::report::triangle::{Field, Place, Triangle, TriangleMark};

/// Steps of the lattice along each edge.
const STEPS: usize = 40;
/// Most isolines.
const LEVELS: usize = 8;
/// A rest that is held by the others, if any, below this is none.
const NOTHING: f64 = 1e-12;

/// Isolines over the three components that change the response most, with what was measured and the best; nothing for
/// two components, or where three of many leave no room.
pub(super) fn contours(view: &MixtureFitView<'_>, study: &Study) -> Option<Block> {
    let corners = corners(view)?;
    let held = |at: &usize| !corners.contains(at);
    let (reference, setting) = (&view.reference.0, &view.reference.1);
    let rest: f64 = (0..reference.len()).filter(held).map(|at| reference[at]).sum();
    let field = Field::new(STEPS, values(view, study, corners, 1.0 - rest)).round_levels(LEVELS);
    let names = corners.map(|at| view.names[at]);
    let description = format!("{} by the model over {}", view.response_titled(), names.join(", "));
    let mut triangle = Triangle::new(names, description)
        .with_field(field.unit(view.unit.unwrap_or_default()))
        .caption(caption(view, corners, rest, setting));
    if rest < NOTHING {
        let place = |x: &[f64]| -> Place { corners.map(|at| x[at]) };
        let measured = view.observed.iter().map(|own| place(&own.fractions)).collect();
        triangle = triangle.with(TriangleMark::points(measured, Shape::Hollow, ""));
        for own in &view.optima {
            let label = match own.goal {
                Goal::Maximum => "max",
                Goal::Minimum => "min",
                Goal::Target(_) => "nearest",
            };
            triangle = triangle.with(TriangleMark::points(vec![place(&own.fractions)], Shape::Filled, label));
        }
    }
    Some(triangle.figure().into())
}

/// All three, or those of more whose traces go up and down most, in their order.
fn corners(view: &MixtureFitView<'_>) -> Option<[usize; 3]> {
    let swing = |at: usize| {
        let values = view.traces.get(at).into_iter().flatten().map(|point| point.value);
        let high = values.clone().fold(f64::NEG_INFINITY, f64::max);
        let low = values.fold(f64::INFINITY, f64::min);
        if low < high { high - low } else { 0.0 }
    };
    let mut places: Vec<usize> = (0..view.names.len()).collect();
    places.sort_by(|one, other| swing(*other).total_cmp(&swing(*one)));
    places.truncate(3);
    places.sort_unstable();
    places.try_into().ok()
}

/// The model on the lattice, first fraction slowest; blank outside of the region.
fn values(view: &MixtureFitView<'_>, study: &Study, corners: [usize; 3], whole: f64) -> Vec<Option<f64>> {
    let mut values = Vec::new();
    for first in 0..=STEPS {
        for second in 0..=STEPS - first {
            let shares =
                [first, second, STEPS - first - second].map(|part| whole * part as f64 / STEPS as f64);
            let mut x = view.reference.0.clone();
            corners.iter().zip(shares).for_each(|(at, share)| x[*at] = share);
            values.push(view.region.holds(&x).then(|| study.value(&x, &view.reference.1)));
        }
    }
    values
}

fn caption(view: &MixtureFitView<'_>, corners: [usize; 3], rest: f64, setting: &[f64]) -> String {
    let mut held: Vec<String> = Vec::new();
    if NOTHING < rest {
        let others = (0..view.names.len()).filter(|at| !corners.contains(at));
        held.extend(others.map(|at| format!("{} {:.3}", view.names[at], view.reference.0[at])));
    }
    if !setting.is_empty() {
        held.push(view.setting_words(setting));
    }
    let whole = if NOTHING < rest {
        format!("; corners are {:.3} of a component", 1.0 - rest)
    } else {
        String::new()
    };
    let held = if held.is_empty() { String::new() } else { format!(", at {}{whole}", held.join(", ")) };
    format!(
        "{} by the model within the region{held}. Darker is less. Rings: what was measured.",
        view.response_titled()
    )
}
