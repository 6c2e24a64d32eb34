//! `batch`: what is made, from the first gram to its release and beyond.

mod add;
mod answer;
mod appearance;
mod finish;
mod judge;
mod left;
mod list;
mod measure;
mod slip;
mod start;
mod water;
mod weigh;

use clap::{Args, Subcommand};

use super::args::Common;
use super::outcome::{Failure, Outcome};

/// Batches: begin, weigh, make, titrate, look at, measure, release; what is left and the whole life of one
#[derive(Debug, Args)]
pub(super) struct BatchArgs {
    #[command(subcommand)]
    command: BatchCommand,
}

#[derive(Debug, Subcommand)]
enum BatchCommand {
    Start(Box<start::StartArgs>),
    Weigh(weigh::WeighArgs),
    Add(add::AddArgs),
    Finish(finish::FinishArgs),
    Water(water::WaterArgs),
    Appearance(appearance::AppearanceArgs),
    Measure(measure::MeasureArgs),
    Release(judge::ReleaseArgs),
    Reject(judge::RejectArgs),
    Waste(left::WasteArgs),
    Left(left::LeftArgs),
    List(list::ListArgs),
    Show(list::ShowArgs),
}

pub(super) fn run(common: &Common, args: &BatchArgs) -> Result<Outcome, Failure> {
    match &args.command {
        BatchCommand::Start(args) => start::run(common, args),
        BatchCommand::Weigh(args) => weigh::run(common, args),
        BatchCommand::Add(args) => add::run(common, args),
        BatchCommand::Finish(args) => finish::run(common, args),
        BatchCommand::Water(args) => water::run(common, args),
        BatchCommand::Appearance(args) => appearance::run(common, args),
        BatchCommand::Measure(args) => measure::run(common, args),
        BatchCommand::Release(args) => judge::release(common, args),
        BatchCommand::Reject(args) => judge::reject(common, args),
        BatchCommand::Waste(args) => left::waste(common, args),
        BatchCommand::Left(args) => left::left(common, args),
        BatchCommand::List(args) => list::list(common, args),
        BatchCommand::Show(args) => list::show(common, args),
    }
}
