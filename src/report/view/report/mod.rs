//! The report: what was made, what the cells showed, what that says and does not say, on one page that needs nothing else.
//! What matters most stands first: the findings, then what can hurt.

mod cautions;
mod cells;
mod conventions;
mod course;
mod front;
mod made;
mod metrics;
mod missing;

pub use missing::missing;

use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::comparison::ComparisonView;
use super::summary::SummaryView;
use super::trace::trace_on_paper;
use crate::caution::Review;
use crate::cell::metric::CellRecord;
use crate::input::Warning;
use crate::record::Code;
use crate::record::graph::TraceGraph;
use crate::report::document::{Block, Document, bullets, heading, paragraph};
use crate::report::standing::Standing;

/// All that a report tells of.
pub struct ReportView<'a> {
    /// The name of the laboratory.
    pub laboratory: &'a str,
    /// Which cells it is about, in words.
    pub scope: &'a str,
    /// When it was made.
    pub at: Timestamp,
    /// The zone of its times.
    pub zone: &'a TimeZone,
    /// The last entry of the book, and the first digits of its hash: from them a later report can be told.
    pub head: (u64, String),
    /// Everything that went into the cells, and what that was made of, with its cautions.
    pub batches: Vec<ReportedBatch<'a>>,
    /// What meets in cells, for each set of lots and design.
    pub meetings: &'a [Meeting],
    /// The cells with their readings.
    pub cells: &'a [CellRecord],
    /// What was taken of each cell and compared.
    pub metrics: Vec<ReportedMetric<'a>>,
    /// What studies of these cells say, with where the work departed from them; empty if nothing was written down.
    pub studies: &'a [Document],
    /// What to know of all of it.
    pub beside: &'a [Warning],
    /// What the cells were made of.
    pub thread: Option<&'a TraceGraph>,
    /// So many of the cells have a log.
    pub logged: usize,
}

/// A batch and what must be known of it.
pub struct ReportedBatch<'a> {
    /// How it stands.
    pub standing: &'a Standing,
    /// Its cautions.
    pub review: &'a Review,
}

/// What meets in cells that hold the same lots by the same design.
pub struct Meeting {
    /// The cells.
    pub cells: Vec<Code>,
    /// The lots.
    pub batches: Vec<Code>,
    /// The design.
    pub design: String,
    /// The cautions.
    pub review: Review,
}

/// One metric.
pub struct ReportedMetric<'a> {
    /// Its text, as it can be typed again.
    pub text: String,
    /// Each electrolyte by itself.
    pub summary: SummaryView<'a>,
    /// The electrolytes against one another; `None` with fewer than two.
    pub comparison: Option<ComparisonView<'a>>,
}

/// The whole report.
pub fn report_document(view: &ReportView<'_>) -> Document {
    let title = format!("{}: electrolytes in cells", view.laboratory);
    let footer = format!("{}, entry {}, head {}", view.laboratory, view.head.0, view.head.1);
    let mut document = Document::new(title).footer(footer).with_data(cells::table(view));
    document.extend(front::blocks(view));
    for study in view.studies {
        document.push(heading(1, study.title().clone()));
        document.extend(deeper(study.blocks(), 1));
    }
    document.extend(made::blocks(view));
    document.extend(cells::blocks(view));
    document.extend(course::blocks(view));
    view.metrics.iter().for_each(|metric| document.extend(metrics::blocks(metric)));
    document.extend(cells::ended(view));
    document.push(heading(1, "What a careful reader would want, and is missing"));
    document.push(list_or(missing(view), "Nothing that this program looks for. That is no proof."));
    if let Some(thread) = view.thread {
        document.push(heading(1, "The thread from bottles to cells"));
        document.extend(trace_on_paper(thread));
    }
    document.extend(conventions::blocks(view));
    document.extend(cautions::of_each(view));
    document
}

fn list_or(points: Vec<String>, none: &str) -> Block {
    if points.is_empty() { paragraph(none) } else { bullets(points).into() }
}

/// Blocks of another page as part of this one: their headings stand lower.
fn deeper(blocks: &[Block], by: u8) -> Vec<Block> {
    let lower = |block: &Block| match block {
        Block::Heading { level, text } => heading(level + by, text.clone()),
        Block::Together(inner) => Block::Together(deeper(inner, by)),
        other => other.clone(),
    };
    blocks.iter().map(lower).collect()
}
