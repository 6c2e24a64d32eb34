//! What something suspect touched, and what of that can still be taken from the shelf.

use super::ranges::code_ranges;
use super::words::{described, grams};
use crate::record::graph::{GraphError, Node, NodeKind, TraceGraph};
use crate::report::document::{
    Block, Document, Table, bullets, column, facts, heading, paragraph, strong, text,
};

/// Everything downstream of the suspects, themselves included: what is still there first, by kind, then
/// each in a row.
///
/// # Errors
/// If a suspect is not in the graph.
pub fn suspect_document(graph: &TraceGraph, why: &str, suspects: &[&str]) -> Result<Document, GraphError> {
    let touched = touched(graph, suspects)?;
    let mut document = Document::new("What it touched").with(facts([
        ("Suspect", text(why)),
        ("Traced from", text(code_ranges(suspects.iter().copied()).join(", "))),
        ("Touched", text(counts(&touched))),
    ]));
    document.push(heading(1, "Still there"));
    document.push(still_there(&touched));
    document.push(heading(1, "Everything touched"));
    document.push(table(&touched));
    Ok(document)
}

fn touched<'g>(graph: &'g TraceGraph, suspects: &[&str]) -> Result<Vec<&'g Node>, GraphError> {
    let mut codes = graph.downstream(suspects.iter().copied())?;
    codes.extend(suspects);
    codes.sort_unstable();
    codes.dedup();
    let mut nodes = codes.into_iter().map(|code| graph.node(code)).collect::<Result<Vec<_>, _>>()?;
    let rank = |node: &&Node| NodeKind::ALL.iter().position(|kind| *kind == node.kind);
    let place = |node: &&Node| graph.position(&node.code).unwrap_or(usize::MAX);
    nodes.sort_by_key(|node| (rank(node), place(node)));
    Ok(nodes)
}

fn counts(nodes: &[&Node]) -> String {
    let count = |kind: NodeKind| nodes.iter().filter(|node| node.kind == kind).count();
    let words = NodeKind::ALL.iter().filter_map(|&kind| match count(kind) {
        0 => None,
        1 => Some(format!("1 {kind}")),
        many => Some(format!("{many} {}", kind.plural())),
    });
    words.collect::<Vec<_>>().join(", ")
}

fn still_there(touched: &[&Node]) -> Block {
    let there: Vec<&&Node> = touched.iter().filter(|node| node.is_still_there()).collect();
    if there.is_empty() {
        return paragraph("By the records nothing of it is left; look on the shelf all the same.");
    }
    let of_kind = |kind: NodeKind| {
        let codes = there.iter().filter(|node| node.kind == kind).map(|node| node.code.as_str());
        let codes = code_ranges(codes).join(", ");
        (!codes.is_empty()).then(|| text(kind.plural()).then(": ").then(strong(codes)))
    };
    bullets(NodeKind::ALL.into_iter().filter_map(of_kind)).into()
}

fn table(touched: &[&Node]) -> Table {
    let mut table = Table::new([
        column("Code").key("code"),
        column("What it is").key("label"),
        column("Still there").key("still_there"),
        column("Left").key("left"),
    ]);
    for node in touched {
        let there = if node.is_still_there() { "yes" } else { "no" };
        let there = if node.kind == NodeKind::Reading { "" } else { there };
        let left = node.left_grams.map(grams).unwrap_or_default();
        table.push([text(&node.code), described(node), text(there), text(left)]);
    }
    table
}
