//! `cell`: what is built, what is in it, what it can give, and how it ends.

mod answer;
mod build;
mod capacity;
mod design;
mod figures;
mod list;
mod retention;
mod retire;
mod sheet;
mod show;
mod weigh;

use clap::{Args, Subcommand};

use super::args::Common;
use super::outcome::{Failure, Outcome};

/// Cells: build in random order, enter real masses, list, show, retire; what they can give and what
/// their readings come to; the designs they are built to
#[derive(Debug, Args)]
pub(super) struct CellArgs {
    #[command(subcommand)]
    command: CellCommand,
}

#[derive(Debug, Subcommand)]
enum CellCommand {
    Build(build::BuildArgs),
    Sheet(sheet::SheetArgs),
    Weigh(weigh::WeighArgs),
    List(list::ListArgs),
    Show(show::ShowArgs),
    Retire(retire::RetireArgs),
    Capacity(capacity::CapacityArgs),
    Figures(Box<figures::FiguresArgs>),
    Design(design::DesignArgs),
}

pub(super) fn run(common: &Common, args: &CellArgs) -> Result<Outcome, Failure> {
    match &args.command {
        CellCommand::Build(args) => build::run(common, args),
        CellCommand::Sheet(args) => sheet::run(common, args),
        CellCommand::Weigh(args) => weigh::run(common, args),
        CellCommand::List(args) => list::run(common, args),
        CellCommand::Show(args) => show::run(common, args),
        CellCommand::Retire(args) => retire::run(common, args),
        CellCommand::Capacity(args) => capacity::run(common, args),
        CellCommand::Figures(args) => figures::run(common, args),
        CellCommand::Design(args) => design::run(common, args),
    }
}
