//! What a trace shows: the tree upward and downward, the picture, the table of what went where, what
//! differs between two sets of codes, and what a suspect touched.

mod difference;
mod fold;
mod paper;
mod picture;
mod suspect;
mod table;
mod thread;
mod words;

pub use difference::{difference_document, difference_table};
pub use paper::trace_on_paper;
pub use picture::trace_figure;
pub use suspect::{suspect_document, suspect_table};
pub use table::trace_table;

use self::thread::{Direction, thread_tree};
use self::words::{described, kind_and_label};
use crate::record::graph::TraceGraph;
use crate::report::document::{Block, Document, facts, heading, muted, paragraph, text};

/// What a code was made of and what it was used in, as trees. For paper and browser, add
/// [`trace_figure`] and [`trace_table`]; for CSV take the table alone.
pub fn trace_document(graph: &TraceGraph) -> Document {
    let mut document = Document::new(text("Trace of ").then(graph.code()));
    if let Some(root) = graph.root() {
        document.push(facts([("Code", text(&root.code)), ("What it is", described(root))]));
    }
    document.extend(part(graph, "Made of", Direction::Upstream));
    document.extend(part(graph, "Used in", Direction::Downstream));
    document
}

/// All of it on one page: the picture, the trees, the table.
pub fn trace_page(graph: &TraceGraph) -> Document {
    let mut document = Document::new(text("Trace of ").then(graph.code()));
    let root = graph.root().map(kind_and_label).unwrap_or_default();
    document.push(trace_figure(graph).caption(text(graph.code()).then(" ").then(root)));
    document.extend(trace_document(graph).blocks().iter().cloned());
    document.push(trace_table(graph));
    document
}

fn part(graph: &TraceGraph, title: &str, direction: Direction) -> Vec<Block> {
    let (tree, coarse) = thread_tree(graph, direction);
    if tree.branches().is_empty() {
        return vec![paragraph(text(title).then(": ").then(muted("nothing that is recorded")))];
    }
    let mut blocks = vec![heading(1, title), tree.into()];
    if coarse {
        blocks.push(paragraph(muted(
            "Too many to be listed one by one: what is alike shares a line. --format csv, json and html have each.",
        )));
    }
    blocks
}
