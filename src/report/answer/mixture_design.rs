//! Mixture designs in JSON.

use serde_json::{Map, Value, json};

use crate::compose::mixture::{Crossing, Run};
use crate::report::view::{DesignView, mixture_design_notes};

/// `{kind, runs: [{run, fractions: {component: x}}]}` and what they are from.
pub fn mixture_design_answer(view: &DesignView<'_>) -> Value {
    let bounds = view.names.iter().zip(view.region.bounds());
    let bounds: Map<String, Value> =
        bounds.map(|(name, bound)| ((*name).to_owned(), json!([bound.low, bound.high]))).collect();
    let variables = view.variables().iter().map(|own| {
        json!({ "name": own.name, "unit": own.unit, "levels": own.levels, "hard_to_change": own.is_hard })
    });
    let chosen = view.chosen.as_ref().map(|own| {
        json!({
            "candidates": own.candidates,
            "starts": own.starts,
            "starts_alike": own.chosen.starts_alike,
            "log_det": own.chosen.log_det,
            "g_efficiency_pct": own.chosen.g_efficiency,
        })
    });
    let blocks = view.balance.as_ref().map(|balance| {
        json!({
            "count": view.arrangement.blocks,
            "orthogonal": balance.off.is_empty(),
            "not_orthogonal_to": view.terms(&balance.off),
        })
    });
    json!({
        "kind": view.kind,
        "runs": view.runs.iter().map(|run| of_run(view, run)).collect::<Vec<_>>(),
        "components": view.names,
        "basis": view.basis.word(),
        "bounds": bounds,
        "rules": view.rules,
        "process": variables.collect::<Vec<_>>(),
        "seed": view.arrangement.seed,
        "replicates": view.arrangement.replicates,
        "blocks": blocks,
        "model": {
            "name": view.model.order.name(),
            "crossed": crossing_word(view.crossing),
            "terms": view.terms(&(0..view.model.terms.len()).collect::<Vec<_>>()),
            "not_estimable": view.terms(&view.quality.not_estimable),
        },
        "error_df": view.quality.df_error,
        "pure_error_df": view.quality.df_pure,
        "d_optimal": chosen,
        "notes": mixture_design_notes(view),
    })
}

/// How process variables act, as typed.
pub(super) fn crossing_word(crossing: Crossing) -> &'static str {
    match crossing {
        Crossing::Every => "every",
        Crossing::Linear => "linear",
        Crossing::Common => "common",
    }
}

fn of_run(view: &DesignView<'_>, run: &Run) -> Value {
    let named = |names: &[&str], values: &[f64]| -> Map<String, Value> {
        names.iter().zip(values).map(|(name, value)| ((*name).to_owned(), json!(value))).collect()
    };
    let variables: Vec<&str> = view.variables().iter().map(|own| own.name.as_str()).collect();
    json!({
        "run": run.run,
        "fractions": named(&view.names, &run.fractions),
        "process": named(&variables, &run.setting),
        "point": run.kind.name(),
        "design_order": run.standard,
        "block": run.block,
        "whole_plot": run.plot,
    })
}
