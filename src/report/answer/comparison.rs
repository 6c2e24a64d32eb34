//! `compare` in JSON.

use serde_json::{Value, json};

use crate::report::view::{
    ComparisonView, all_tests, comparison_notes, conclusions, explanations, stands_out,
};
use crate::statistics::comparison::{Adjustment, Comparison, Method, NamedTest, Unit};

/// The whole comparison.
pub fn comparison_answer(view: &ComparisonView<'_>) -> Value {
    let comparison = view.comparison;
    let tests: Vec<Value> = all_tests(view).iter().map(test).collect();
    json!({
        "what": view.what,
        "unit": view.unit,
        "confidence": comparison.question.confidence,
        "method": method(comparison.question.method),
        "adjustment": adjustment(comparison.adjustment),
        "unit_of_analysis": if comparison.unit == Unit::Batch { "batch" } else { "cell" },
        "baseline": comparison.question.baseline.map(|place| &comparison.members[place].name),
        "groups": groups(comparison),
        "tests": tests,
        "pairs": pairs(comparison),
        "batches": comparison.nested.as_ref().map(|nested| json!({
            "variance_between": nested.components().between(),
            "variance_between_raw": nested.components().between_raw,
            "variance_within": nested.components().within,
            "balanced": nested.is_balanced(),
        })),
        "failures": failures(view),
        "with_excluded": view.with_excluded.map(|with| json!({ "groups": groups(with), "pairs": pairs(with) })),
        "stands_out": stands_out(view),
        "explanations": explanations(view),
        "conclusions": conclusions(view),
        "notes": comparison_notes(view),
    })
}

/// Limits under the name that says 95 %: null where they hold at another confidence. `ci` has them in any case.
fn at_95(comparison: &Comparison, limits: Option<[f64; 2]>) -> Option<[f64; 2]> {
    limits.filter(|_| (comparison.question.confidence - 0.95).abs() < 1e-12)
}

fn method(method: Method) -> &'static str {
    match method {
        Method::Welch => "welch",
        Method::Classical => "classical",
        Method::Ranks => "ranks",
    }
}

fn adjustment(adjustment: Adjustment) -> &'static str {
    match adjustment {
        Adjustment::OnePair => "none",
        Adjustment::GamesHowell => "games_howell",
        Adjustment::TukeyKramer => "tukey_kramer",
        Adjustment::Dunnett => "dunnett",
        Adjustment::Holm => "holm",
    }
}

fn groups(comparison: &Comparison) -> Vec<Value> {
    let group = |member: &crate::statistics::comparison::Member| {
        json!({
            "group": member.name,
            "n": member.units.len(),
            "cells": member.cells.len(),
            "batches": member.batches,
            "mean": member.moments.mean,
            "sd": member.moments.sd(),
            "ci95": at_95(comparison, member.interval),
            "ci": member.interval,
            "variance_between_batches": member.components.map(|parts| parts.between()),
            "variance_within_batches": member.components.map(|parts| parts.within),
        })
    };
    comparison.members.iter().map(group).collect()
}

/// Degrees of freedom are a number, a list of two, or null.
fn test(test: &NamedTest) -> Value {
    let df = match test.df.as_slice() {
        [] => Value::Null,
        [df] => json!(df),
        several => json!(several),
    };
    json!({ "name": test.name, "statistic": test.statistic, "df": df, "p": test.p })
}

fn pairs(comparison: &Comparison) -> Vec<Value> {
    let name = |place: usize| &comparison.members[place].name;
    let pair = |pair: &crate::statistics::comparison::Pair| {
        json!({
            "a": name(pair.a),
            "b": name(pair.b),
            "difference": pair.difference,
            "ci95": at_95(comparison, pair.interval),
            "ci": pair.interval,
            "p": pair.p,
            "p_adjusted": pair.p_adjusted,
            "hedges_g": pair.effect.map(|effect| effect.hedges_g),
            "hedges_g_ci95": at_95(comparison, pair.effect.map(|effect| effect.interval)),
        })
    };
    comparison.pairs.iter().map(pair).collect()
}

fn failures(view: &ComparisonView<'_>) -> Vec<Value> {
    let count = |count: &crate::report::view::FailureCount| {
        let causes: Vec<Value> = count
            .failed
            .iter()
            .map(|cell| json!({ "cell": cell.label, "cause": cell.cause, "value": cell.value, "counted": cell.counted }))
            .collect();
        json!({
            "group": count.name,
            "failed": count.failed.len(),
            "of": count.all,
            "ci95": count.interval,
            "causes": causes,
        })
    };
    view.counts.iter().map(count).collect()
}
