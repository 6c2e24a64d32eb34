//! `summary`: each group of observations, what stands out in it, and what may be said with so many cells.

mod chart;
mod table;
mod words;

pub(in crate::report::view) use words::flagged;
pub use words::sentence;

use super::sample_figures::{Figures, percent};
use crate::input::Warning;
use crate::report::document::{Block, Caution, Document, Text, bullets, heading, muted, paragraph, strong};
use crate::statistics::summary::Summary;

/// What is shown.
pub struct SummaryView<'a> {
    /// What was observed: "OCV".
    pub what: &'a str,
    /// Its unit.
    pub unit: Option<&'a str>,
    /// So many decimals values carry that were reckoned from readings; `None` where they stand as they were read.
    pub carried: Option<usize>,
    /// The groups, with the values that each was made from.
    pub groups: Vec<SummarisedGroup<'a>>,
    /// True if the values of a batch are repeats, of which a summary by cells knows nothing.
    pub batched: bool,
    /// By what rule the values were taken, a sentence each.
    pub rule: &'a [String],
    /// What to know beside it.
    pub warnings: &'a [Warning],
}

/// One group.
pub struct SummarisedGroup<'a> {
    /// Its summary.
    pub summary: &'a Summary,
    /// Its values.
    pub values: &'a [f64],
    /// Values that are left out, for the plot.
    pub excluded: Vec<f64>,
    /// Batches, where they are named.
    pub batches: usize,
}

impl SummaryView<'_> {
    fn figures(&self) -> Figures {
        Figures::of(self.groups.iter().map(|group| &group.summary.moments), self.unit, self.carried)
    }
}

/// The whole summary.
pub fn summary_document(view: &SummaryView<'_>) -> Document {
    let figures = view.figures();
    let mut document = Document::new(format!("Summary of {}", view.what));
    document.push(bullets(view.groups.iter().map(|group| said(group, &figures))));
    document.extend(view.warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    document.push(chart::figure(view, &figures));
    document.push(table::means(view, &figures));
    document.push(table::middles(view, &figures));
    document.extend(stands_out(view, &figures));
    document.push(heading(1, "What may be said"));
    document.push(bullets(view.groups.iter().map(|group| honest(group, view))));
    if !view.rule.is_empty() {
        document.push(heading(1, "What was taken of each cell"));
        document.push(bullets(view.rule.iter().map(String::as_str)));
    }
    document.push(paragraph(muted(how(view))));
    document
}

/// The tests for values that stand out; empty where no group has enough values for any.
fn stands_out(view: &SummaryView<'_>, figures: &Figures) -> Vec<Block> {
    let tested = |summary: &Summary| {
        summary.shapiro_wilk.is_some() || summary.grubbs.is_some() || summary.dixon.is_some()
    };
    if !view.groups.iter().any(|group| tested(group.summary)) {
        return Vec::new();
    }
    let mut blocks: Vec<Block> =
        vec![heading(1, "Does anything stand out?"), table::outliers(view, figures).into()];
    let flagged = view.groups.iter().filter_map(|group| words::flagged(group.summary, figures));
    blocks.extend(flagged.map(|words| Caution::note(words).into()));
    blocks.push(paragraph(muted(
        "A flag is a reason to look at the cell, not to drop it: leave a value out for a physical cause only, and count it as a \
         failure. Shapiro and Wilk: a small p speaks against a normal distribution; with few values a large p speaks for nothing.",
    )));
    blocks
}

/// Every figure in one table, a row for each group: for spreadsheets.
pub fn summary_table(view: &SummaryView<'_>) -> Document {
    Document::new("Summary").with(table::full(view))
}

fn said(group: &SummarisedGroup<'_>, figures: &Figures) -> Text {
    let name = strong(words::name(&group.summary.name));
    let summary = group.summary;
    let mean = format!(": n = {}, mean {}", summary.moments.n, figures.value(summary.moments.mean));
    let interval = summary.mean_interval.map(|limits| format!(" (95 % interval {})", figures.limits(limits)));
    let tolerance = summary.tolerance.map(|tolerance| {
        let ([low, high], content) = (tolerance.interval, percent(summary.rules.content));
        format!(
            "; {content} of cells like these lie between {} and {}",
            figures.bare(low),
            figures.value(high)
        )
    });
    name.then(mean + &interval.unwrap_or_default() + &tolerance.unwrap_or_default())
}

fn honest(group: &SummarisedGroup<'_>, view: &SummaryView<'_>) -> Text {
    let batches = match group.batches {
        1 if view.batched => {
            " All come from one batch: they say how alike cells of this batch are, not how alike batches are."
        }
        0 | 1 => "",
        _ => {
            " They come from several batches: cells of one batch are repeats of it, so the interval by cells is too narrow for a \
              claim about the electrolyte; compare takes the batch as the unit."
        }
    };
    strong(words::name(&group.summary.name)).then(format!(": {}{batches}", sentence(group.summary)))
}

fn how(view: &SummaryView<'_>) -> String {
    let Some(group) = view.groups.first() else { return String::new() };
    let rules = group.summary.rules;
    format!(
        "Standard deviations with n − 1. Intervals of means by Student's t, 95 %. Quartiles by Hyndman and Fan's definition {}. MAD: \
         median distance from the median, not scaled. Grubbs and Dixon two-sided at {}. Tolerance interval: mean ± k·SD with the \
         exact two-sided factor k, content {}, confidence {}, for normal values.",
        rules.quartiles.number(),
        rules.alpha,
        percent(rules.content),
        percent(rules.confidence)
    )
}

/// Mean, spread and interval of each group, what stands out, and what may be said with so many values.
pub(in crate::report::view) fn summary_in_short(view: &SummaryView<'_>) -> Vec<Block> {
    let figures = view.figures();
    let mut blocks: Vec<Block> = vec![table::means(view, &figures).into()];
    let flagged = view.groups.iter().filter_map(|group| words::flagged(group.summary, &figures));
    blocks.extend(flagged.map(|words| Caution::note(words).into()));
    blocks.push(bullets(view.groups.iter().map(|group| honest(group, view))).into());
    blocks
}

/// The plot of a summary.
pub(in crate::report::view) fn summary_figure(view: &SummaryView<'_>) -> Block {
    chart::figure(view, &view.figures()).into()
}
