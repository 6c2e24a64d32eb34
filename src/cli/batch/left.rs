//! `batch waste` and `batch left`: what goes and what is there.

use clap::Args;

use super::answer::{plain, record};
use super::weigh::above_zero;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, code, quantity};
use crate::quantity::Mass;
use crate::record::Event;
use crate::record::batch::{LeftWeighed, Wasted};

/// Record that some of it went to waste; --because says why and which way
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  meltbook batch waste E1 \"2.1 g\" --because \"spilt, to the salt waste\""
)]
pub(super) struct WasteArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    /// How much
    #[arg(value_name = "MASS", allow_hyphen_values = true)]
    mass: String,
    #[command(flatten)]
    record: RecordArgs,
}

/// Weigh what is left; the difference to the records is stated from then on
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook batch left E1 \"41.30 g\"")]
pub(super) struct LeftArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    /// Mass of the content
    #[arg(value_name = "MASS", allow_hyphen_values = true)]
    mass: String,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn waste(common: &Common, args: &WasteArgs) -> Result<Outcome, Failure> {
    let batch = code("CODE", &args.code)?;
    let mass = quantity::<Mass>("MASS", &args.mass)?;
    above_zero(&mass, "MASS")?;
    let reason = request::reason(&args.record, "why it goes and which way")?;
    let wasted = Wasted { batch: batch.clone(), mass, reason, at: args.record.at()? };
    record(common, &args.record, &batch, Event::BatchWasted(wasted), "Wasted", plain)
}

pub(super) fn left(common: &Common, args: &LeftArgs) -> Result<Outcome, Failure> {
    let batch = code("CODE", &args.code)?;
    let left = quantity::<Mass>("MASS", &args.mass)?;
    let weighed = LeftWeighed { batch: batch.clone(), left, at: args.record.at()? };
    record(common, &args.record, &batch, Event::BatchLeftWeighed(weighed), "Weighed back", plain)
}
