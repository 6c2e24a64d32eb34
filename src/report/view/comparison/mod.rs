//! `compare`: what differs, by how much and how surely, and what that does not say.

mod chart;
mod failures;
mod notes;
mod side_by_side;
mod table;
mod words;

pub use notes::comparison_notes;
pub use side_by_side::explanations;
pub use table::all_tests;
pub use words::conclusions;

use super::amount::{percent, short};
use super::sample_figures::Figures;
use super::summary::flagged;
use crate::input::Warning;
use crate::report::document::{Block, Caution, Document, Table, bullets, heading, muted, paragraph};
use crate::statistics::comparison::Comparison;
use crate::statistics::summary::Summary;

/// What is shown.
pub struct ComparisonView<'a> {
    /// What was observed: "OCV".
    pub what: &'a str,
    /// Its unit.
    pub unit: Option<&'a str>,
    /// So many decimals values carry that were reckoned from readings; `None` where they stand as they were read.
    pub carried: Option<usize>,
    /// The comparison without what is left out.
    pub comparison: &'a Comparison,
    /// The same with the values of cells that are left out, if any have one.
    pub with_excluded: Option<&'a Comparison>,
    /// Every group of the file, also those without a value.
    pub counts: &'a [FailureCount],
    /// Fisher's exact test on the failures, if there are any.
    pub fisher: Option<f64>,
    /// True if batches are named.
    pub batched: bool,
    /// True if each group is one batch.
    pub groups_are_batches: bool,
    /// By what rule the values were taken, a sentence each.
    pub rule: &'a [String],
    /// What to know beside it.
    pub warnings: &'a [Warning],
    /// The values of each group by themselves, with the tests for values that stand out.
    pub summaries: &'a [Summary],
}

/// How many cells of a group failed.
pub struct FailureCount {
    /// The group.
    pub name: String,
    /// Cells that failed: left out, or failed later.
    pub failed: Vec<FailedCell>,
    /// All cells of which it is known whether they failed: those with a value, those that failed, and in a book
    /// those without a value too.
    pub all: usize,
    /// Limits of the share that fails, 95 %, by Clopper and Pearson.
    pub interval: Option<[f64; 2]>,
}

/// A cell that failed.
pub struct FailedCell {
    /// Its name or line.
    pub label: String,
    /// Its cause.
    pub cause: String,
    /// Its value, if it has one.
    pub value: Option<f64>,
    /// True if it counts: it failed after the time that the values are about.
    pub counted: bool,
}

impl ComparisonView<'_> {
    fn figures(&self) -> Figures {
        Figures::of(self.comparison.members.iter().map(|member| &member.moments), self.unit, self.carried)
    }

    /// "95 %", or what else the limits hold at.
    fn sure(&self) -> String {
        sure(self.comparison)
    }

    /// The name of a limit for scripts: `ci95_low`, or what else it holds at.
    fn key(&self, end: &str) -> String {
        format!("ci{}_{end}", short(self.comparison.question.confidence * 100.0, 4))
    }

    fn any_failed(&self) -> bool {
        self.counts.iter().any(|count| !count.failed.is_empty())
    }
}

/// The confidence of limits in words.
fn sure(comparison: &Comparison) -> String {
    percent(comparison.question.confidence, 3)
}

/// The whole comparison.
pub fn comparison_document(view: &ComparisonView<'_>) -> Document {
    let figures = view.figures();
    let mut document =
        Document::new(format!("{} compared", view.what)).with_data(table::pairs_data(view, &figures));
    document.push(bullets(conclusions(view)));
    document.extend(view.warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    document.extend(comparison_figures(view));
    document.extend(stands_out(view).into_iter().map(|words| Block::from(Caution::note(words))));
    if view.any_failed() {
        document.extend(failures::blocks(view, &figures));
    }
    document.push(heading(1, "How this was compared"));
    document.push(bullets(comparison_notes(view)));
    document.push(paragraph(muted(
        "A small p says that a difference of this size would be rare if there were none; it does not say how large or how important \
         the difference is: the interval does. A large p does not show that two are equal.",
    )));
    document
}

/// Values that a test flags, a sentence each. None of them is left out for that.
pub fn stands_out(view: &ComparisonView<'_>) -> Vec<String> {
    let figures = view.figures();
    view.summaries.iter().filter_map(|summary| flagged(summary, &figures)).collect()
}

/// The plot, the pairs, the groups, the tests and the batches, without a word around them.
pub(in crate::report::view) fn comparison_figures(view: &ComparisonView<'_>) -> Vec<Block> {
    let figures = view.figures();
    let mut blocks: Vec<Block> = vec![chart::figure(view, &figures).into()];
    let [pairs, tests] = [table::pairs(view, &figures), table::tests(view)];
    let there = |table: Table| (!table.rows().is_empty()).then(|| Block::from(table));
    blocks.extend(there(pairs));
    blocks.push(table::groups(view, &figures).into());
    blocks.extend(there(tests));
    let explained = explanations(view);
    if !explained.is_empty() {
        blocks.push(bullets(explained).into());
    }
    if view.batched {
        blocks.extend([heading(1, "Batches"), table::batches(view).into()]);
    }
    blocks
}

/// How many cells of each group failed and whether groups differ in that; empty if none failed.
pub(in crate::report::view) fn failure_counts(view: &ComparisonView<'_>) -> Vec<Block> {
    if !view.any_failed() {
        return Vec::new();
    }
    let fisher = view.fisher.map(|p| {
        paragraph(format!(
            "Do electrolytes fail alike? Fisher's exact test: p = {}.",
            super::sample_figures::probability(p)
        ))
    });
    std::iter::once(failures::counts(view).into()).chain(fisher).collect()
}

/// The comparison with and without the cells that were left out; `None` if none of them has a value.
pub(in crate::report::view) fn with_and_without(view: &ComparisonView<'_>) -> Option<Table> {
    view.with_excluded.map(|with| failures::both(view.comparison, with, &view.figures()))
}
