//! `trace` in JSON.

use serde_json::{Value, json};

use crate::record::graph::{Difference, DifferenceRow, Edge, Node, Share, TraceGraph};

/// What was used in what. An edge leads from what was used to what used it; its amount is in grams, and
/// null where nobody weighed it.
pub fn trace_answer(graph: &TraceGraph) -> Value {
    let node = |node: &Node| json!({ "code": node.code, "kind": node.kind.key(), "label": node.label });
    let edge = |edge: &Edge| json!({ "from": edge.from, "to": edge.to, "amount": edge.grams });
    json!({
        "code": graph.code(),
        "nodes": graph.nodes().iter().map(node).collect::<Vec<_>>(),
        "edges": graph.edges().iter().map(edge).collect::<Vec<_>>(),
    })
}

/// What is upstream of two sets of codes, what tells them apart first.
pub fn difference_answer(difference: &Difference) -> Value {
    let share = |share: &Share| {
        json!({
            "codes": share.codes,
            "direct_g": share.direct.grams,
            "direct_not_weighed": share.direct.unweighed,
        })
    };
    let row = |row: &DifferenceRow| {
        json!({
            "code": row.node.code,
            "kind": row.node.kind.key(),
            "label": row.node.label,
            "presence": row.presence.key(),
            "first": share(&row.first),
            "second": share(&row.second),
        })
    };
    json!({
        "first": difference.first,
        "second": difference.second,
        "rows": difference.rows.iter().map(row).collect::<Vec<_>>(),
    })
}
