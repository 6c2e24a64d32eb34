//! `summary`: groups of observations, each by itself.

use clap::Args;
use serde_json::Value;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{ObservationArgs, SummaryRuleArgs, observed, summary_rules};
use super::summarised::summarised;
use crate::report::Format;
use crate::report::answer::summary_answer;
use crate::report::view::{summary_document, summary_table};

/// Mean, spread, range, outliers and limits of each electrolyte, or group in a file of columns, and what may be said with so many
/// cells
///
/// The file is a CSV with names in its first line, separated by commas, semicolons or tabs; decimal commas and units in the heads
/// are understood. Without a FILE it is the cells of the book, and --metric says what is taken of each. Nothing is dropped: tests for outliers flag, and a cell is left out by a physical cause alone.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook summary cells.csv --value ocv --by electrolyte
  meltbook summary cells.csv --value ocv --by electrolyte --format html --out summary.html
  meltbook summary --metric \"voltage day=7\"
  meltbook summary --metric \"current day=7\" --of E1 --by batch")]
pub(super) struct SummaryArgs {
    #[command(flatten)]
    observations: ObservationArgs,
    #[command(flatten)]
    rules: SummaryRuleArgs,
}

pub(super) fn run(common: &Common, args: &SummaryArgs) -> Result<Outcome, Failure> {
    let rules = summary_rules(&args.rules)?;
    let observed = observed(common, &args.observations)?;
    let summarised = summarised(&observed, rules)?;
    let unit = observed.unit.as_deref();
    let answer = summarised
        .groups
        .iter()
        .map(|(summary, group)| summary_answer(summary, unit, group.missing, group.excluded.len()))
        .collect();
    let view = summarised.view(&observed);
    let document = match common.format {
        Some(Format::Csv) => summary_table(&view),
        _ => summary_document(&view),
    };
    let mut outcome = Outcome::new("summary", Value::Array(answer), document);
    outcome.warnings.clone_from(&observed.warnings);
    Ok(outcome)
}
