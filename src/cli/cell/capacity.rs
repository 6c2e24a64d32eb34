//! `cell capacity`: what the electrodes can give.

use clap::Args;

use crate::cell::capacity;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{CapacityOptions, capacity_request};
use crate::report::answer::capacity_answer;
use crate::report::view::{capacity_document, capacity_warnings};

/// Theoretical capacity of both electrodes, which one ends first, and the current to expect at a load
///
/// Of a cell of the book the masses are those that were filled in; flags come before what the design or the
/// records say, key by key.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook cell capacity C1 --load \"47 ohm\" --voltage \"1.48 V\"\n  meltbook cell capacity open-vial-zinc-manganese-dioxide --positive mix=0.4g --electrolyte 1.2g\n  meltbook cell capacity --negative \"Zn area=4cm2 thickness=0.1mm\" \\\n      --positive \"MnO2 mix=1.2g oxide=80% purity=92%\" --ratio 2"
)]
pub(super) struct CapacityArgs {
    #[command(flatten)]
    options: CapacityOptions,
}

pub(super) fn run(common: &Common, args: &CapacityArgs) -> Result<Outcome, Failure> {
    let (title, request) = capacity_request(common, &args.options)?;
    let capacity = capacity(request);
    let warnings = capacity_warnings(&capacity);
    let document = capacity_document(&title, &capacity, &warnings);
    let mut outcome = Outcome::new("cell capacity", capacity_answer(&title, &capacity), document);
    outcome.warnings = warnings;
    Ok(outcome)
}
