//! Results that stand side by side and may seem to disagree: why, and which of them answers what.

use super::ComparisonView;
use super::table::all_tests;
use super::words::names;
use crate::statistics::comparison::{Adjustment, Comparison, Method, Pair, Unit};

/// A line for each such case; empty where nothing seems to disagree.
pub fn explanations(view: &ComparisonView<'_>) -> Vec<String> {
    let comparison = view.comparison;
    let all = [
        two_intervals(comparison),
        two_directions(comparison),
        all_and_pairs(comparison),
        two_analyses(view),
        many_small(comparison),
    ];
    all.into_iter().flatten().collect()
}

/// Pairs whose difference by ranks points one way and whose g the other.
fn two_directions(comparison: &Comparison) -> Option<String> {
    let apart = |pair: &&Pair| pair.effect.is_some_and(|effect| effect.hedges_g * pair.difference < 0.0);
    let pairs: Vec<String> =
        comparison.pairs.iter().filter(apart).map(|pair| both(comparison, pair)).collect();
    (!pairs.is_empty()).then(|| {
        format!(
            "Difference and g point different ways ({}): the one is the median of all differences, the other one of means, and a few \
             values far out pull a mean. Look at the dots.",
            pairs.join("; ")
        )
    })
}

/// The test of all groups on one side of the level and the pairs on the other.
fn all_and_pairs(comparison: &Comparison) -> Option<String> {
    let overall = comparison.overall.as_ref().filter(|_| 1 < comparison.pairs.len())?;
    let level = super::words::level(comparison);
    let pairs = comparison.pairs.iter().map(|pair| pair.p_adjusted).fold(f64::INFINITY, f64::min);
    ((overall.p < level) != (pairs < level)).then(|| {
        let found = if pairs < level { "a pair differs" } else { "no pair can be named" };
        format!(
            "The test of all groups and the pairs come out on both sides of the level ({found}): the one gathers all differences, the \
             others look for the greatest and are adjusted for their number. Which electrolytes differ, the pairs answer; near the \
             level neither is more than a hint."
        )
    })
}

fn both(comparison: &Comparison, pair: &Pair) -> String {
    let (a, b) = names(comparison, pair);
    format!("{a} and {b}")
}

/// Of so many groups with so few values Welch's analysis rejects far too often.
const MANY: usize = 5;
const SMALL: usize = 3;

/// Welch's analysis of many groups of two or three values: each group's own spread is hardly known, and one that comes out
/// small by chance weighs most.
fn many_small(comparison: &Comparison) -> Option<String> {
    comparison.overall.as_ref().filter(|_| comparison.question.method == Method::Welch)?;
    let sizes = comparison.members.iter().map(|member| member.units.len()).filter(|&n| 1 < n);
    let (groups, least) = (sizes.clone().count(), sizes.min()?);
    (MANY <= groups && least <= SMALL).then(|| {
        format!(
            "Welch's analysis of {groups} groups with as few as {least} values finds differences where there are none far more often              than its level says (in simulation 20 of 100 times for 9 groups of 2, at a level of 5 %), and pairs of them too often as              well. Do not rest on its p: more batches or cells help, and --method classical takes one spread for all."
        )
    })
}

/// Pairs of which the interval of the difference covers zero and that of g does not, or the other way round.
fn two_intervals(comparison: &Comparison) -> Option<String> {
    let disagree = |pair: &&Pair| match (pair.interval, pair.effect) {
        (Some(difference), Some(effect)) => covers_zero(difference) != covers_zero(effect.interval),
        _ => false,
    };
    let pairs: Vec<String> =
        comparison.pairs.iter().filter(disagree).map(|pair| both(comparison, pair)).collect();
    if pairs.is_empty() {
        return None;
    }
    Some(format!(
        "One of the two intervals covers zero and the other does not ({}): {}; that of g takes one variance for both groups, holds for \
         its pair alone and comes from noncentral t. The interval of the difference, with its p, answers whether and by how much they \
         differ: quote that one. g says how large a difference is beside the scatter of its {}.",
        pairs.join("; "),
        difference(comparison),
        if comparison.unit == Unit::Batch { "batches" } else { "cells" }
    ))
}

fn covers_zero([low, high]: [f64; 2]) -> bool {
    low <= 0.0 && 0.0 <= high
}

/// By what the interval of a difference was made.
fn difference(comparison: &Comparison) -> &'static str {
    match (comparison.question.method, comparison.adjustment) {
        (Method::Ranks, _) => "that of the difference stands on the order of the values alone",
        (Method::Welch, Adjustment::GamesHowell) => {
            "that of the difference lets each group have its own variance and is wide enough for all pairs together"
        }
        (Method::Welch, _) => {
            "that of the difference lets each group have its own variance, and counts fewer degrees of freedom for it"
        }
        (Method::Classical, Adjustment::OnePair) => "that of the difference comes from Student's t",
        (Method::Classical, _) => "that of the difference is wide enough for all comparisons together",
    }
}

/// A test on the means of batches beside the nested analysis, which asks nearly the same.
fn two_analyses(view: &ComparisonView<'_>) -> Option<String> {
    let tests = all_tests(view);
    let overall = view.comparison.overall.as_ref()?;
    tests.iter().find(|test| test.name == "nested_anova")?;
    if view.comparison.unit != Unit::Batch {
        return None;
    }
    let (name, asks) = match view.comparison.question.method {
        Method::Welch => {
            ("Welch's test", "the first lets batches of each electrolyte scatter in their own way")
        }
        Method::Classical => (
            "The test on means of batches",
            "the first takes the mean of each batch as one value, whatever its number of cells",
        ),
        Method::Ranks => ("The test on ranks", "the first takes the order of the batches alone"),
    };
    let level = super::words::level(view.comparison);
    let nested = tests.iter().find(|test| test.name == "nested_anova")?;
    let apart = (overall.p < level) != (nested.p < level);
    // What was made once has no scatter of its own, so the first leaves it out; the nested analysis lends it that of the others.
    let (all, hangs) = match view.comparison.left_out.as_slice() {
        [] => ("", "that assumption"),
        _ => (", and counts what was made once as well", "those assumptions and on which are counted"),
    };
    let differ = match apart {
        true => format!(" Here they come out on both sides of the level, so the answer hangs on {hangs}."),
        false => String::new(),
    };
    Some(format!(
        "{name} and the nested analysis both ask whether electrolytes differ by more than their batches do: {asks}; the other \
         takes one scatter of batches, and one of cells, for all{all}. Quote the first, which was asked for; the other shows where the \
         scatter comes from.{differ}"
    ))
}
