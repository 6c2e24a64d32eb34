//! `compare`: groups of observations against one another.

use clap::{Args, ValueEnum};

use super::args::Common;
use super::judged::{Asked, judged};
use super::outcome::{Failure, Outcome};
use super::request::{ObservationArgs, observed};
use crate::report::answer::comparison_answer;
use crate::report::view::comparison_document;
use crate::statistics::comparison::Method;

/// Which electrolytes, or groups in a file of columns, differ, by how much, and how surely, on few cells
///
/// The conclusion comes first, with the size of each difference and its interval. Cells of one batch are repeats of that batch: name
/// the batches, and with several of them for each group the batch is the unit. Cells are left out by a physical cause alone, are
/// compared with and without, and are counted as failures. Several readings of a cell are never pooled: with --cell and --time the
/// slope of each cell is compared, with --at-day its value at a day. Without a FILE the cells of the book are compared: --metric says
/// what is taken of each, its lot is the batch, and what it was retired for is the cause.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook compare cells.csv --value ocv --by electrolyte --batch batch --excluded cause
  meltbook compare cells.csv --value ocv --by electrolyte --method ranks --baseline reline
  meltbook compare --metric \"voltage day=7\"
  meltbook compare --metric \"resistance day=7 method=open-to-loaded\" --by batch --cells C1-C12")]
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

pub(super) fn run(common: &Common, args: &CompareArgs) -> Result<Outcome, Failure> {
    args.observations.groups_named()?;
    let observed = observed(common, &args.observations)?;
    let asked = Asked { method: args.method.into(), baseline: args.baseline.as_deref(), confidence: 0.95 };
    let judged = judged(&observed, &asked)?;
    let view = judged.view(&observed);
    let mut outcome = Outcome::new("compare", comparison_answer(&view), comparison_document(&view));
    outcome.warnings.clone_from(&judged.warnings);
    Ok(outcome)
}
