//! Groups of observations compared, with what failed counted: from plain values to all that a view and an answer
//! need. `compare` asks it, and so does whatever else compares.

use super::outcome::Failure;
use super::request::{Observed, ObservedGroup, usual_summary_rules};
use super::summarised::summarised;
use crate::input::{Fault, Place, Warning, did_you_mean};
use crate::report::view::{ComparisonView, FailedCell, FailureCount};
use crate::statistics::comparison::{Comparison, Group, Method, Question, Unit, compare};
use crate::statistics::fisher::fisher_exact;
use crate::statistics::proportion::clopper_pearson;
use crate::statistics::summary::Summary;

/// What is asked of the groups.
#[derive(Debug, Clone, Copy)]
pub(super) struct Asked<'a> {
    /// What is assumed of the values.
    pub(super) method: Method,
    /// The group that all others are compared with, by its name.
    pub(super) baseline: Option<&'a str>,
    /// Confidence (0 to 1) of the limits.
    pub(super) confidence: f64,
}

/// A comparison with all that stands beside it.
pub(super) struct Judged {
    /// Without the cells that are left out.
    comparison: Comparison,
    /// With them, where any of them has a value.
    with_excluded: Option<Comparison>,
    /// Failures by group.
    counts: Vec<FailureCount>,
    /// Fisher's exact test on them.
    fisher: Option<f64>,
    /// The values of each group by themselves.
    summaries: Vec<Summary>,
    /// What to know beside it, that of the observations included.
    pub(super) warnings: Vec<Warning>,
}

/// Compares the groups.
///
/// # Errors
/// If fewer than two groups have a value, or the baseline is none of them.
pub(super) fn judged(observed: &Observed, asked: &Asked<'_>) -> Result<Judged, Failure> {
    let without = groups(observed, false);
    if without.len() < 2 {
        return Err(too_few(&without).into());
    }
    let comparison = compare(&without, asked.question(&without)?);
    let valued = |group: &ObservedGroup| group.excluded.iter().any(|cell| cell.value.is_some());
    let with_excluded = if observed.groups.iter().any(valued) {
        let all = groups(observed, true);
        Some(compare(&all, asked.question(&all)?))
    } else {
        None
    };
    let counts: Vec<FailureCount> = observed.groups.iter().map(count).collect();
    let failures: Vec<(u64, u64)> = counts
        .iter()
        .map(|count| (count.failed.len() as u64, (count.all - count.failed.len()) as u64))
        .collect();
    let mut warnings = observed.warnings.clone();
    warnings.extend(one_batch(observed, &comparison));
    let summaries = summarised(observed, usual_summary_rules())?.groups;
    let summaries = summaries.into_iter().map(|(summary, _)| summary).collect();
    let fisher = fisher_exact(&failures);
    Ok(Judged { comparison, with_excluded, counts, fisher, summaries, warnings })
}

impl Asked<'_> {
    fn question(&self, groups: &[Group]) -> Result<Question, Fault> {
        let baseline = self.baseline.map(|name| place_of(name, groups)).transpose()?;
        Ok(Question { method: self.method, baseline, confidence: self.confidence })
    }
}

impl Judged {
    /// What is shown of it.
    pub(super) fn view<'v>(&'v self, observed: &'v Observed) -> ComparisonView<'v> {
        ComparisonView {
            what: &observed.what,
            unit: observed.unit.as_deref(),
            carried: observed.carried,
            comparison: &self.comparison,
            with_excluded: self.with_excluded.as_ref(),
            fisher: self.fisher,
            counts: &self.counts,
            batched: observed.batched,
            groups_are_batches: observed.groups_are_batches,
            rule: &observed.rule,
            warnings: &self.warnings,
            summaries: &self.summaries,
        }
    }
}

/// The groups that have a value, batch by batch where batches are named.
fn groups(observed: &Observed, with_excluded: bool) -> Vec<Group> {
    let group = |group: &ObservedGroup| {
        let batches = group.by_batch(with_excluded);
        let batches = if observed.batched { batches } else { vec![batches.concat()] };
        Group { name: group.name.clone(), batches }
    };
    let groups = observed.groups.iter().map(group);
    groups.filter(|group| group.batches.iter().any(|batch| !batch.is_empty())).collect()
}

fn place_of(name: &str, groups: &[Group]) -> Result<usize, Fault> {
    groups.iter().position(|group| group.name == name).ok_or_else(|| {
        let known = || groups.iter().map(|group| group.name.as_str());
        let all = format!("The groups are {}.", known().collect::<Vec<_>>().join(", "));
        let place = Place::in_text("--baseline", name, 0..name.len());
        Fault::new("unknown_group", format!("no group is called {name:?}"), place).with_hint(did_you_mean(
            name,
            known(),
            &all,
        ))
    })
}

fn too_few(groups: &[Group]) -> Fault {
    let message = match groups {
        [only] => format!("there is one group with values, {:?}", only.name),
        _ => "there is no group with values".to_owned(),
    };
    Fault::new("one_group", message, Place::named("--by"))
        .with_hint("A comparison needs two groups; summary describes one.")
}

/// Cells that failed: those that are left out, and those that failed later and count.
fn count(group: &ObservedGroup) -> FailureCount {
    let cells = |counted: bool| {
        let list = if counted { &group.failed_later } else { &group.excluded };
        list.iter().map(move |cell| FailedCell {
            label: cell.label.clone(),
            cause: cell.cause.clone(),
            value: cell.value,
            counted,
        })
    };
    let failed: Vec<FailedCell> = cells(false).chain(cells(true)).collect();
    let all = group.values.len() + group.excluded.len() + group.intact;
    FailureCount { name: group.name.clone(), interval: clopper_pearson(failed.len(), all, 0.95), failed, all }
}

/// Where batches are named and a group has one, what is found may be the batch's.
fn one_batch(observed: &Observed, comparison: &Comparison) -> Option<Warning> {
    let single: Vec<&str> = comparison
        .members
        .iter()
        .filter(|member| member.batches == 1)
        .map(|member| member.name.as_str())
        .collect();
    let what = match comparison.unit {
        Unit::Batch => "it takes no part where spread between batches is needed",
        Unit::Cell => "differences between electrolytes and differences between batches can't be told apart",
    };
    (observed.batched && !single.is_empty())
        .then(|| Warning::new("one_batch", format!("one batch only of {}: {what}", single.join("; "))))
}
