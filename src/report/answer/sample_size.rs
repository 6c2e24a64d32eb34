//! A number of cells in JSON.

use serde_json::{Value, json};

use crate::report::view::SizeWords;
use crate::statistics::power::{Aim, Enough, Question, Tails};

/// `{per_group, total, power, detectable, …}`. Sizes are in the unit that `unit` names; what the question has
/// no use for is null.
pub fn sample_size_answer(question: &Question, enough: &Enough, words: &SizeWords) -> Value {
    let (sd, unit) = (words.sd, words.unit.as_str());
    let compared = matches!(question.aim, Aim::Difference(_) | Aim::Means(_) | Aim::Detect);
    let scaled = |size: f64| size * sd.unwrap_or(1.0);
    let reached = |aim: bool| aim.then_some(enough.reached);
    let (difference, half_width) = match question.aim {
        Aim::Difference(effect) => (Some(scaled(effect)), None),
        Aim::HalfWidth(_) => (None, Some(scaled(enough.reached))),
        Aim::Tolerance(_) => (None, sd.map(|sd| sd * enough.reached)),
        _ => (None, None),
    };
    let power = match question.aim {
        Aim::Difference(_) | Aim::Means(_) => Some(enough.reached),
        Aim::Detect => Some(question.power),
        _ => None,
    };
    let bounded = matches!(question.aim, Aim::HalfWidth(_) | Aim::Spread(_) | Aim::Tolerance(_));
    json!({
        "aim": aim(question.aim),
        "per_group": enough.per_group,
        "groups": question.groups,
        "total": enough.per_group * question.groups,
        "build_per_group": enough.build.map(|(built, _)| built),
        "build_total": enough.build.map(|(built, _)| built * question.groups),
        "loss": question.loss,
        "enough_survive": enough.build.map(|(_, sure)| sure),
        "power": power,
        "power_wanted": compared.then_some(question.power),
        "alpha": compared.then_some(question.alpha),
        "sides": compared.then_some(if question.tails == Tails::Two { 2 } else { 1 }),
        "test": test(question),
        "difference": difference,
        "detectable": enough.detectable.map(scaled),
        "sd": sd,
        "spread": words.found.as_ref().map(|found| json!({
            "of": found.of,
            "metric": found.metric,
            "ci95": found.interval,
            "cells": found.cells,
            "batches": found.batches,
            "sd_between_batches": found.between,
            "per_group_at_upper_limit": found.at_most,
        })),
        "unit": (!unit.is_empty()).then_some(unit),
        "half_width": half_width,
        "spread_ratio": reached(matches!(question.aim, Aim::Spread(_))),
        "tolerance_k": reached(matches!(question.aim, Aim::Tolerance(_))),
        "confidence": bounded.then_some(question.confidence),
        "coverage": matches!(question.aim, Aim::Tolerance(_)).then_some(question.coverage),
        "distribution_free": enough.distribution_free,
        "curve": enough.curve.iter().map(|(n, reached)| json!({"per_group": n, "reached": reached})).collect::<Vec<_>>(),
    })
}

fn aim(aim: Aim) -> &'static str {
    match aim {
        Aim::Difference(_) => "difference",
        Aim::Means(_) => "means",
        Aim::Detect => "detect",
        Aim::HalfWidth(_) => "half-width",
        Aim::Spread(_) => "spread",
        Aim::Tolerance(_) => "tolerance",
    }
}

fn test(question: &Question) -> Option<&'static str> {
    match question.aim {
        Aim::Difference(_) | Aim::Detect if question.groups == 2 => Some("Student's t, equal spread"),
        Aim::Difference(_) | Aim::Means(_) | Aim::Detect => Some("one-way analysis of variance"),
        _ => None,
    }
}
