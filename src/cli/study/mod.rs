//! `study`: what is to be compared, written down before the first reading.

mod answer;
mod assign;
mod build_list;
mod compare;
mod list;
mod plan;
mod show;

pub(super) use compare::{StudyQuestion, asked, compared, looked, of_asked};
pub(super) use show::shown;

use clap::{Args, Subcommand};

use super::args::Common;
use super::outcome::{Failure, Outcome};

/// Studies: write down what is to be compared before the first reading, and build for it in random order
///
/// What a study says stands in the journal with its date; meltbook compare --study follows it and names every
/// departure.
#[derive(Debug, Args)]
pub(super) struct StudyArgs {
    #[command(subcommand)]
    command: StudyCommand,
}

#[derive(Debug, Subcommand)]
enum StudyCommand {
    Plan(Box<plan::PlanArgs>),
    BuildList(build_list::BuildListArgs),
    Assign(assign::AssignArgs),
    List(list::ListArgs),
    Show(show::ShowArgs),
}

pub(super) fn run(common: &Common, args: &StudyArgs) -> Result<Outcome, Failure> {
    match &args.command {
        StudyCommand::Plan(args) => plan::run(common, args),
        StudyCommand::BuildList(args) => build_list::run(common, args),
        StudyCommand::Assign(args) => assign::run(common, args),
        StudyCommand::List(args) => list::run(common, args),
        StudyCommand::Show(args) => show::run(common, args),
    }
}
