//! The command line: one file per command. Here alone are a clock, an environment, a current folder and
//! defaults. Nothing below this room knows any of them.

mod args;
mod batch;
mod blend;
mod bottle;
mod candidates;
mod cautions;
mod cell;
mod compare;
mod completion;
mod component;
mod curve;
mod demo;
mod due;
mod fit;
mod formula;
mod init;
mod journal;
mod judged;
mod label;
mod liquidus;
mod manual;
mod mixture;
mod outcome;
mod plan;
mod print;
mod progress;
mod reading;
mod recipe;
mod report;
mod request;
mod sample_size;
mod sheet;
mod study;
mod summarised;
mod summary;
mod trace;

use std::process::ExitCode;

use clap::Parser as _;
use clap::error::ErrorKind;

use args::{Arguments, Command, Common};
use outcome::{Failure, Outcome};

/// Runs the program with the arguments of the process and says how it ended.
pub fn run() -> ExitCode {
    let given: Vec<String> = std::env::args().collect();
    match Arguments::try_parse_from(&given) {
        Ok(arguments) => end(&arguments.common, answer(&arguments)),
        Err(error) => usage(&given, &error),
    }
}

fn answer(arguments: &Arguments) -> Result<Outcome, Failure> {
    let common = &arguments.common;
    match &arguments.command {
        Command::Formula(args) => formula::run(args),
        Command::Component(args) => component::run(common, args),
        Command::Recipe(args) => recipe::run(common, args),
        Command::Plan(args) => plan::run(common, args),
        Command::Summary(args) => summary::run(common, args),
        Command::Compare(args) => compare::run(common, args),
        Command::Sheet(args) => sheet::run(common, args),
        Command::Blend(args) => blend::run(common, args),
        Command::Cautions(args) => cautions::run(common, args),
        Command::Init(args) => init::run(args),
        Command::Demo(args) => demo::run(args),
        Command::Bottle(args) => bottle::run(common, args),
        Command::Batch(args) => batch::run(common, args),
        Command::Cell(args) => cell::run(common, args),
        Command::Reading(args) => reading::run(common, args),
        Command::Due(args) => due::run(common, args),
        Command::Trace(args) => trace::run(common, args),
        Command::Label(args) => label::run(common, args),
        Command::Report(args) => report::run(common, args),
        Command::Fit(args) => fit::run(args),
        Command::SampleSize(args) => sample_size::run(common, args),
        Command::Study(args) => study::run(common, args),
        Command::Liquidus(args) => liquidus::run(common, args),
        Command::Curve(args) => curve::run(common, args),
        Command::Candidates(args) => candidates::run(common, args),
        Command::Mixture(args) => mixture::run(common, args),
        Command::History(args) => journal::history(common, args),
        Command::Correct(args) => journal::correct(common, args),
        Command::Strike(args) => journal::strike(common, args),
        Command::Verify(args) => journal::verify(common, args),
        Command::Archive(args) => journal::archive(common, args),
        Command::Restore(args) => journal::restore(args),
        Command::Backup(args) => journal::backup(common, args),
        Command::Manual(args) => manual::manual(args),
        Command::Completions(args) => Ok(manual::completions(args)),
    }
}

fn end(common: &Common, result: Result<Outcome, Failure>) -> ExitCode {
    let format = common.format.unwrap_or_default();
    match result.and_then(|outcome| print::outcome(common, &outcome).map(|()| outcome.exit())) {
        Ok(exit) => exit,
        Err(failure) => print::failure(format, &failure),
    }
}

/// Help and version are answers; anything else that the parser says is a fault of the input.
fn usage(given: &[String], error: &clap::Error) -> ExitCode {
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => print::help(&error.render(), false),
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => print::help(&error.render(), true),
        _ => print::usage(given, error),
    }
}
