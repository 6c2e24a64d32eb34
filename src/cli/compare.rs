//! `compare`: groups of observations against one another.

use clap::{Args, ValueEnum};

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{ObservationArgs, Observed, ObservedGroup, observed};
use crate::input::{Fault, Place, Warning, did_you_mean};
use crate::report::answer::comparison_answer;
use crate::report::view::{ComparisonView, FailedCell, FailureCount, comparison_document};
use crate::statistics::comparison::{Comparison, Group, Method, Question, Unit, compare};
use crate::statistics::fisher::fisher_exact;
use crate::statistics::proportion::clopper_pearson;

/// Which groups in a file of columns differ, by how much, and how surely, on few cells
///
/// The conclusion comes first, with the size of each difference and its interval. Cells of one batch are repeats of that batch: name
/// the batches, and with several of them for each group the batch is the unit. Cells are left out by a physical cause alone, are
/// compared with and without, and are counted as failures. Several readings of a cell are never pooled: with --cell and --time the
/// slope of each cell is compared, with --at-day its value at a day.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook compare cells.csv --value ocv --by electrolyte --batch batch --excluded cause
  meltbook compare cells.csv --value ocv --by electrolyte --method ranks --baseline reline")]
pub(super) struct CompareArgs {
    #[command(flatten)]
    observations: ObservationArgs,
    /// What is assumed of the values
    #[arg(long, value_enum, value_name = "METHOD", default_value_t = MethodArg::Welch)]
    method: MethodArg,
    /// Compare all other groups with this one instead of every pair
    #[arg(long, value_name = "GROUP")]
    baseline: Option<String>,
}

/// The methods by their names.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum MethodArg {
    /// Means, variances may differ: Welch's t and analysis, Games and Howell, or Holm against a baseline
    Welch,
    /// Means, one variance: Student's t, analysis of variance, Tukey and Kramer, or Dunnett against a baseline
    Classical,
    /// Order alone: Mann and Whitney, Kruskal and Wallis, exact for few values, with Holm
    Ranks,
}

impl From<MethodArg> for Method {
    fn from(method: MethodArg) -> Self {
        match method {
            MethodArg::Welch => Self::Welch,
            MethodArg::Classical => Self::Classical,
            MethodArg::Ranks => Self::Ranks,
        }
    }
}

pub(super) fn run(_: &Common, args: &CompareArgs) -> Result<Outcome, Failure> {
    args.observations.groups_named()?;
    let observed = observed(&args.observations)?;
    let without = groups(&observed, false);
    if without.len() < 2 {
        return Err(too_few(&without).into());
    }
    let baseline = args.baseline.as_deref().map(|name| place_of(name, &without)).transpose()?;
    let question = Question { method: args.method.into(), baseline, confidence: 0.95 };
    let comparison = compare(&without, question);
    let with_excluded = with_excluded(&observed, args, question)?;
    let counts: Vec<FailureCount> = observed.groups.iter().map(count).collect();
    let failures: Vec<(u64, u64)> = counts
        .iter()
        .map(|count| (count.failed.len() as u64, (count.all - count.failed.len()) as u64))
        .collect();
    let mut warnings = observed.warnings.clone();
    warnings.extend(one_batch(&observed, &comparison));
    let view = ComparisonView {
        what: &observed.what,
        unit: observed.unit.as_deref(),
        comparison: &comparison,
        with_excluded: with_excluded.as_ref(),
        fisher: fisher_exact(&failures),
        counts,
        batched: observed.batched,
        warnings: &warnings,
    };
    let (answer, document) = (comparison_answer(&view), comparison_document(&view));
    let mut outcome = Outcome::new("compare", answer, document);
    outcome.warnings = warnings;
    Ok(outcome)
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

/// The same comparison with the cells that were left out, where any of them has a value.
fn with_excluded(
    observed: &Observed,
    args: &CompareArgs,
    question: Question,
) -> Result<Option<Comparison>, Failure> {
    let valued = |group: &ObservedGroup| group.excluded.iter().any(|cell| cell.value.is_some());
    if !observed.groups.iter().any(valued) {
        return Ok(None);
    }
    let groups = groups(observed, true);
    let baseline = args.baseline.as_deref().map(|name| place_of(name, &groups)).transpose()?;
    Ok(Some(compare(&groups, Question { baseline, ..question })))
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

fn count(group: &ObservedGroup) -> FailureCount {
    let failed: Vec<FailedCell> = group
        .excluded
        .iter()
        .map(|cell| FailedCell { label: cell.label.clone(), cause: cell.cause.clone(), value: cell.value })
        .collect();
    let all = group.values.len() + failed.len();
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
        .then(|| Warning::new("one_batch", format!("one batch only of {}: {what}", single.join(", "))))
}
