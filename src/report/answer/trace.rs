//! `trace` in JSON.

use serde_json::{Value, json};

use crate::record::graph::{
    Contrast, Difference, DifferenceRow, DoseRow, Doses, Edge, FeatureRow, GraphError, Handled, Node, Share,
    Suspicion, TraceGraph,
};

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
pub fn difference_answer(difference: &Difference, contrast: &Contrast) -> Value {
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
    let feature = |row: &FeatureRow| {
        json!({
            "what": row.feature.what.key(),
            "value": row.feature.value,
            "presence": row.presence.key(),
            "first": row.first,
            "second": row.second,
        })
    };
    let dose = |row: &DoseRow| json!({ "kind": row.kind.key(), "first": row.first.map(doses), "second": row.second.map(doses) });
    json!({
        "first": difference.first,
        "second": difference.second,
        "rows": difference.rows.iter().map(row).collect::<Vec<_>>(),
        "features": contrast.features.iter().map(feature).collect::<Vec<_>>(),
        "doses": contrast.doses.iter().map(dose).collect::<Vec<_>>(),
    })
}

fn doses(doses: Doses) -> Value {
    json!({ "cells": doses.cells, "least_g": doses.least, "most_g": doses.most, "mean_g": doses.mean })
}

/// What a suspect had to do with straight, and all that it touched.
///
/// # Errors
/// If something is not in the graph.
pub fn suspect_answer(suspicion: &Suspicion) -> Result<Value, GraphError> {
    let handled = |handled: &Handled| json!({ "code": handled.code, "what": handled.what });
    let node = |node: &&Node| {
        json!({
            "code": node.code,
            "kind": node.kind.key(),
            "label": node.label,
            "still_there": node.is_still_there(),
            "left_g": node.left_grams,
            "marks": node.marks.iter().map(|mark| mark.words()).collect::<Vec<_>>(),
        })
    };
    Ok(json!({
        "suspect": { "kind": suspicion.suspect.kind(), "name": suspicion.suspect.name() },
        "handled": suspicion.handled.iter().map(handled).collect::<Vec<_>>(),
        "touched": suspicion.touched()?.iter().map(node).collect::<Vec<_>>(),
    }))
}
