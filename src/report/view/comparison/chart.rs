//! The groups side by side.

use super::{ComparisonView, Figures};
use crate::report::chart::strip::{Strip, StripPlot};
use crate::report::document::Figure;
use crate::statistics::comparison::{Member, Unit};
use crate::statistics::observations::sorted;
use crate::statistics::quantile::{QuantileRule, quantile};

pub(super) fn figure(view: &ComparisonView<'_>, figures: &Figures) -> Figure {
    let unit = view.unit.map(|unit| format!(" / {unit}")).unwrap_or_default();
    let of = match view.comparison.unit {
        Unit::Batch => "mean of the batches",
        Unit::Cell => "mean",
    };
    let plot = StripPlot {
        title: format!("{} of each cell by group, with the {of} and its {} interval", view.what, view.sure()),
        axis: format!("{}{unit}", view.what),
        strips: view.comparison.members.iter().map(|member| strip(view, member, figures)).collect(),
    };
    let left_out = |count: &super::FailureCount| count.failed.iter().any(|cell| !cell.counted);
    let crosses = if view.counts.iter().any(left_out) {
        " Crosses: cells left out for a cause, at the edge if further out."
    } else {
        ""
    };
    plot.figure().caption(format!(
        "Dots: cells. Stroke and line below: {of} and its {} interval.{crosses}",
        view.sure()
    ))
}

fn strip(view: &ComparisonView<'_>, member: &Member, figures: &Figures) -> Strip {
    let sorted = sorted(&member.cells);
    let quartile = |p: f64| quantile(&sorted, p, QuantileRule::default());
    let interval =
        member.interval.map(|limits| format!("\n({})", figures.limits(limits))).unwrap_or_default();
    let count = view.counts.iter().find(|count| count.name == member.name);
    Strip {
        name: member.name.clone(),
        values: member.cells.clone(),
        excluded: count
            .map(|count| {
                count.failed.iter().filter(|cell| !cell.counted).filter_map(|cell| cell.value).collect()
            })
            .unwrap_or_default(),
        mean: member.moments.mean,
        interval: member.interval,
        quartiles: [quartile(0.25), quartile(0.75)],
        label: format!("{}{interval}", figures.bare(member.moments.mean)),
    }
}
