//! `compare`: groups of observations against one another.

use clap::{Args, ValueEnum};

use super::args::Common;
use super::judged::{Asked, judged};
use super::outcome::{Failure, Outcome};
use super::request::{ObservationArgs, observed};
use super::study::{StudyQuestion, compared};
use crate::record::study::StudyMethod;
use crate::report::answer::comparison_answer;
use crate::report::view::comparison_document;
use crate::statistics::comparison::Method;

/// Which electrolytes, or groups in a file of columns, differ, by how much, and how surely, on few cells
///
/// The conclusion comes first, with the size of each difference and its interval. Cells of one batch are repeats of that batch: name
/// the batches, and with several of them for each group the batch is the unit. Cells are left out by a physical cause alone, are
/// compared with and without, and are counted as failures. Several readings of a cell are never pooled: with --cell and --time the
/// slope of each cell is compared, with --at-day its value at a day. Without a FILE the cells of the book are compared: --metric says
/// what is taken of each, its lot is the batch, and what it was retired for is the cause. With --study a study
/// that was written down says all of that.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook compare cells.csv --value ocv --by electrolyte --batch batch --excluded cause
  meltbook compare cells.csv --value ocv --by electrolyte --method ranks --baseline reline
  meltbook compare --metric \"voltage day=7\"
  meltbook compare --metric \"resistance day=14 method=open-to-loaded\" --by batch
  meltbook compare --study Q1")]
pub(super) struct CompareArgs {
    #[command(flatten)]
    observations: ObservationArgs,
    /// What is assumed of the values [default: welch, or what the study says]
    #[arg(long, value_enum, value_name = "METHOD")]
    method: Option<MethodArg>,
    /// Compare all other groups with this one instead of every pair
    #[arg(long, value_name = "GROUP")]
    baseline: Option<String>,
    /// Compare what this study says, by its rules, and name every departure from it. Before its planned end the look is
    /// recorded in the book
    #[arg(long, value_name = "CODE", help_heading = "A study")]
    study: Option<String>,
    /// Initials of who looks, should it be recorded; before MELTBOOK_AUTHOR and meltbook.toml
    #[arg(long, value_name = "INITIALS", requires = "study", help_heading = "A study")]
    author: Option<String>,
    /// Look without recording it, in a book that can't be written; the answer says so
    #[arg(long, requires = "study", help_heading = "A study")]
    unrecorded: bool,
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

impl From<MethodArg> for StudyMethod {
    fn from(method: MethodArg) -> Self {
        match method {
            MethodArg::Welch => Self::Welch,
            MethodArg::Classical => Self::Classical,
            MethodArg::Ranks => Self::Ranks,
        }
    }
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
    if let Some(study) = &args.study {
        let metric = args.observations.of_study()?;
        return compared(
            common,
            &StudyQuestion {
                command: "compare",
                study,
                metric,
                method: args.method.map(StudyMethod::from),
                baseline: args.baseline.as_deref(),
                by: args.author.as_deref(),
                unrecorded: args.unrecorded,
            },
        );
    }
    args.observations.groups_named()?;
    let observed = observed(common, &args.observations)?;
    let asked = Asked {
        method: args.method.unwrap_or(MethodArg::Welch).into(),
        baseline: args.baseline.as_deref(),
        confidence: 0.95,
    };
    let judged = judged(&observed, &asked)?;
    let view = judged.view(&observed);
    let mut outcome = Outcome::new("compare", comparison_answer(&view), comparison_document(&view));
    outcome.warnings.clone_from(&judged.warnings);
    Ok(outcome)
}
