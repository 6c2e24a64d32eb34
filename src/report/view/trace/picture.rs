//! The thread as a picture.

use super::fold::{Bundle, Coarse, Folded, fold_to};
use super::words::{amount, bundle_words};
use crate::record::graph::{Mark, NodeKind, TraceGraph};
use crate::report::document::{Figure, text};
use crate::report::drawing::{Arrow, Diagram, DiagramBox, Outline};
use crate::report::lettering::{Weight, wrap};

/// With more boxes than these a picture shows no more than what kinds of things led to what.
const MOST_BOXES: usize = 80;
/// Most lines of codes in a box; ranges beyond them are counted.
const MOST_CODE_LINES: usize = 14;
/// Widest line of codes, in units of their size.
const CODES_WIDE: f64 = 10.5;
/// Widest line of words.
const WORDS_WIDE: f64 = 12.0;
/// Most lines of a label.
const MOST_LABEL_LINES: usize = 3;

/// The picture: bottles on the left, then what was made of them, cells on the right. Cells that are alike
/// share a box.
pub fn trace_figure(graph: &TraceGraph) -> Figure {
    let (folded, coarse) = fold_to(graph, &[Coarse::ByKind], |folded| folded.bundles.len() <= MOST_BOXES);
    let description = format!(
        "what {} was made of and what it was used in: {} records, {} amounts",
        graph.code(),
        graph.nodes().len(),
        graph.edges().len()
    );
    let figure = Figure::new(
        boxes_and_arrows(&folded, format!("Trace of {}", graph.code())).svg(),
        text(&description),
    );
    if coarse {
        return figure.caption(
            "Too many to be drawn one by one: what is of one kind shares a box. The table has each.",
        );
    }
    figure
}

/// What is drawn of a folded graph.
pub(super) fn boxes_and_arrows(folded: &Folded<'_>, title: String) -> Diagram {
    let arrow =
        |thread: &super::fold::Thread| Arrow { from: thread.from, to: thread.to, label: amount(thread) };
    Diagram {
        title,
        boxes: folded.bundles.iter().map(drawn).collect(),
        arrows: folded.threads.iter().map(arrow).collect(),
    }
}

fn drawn(bundle: &Bundle<'_>) -> DiagramBox {
    let ranges = bundle.ranges();
    let kind = bundle.count().or_else(|| bundle.kind().map(|kind| kind.words().to_owned()));
    let mut lines = bundle.label().map(short_label).unwrap_or_default();
    lines.extend(bundle.readings_in_words());
    lines.extend(bundle.marks());
    let gone = |mark: &Mark| matches!(mark, Mark::Disposed | Mark::Struck | Mark::Rejected);
    DiagramBox {
        full: format!("{}: {}", ranges.join(", "), bundle_words(bundle)),
        head: code_lines(&ranges),
        kind: kind.unwrap_or_default(),
        lines,
        outline: outline(bundle.kind()),
        stacked: 1 < bundle.nodes.len(),
        framed: bundle.is_root,
        dashed: bundle.nodes.iter().all(|node| node.marks.iter().any(gone)),
    }
}

fn outline(kind: Option<NodeKind>) -> Outline {
    match kind {
        Some(NodeKind::Bottle | NodeKind::Reading) | None => Outline::Square,
        Some(NodeKind::Electrolyte | NodeKind::StockSolution | NodeKind::CathodeMix) => Outline::Round,
        Some(NodeKind::Cell) => Outline::Barred,
    }
}

/// Ranges in lines; what there is no room for is counted.
fn code_lines(ranges: &[String]) -> Vec<String> {
    let mut lines = wrap(&ranges.join(", "), Weight::Bold, CODES_WIDE);
    if MOST_CODE_LINES < lines.len() {
        lines.truncate(MOST_CODE_LINES - 1);
        let shown = lines.join(" ").split(", ").filter(|range| !range.is_empty()).count();
        lines.push(format!("and {} more", ranges.len().saturating_sub(shown)));
    }
    lines
}

/// A label in few lines. What is cut is marked so, and stands whole where the box is pointed at and in the
/// tree and table.
fn short_label(label: &str) -> Vec<String> {
    let mut lines = wrap(label, Weight::Regular, WORDS_WIDE);
    if MOST_LABEL_LINES < lines.len() {
        lines.truncate(MOST_LABEL_LINES);
        if let Some(last) = lines.last_mut() {
            last.push_str(" …");
        }
    }
    lines
}
