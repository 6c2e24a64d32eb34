//! What went where, one row for each weighing.

use crate::record::graph::TraceGraph;
use crate::report::document::{Table, column};

/// One row for each edge, from what was used to what used it. CSV has the amounts as they were recorded.
pub fn trace_table(graph: &TraceGraph) -> Table {
    let mut table = Table::new([
        column("From").key("from"),
        column("What it is").key("from_label"),
        column("To").key("to"),
        column("What it is").key("to_label"),
        column("Amount").unit("g").key("amount_g").decimal(),
    ])
    .caption("What went where");
    for edge in graph.edges() {
        let label = |code: &str| graph.node(code).map(|node| node.label.clone()).unwrap_or_default();
        let grams = edge.grams.map(|grams| grams.to_string()).unwrap_or_default();
        table.push([edge.from.clone(), label(&edge.from), edge.to.clone(), label(&edge.to), grams]);
    }
    table
}
