//! How it was compared, point by point.

use super::{ComparisonView, sure};
use crate::report::view::sample_figures::plain;
use crate::statistics::comparison::{Adjustment, Comparison, Method, Unit};

/// What was assumed, what was the unit, and what was set aside.
pub fn comparison_notes(view: &ComparisonView<'_>) -> Vec<String> {
    let comparison = view.comparison;
    let mut notes = view.rule.to_vec();
    notes.extend([method(comparison).to_owned(), adjustment(comparison), unit(view)]);
    notes.extend(left_out(comparison));
    notes.extend(batches(comparison));
    notes.push(
        "Hedges g: difference over the pooled standard deviation, without its bias on few values; limits from noncentral t.".to_owned(),
    );
    if view.with_excluded.is_some() {
        notes.push(
            "Cells that were left out are compared with and without, so that a choice can't hide.".to_owned(),
        );
    }
    if view.any_failed() {
        notes.push(
            "Failed cells are counted by group: limits by Clopper and Pearson, 95 %; Fisher's exact test."
                .to_owned(),
        );
    }
    notes
}

/// Fewer values than this in a group make Welch's degrees of freedom rough.
const FEW: usize = 5;

fn method(comparison: &Comparison) -> &'static str {
    let taking_part = comparison.members.iter().map(|member| member.units.len()).filter(|&n| 1 < n);
    match comparison.question.method {
        Method::Welch if taking_part.min().is_some_and(|least| least < FEW) => {
            "Means of about normal values; variances may differ (Welch). With so few values in a group this is approximate."
        }
        Method::Welch => "Means of about normal values; variances may differ (Welch).",
        Method::Classical => {
            "Means of about normal values of one variance (Student, analysis of variance): look at the tests on spread."
        }
        Method::Ranks => {
            "Ranks alone: no distribution is assumed. The difference is the median of all differences (Hodges and Lehmann). Ties are \
             counted as they are; exact up to 50 values a pair and a million ways to deal all values out, else by approximation."
        }
    }
}

fn adjustment(comparison: &Comparison) -> String {
    let sure = sure(comparison);
    match comparison.adjustment {
        Adjustment::OnePair => "One pair: its p and interval need no adjustment.".to_owned(),
        Adjustment::GamesHowell => {
            format!("All pairs by Games and Howell: adjusted p, and intervals that hold together at {sure}.")
        }
        Adjustment::TukeyKramer => {
            format!("All pairs by Tukey and Kramer: adjusted p, and intervals that hold together at {sure}.")
        }
        Adjustment::Dunnett => {
            format!(
                "All against the baseline by Dunnett: adjusted p, and intervals that hold together at {sure}."
            )
        }
        Adjustment::Holm => {
            format!("p adjusted by Holm; each interval holds at {sure} on its own, not all of them together.")
        }
    }
}

fn unit(view: &ComparisonView<'_>) -> String {
    match (view.comparison.unit, view.batched) {
        (Unit::Batch, _) => "The unit is the batch: cells of one batch are repeats of it, and their mean counts once.".to_owned(),
        (Unit::Cell, true) => {
            "The unit is the cell, since fewer than two groups have several batches: spread between batches is not known.".to_owned()
        }
        (Unit::Cell, false) if view.groups_are_batches => "The unit is the cell, within its batch.".to_owned(),
        (Unit::Cell, false) => "The unit is the cell; batches were not named (--batch COLUMN).".to_owned(),
    }
}

fn left_out(comparison: &Comparison) -> Option<String> {
    let names: Vec<&str> =
        comparison.left_out.iter().map(|&place| comparison.members[place].name.as_str()).collect();
    (!names.is_empty()).then(|| {
        let what = if comparison.unit == Unit::Batch { "batch" } else { "value" };
        format!(
            "With one {what} only, and so without a spread of its own, no part in the tests: {}.",
            names.join(", ")
        )
    })
}

fn batches(comparison: &Comparison) -> Vec<String> {
    let Some(nested) = &comparison.nested else { return Vec::new() };
    let mut notes = Vec::new();
    if !nested.is_balanced() {
        notes.push(format!(
            "Batches hold different numbers of cells ({} on average for this purpose): the mean of each counts alike, and the nested \
             analysis is approximate, with Satterthwaite's degrees of freedom.",
            plain(nested.cells_per_batch, 3)
        ));
    }
    if nested.components().set_to_zero() {
        notes.push(
            "The variance between batches came out below zero, as chance can make it, and is taken as zero: batches differ no more than \
             their cells let expect. The test still uses the batch as the unit."
                .to_owned(),
        );
    }
    notes
}
