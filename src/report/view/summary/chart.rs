//! The groups as a strip plot.

use super::words::name;
use super::{Figures, SummarisedGroup, SummaryView};
use crate::report::chart::strip::{MOST_DOTS, Strip, StripPlot};
use crate::report::document::Figure;

pub(super) fn figure(view: &SummaryView<'_>, figures: &Figures) -> Figure {
    let unit = view.unit.map(|unit| format!(" / {unit}")).unwrap_or_default();
    let plot = StripPlot {
        title: format!("{} of each cell by group, with the mean and its 95 % interval", view.what),
        axis: format!("{}{unit}", view.what),
        strips: view.groups.iter().map(|group| strip(group, figures)).collect(),
    };
    let boxes = view.groups.iter().any(|group| MOST_DOTS < group.values.len());
    let crosses = view.groups.iter().any(|group| !group.excluded.is_empty());
    let mut caption = "Dots: cells. Stroke and line below: mean and its 95 % interval.".to_owned();
    if boxes {
        caption.push_str(" Box and line where there are more than 200 cells: quartiles and range.");
    }
    if crosses {
        caption.push_str(" Crosses: cells left out for a cause, at the edge if further out.");
    }
    plot.figure().caption(caption)
}

fn strip(group: &SummarisedGroup<'_>, figures: &Figures) -> Strip {
    let summary = group.summary;
    let interval =
        summary.mean_interval.map(|limits| format!("\n({})", figures.limits(limits))).unwrap_or_default();
    Strip {
        name: name(&summary.name).to_owned(),
        values: group.values.to_vec(),
        excluded: group.excluded.clone(),
        mean: summary.moments.mean,
        interval: summary.mean_interval,
        quartiles: summary.quartiles,
        label: format!("{}{interval}", figures.bare(summary.moments.mean)),
    }
}
