//! `sample-size`: how many cells are enough.

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{SampleSizeOptions, never_enough, sample_size_request};
use crate::report::answer::sample_size_answer;
use crate::report::view::sample_size_document;

/// How many cells are enough to find a difference, to know a mean or a spread, or to speak for all further cells;
/// and what a given number can find
///
/// Cells must be independent: cells from one batch are repeats of that batch, so to judge an electrolyte build
/// them from several batches and count batches.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook sample-size --difference \"15 mV\" --sd \"12 mV\" --power 0.85 --alpha 0.05
  meltbook sample-size --difference \"15 mV\" --sd \"12 mV\" --groups 4 --loss 10%
  meltbook sample-size --difference \"15 mV\" --baseline E1 --metric \"voltage day=7\"
  meltbook sample-size --per-group 6 --sd \"12 mV\"
  meltbook sample-size --half-width \"10 mV\" --sd \"20 mV\"
  meltbook sample-size --spread-within 50%
  meltbook sample-size --tolerance 3 --coverage 95% --confidence 95%")]
pub(super) struct SampleSizeArgs {
    #[command(flatten)]
    options: SampleSizeOptions,
}

pub(super) fn run(common: &Common, args: &SampleSizeArgs) -> Result<Outcome, Failure> {
    let request = sample_size_request(common, &args.options)?;
    let enough = request.question.answer().ok_or_else(never_enough)?;
    let answer = sample_size_answer(&request.question, &enough, &request.words);
    let document = sample_size_document(&request.question, &enough, &request.words);
    let mut outcome = Outcome::new("sample-size", answer, document);
    outcome.warnings = request.warnings;
    Ok(outcome)
}
