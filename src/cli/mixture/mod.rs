//! `mixture`: sets of compositions to test, and what their results say.

mod design;
mod fit;
mod points;

use clap::{Args, Subcommand};

use super::args::Common;
use super::outcome::{Failure, Outcome};
use fit::FitArgs;
use points::{CentroidArgs, LatticeArgs, OptimalArgs, VerticesArgs};

/// Compositions to test: which runs tell most of a mixture, and what their results say
#[derive(Debug, Args)]
pub(super) struct MixtureArgs {
    #[command(subcommand)]
    command: MixtureCommand,
}

#[derive(Debug, Subcommand)]
enum MixtureCommand {
    Lattice(LatticeArgs),
    Centroid(CentroidArgs),
    Vertices(VerticesArgs),
    Optimal(OptimalArgs),
    Fit(FitArgs),
}

pub(super) fn run(common: &Common, args: &MixtureArgs) -> Result<Outcome, Failure> {
    match &args.command {
        MixtureCommand::Lattice(args) => points::lattice_command(common, args),
        MixtureCommand::Centroid(args) => points::centroid(common, args),
        MixtureCommand::Vertices(args) => points::vertices(common, args),
        MixtureCommand::Optimal(args) => points::optimal(common, args),
        MixtureCommand::Fit(args) => fit::run(common, args),
    }
}
