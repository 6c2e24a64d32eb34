//! The arguments of the program.

use clap::{Args, Parser, Subcommand};

use super::batch::BatchArgs;
use super::blend::BlendArgs;
use super::bottle::BottleArgs;
use super::candidates::CandidatesArgs;
use super::cautions::CautionsArgs;
use super::cell::CellArgs;
use super::compare::CompareArgs;
use super::component::ComponentArgs;
use super::curve::CurveArgs;
use super::demo::DemoArgs;
use super::due::DueArgs;
use super::fit::FitArgs;
use super::formula::FormulaArgs;
use super::init::InitArgs;
use super::journal::{
    ArchiveArgs, BackupArgs, CorrectArgs, HistoryArgs, RestoreArgs, StrikeArgs, VerifyArgs,
};
use super::label::LabelArgs;
use super::liquidus::LiquidusArgs;
use super::manual::{CompletionsArgs, ManualArgs};
use super::mixture::MixtureArgs;
use super::plan::PlanArgs;
use super::reading::ReadingArgs;
use super::recipe::RecipeArgs;
use super::report::ReportArgs;
use super::sample_size::SampleSizeArgs;
use super::sheet::SheetArgs;
use super::study::StudyArgs;
use super::summary::SummaryArgs;
use super::trace::TraceArgs;
use crate::report::Format;

const EXAMPLES: &str = "\
Examples:
  meltbook plan \"ChCl:urea 1:2\" --mass \"50 g\"
  meltbook cautions \"ChCl:EG 1:2\" --with zinc --sealed
  meltbook sheet \"ChCl:urea 1:2\" --mass \"50 g\" --format html --out sheet.html";

/// The book of low-melting mixtures: from a mole ratio to weighed grams, a printed sheet, and the cautions
/// beside them
///
/// Exit codes: 0 done, 1 the answer is no (out of tolerance, not enough, too wet), 2 bad input, 3 storage.
#[derive(Debug, Parser)]
#[command(name = "meltbook", version, arg_required_else_help = true, max_term_width = 100, after_help = EXAMPLES)]
pub(super) struct Arguments {
    #[command(flatten)]
    pub(super) common: Common,
    #[command(subcommand)]
    pub(super) command: Command,
}

/// What every command takes.
#[derive(Debug, Args)]
pub(super) struct Common {
    /// How the answer is written: table, json, csv, markdown or html
    #[arg(long, global = true, value_name = "FORMAT", value_parser = format)]
    pub(super) format: Option<Format>,
    /// A table of your own components (TOML), added to the built-in one; repeatable
    #[arg(long, global = true, value_name = "FILE")]
    pub(super) components: Vec<String>,
    /// The folder of the book; before MELTBOOK_BOOK and the nearest folder above with meltbook.toml
    #[arg(long, global = true, value_name = "DIR")]
    pub(super) book: Option<String>,
    /// Write the answer to this file instead of the screen
    #[arg(long, global = true, value_name = "FILE")]
    pub(super) out: Option<String>,
    /// Let --out replace a file that is there
    #[arg(long, global = true, requires = "out")]
    pub(super) force: bool,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    Formula(FormulaArgs),
    Component(ComponentArgs),
    Recipe(RecipeArgs),
    Plan(PlanArgs),
    Sheet(SheetArgs),
    Blend(BlendArgs),
    Cautions(CautionsArgs),
    Init(InitArgs),
    Demo(DemoArgs),
    Bottle(BottleArgs),
    Batch(BatchArgs),
    Cell(CellArgs),
    Reading(ReadingArgs),
    Due(DueArgs),
    Trace(TraceArgs),
    Label(LabelArgs),
    Summary(SummaryArgs),
    Compare(CompareArgs),
    Fit(FitArgs),
    SampleSize(SampleSizeArgs),
    Study(StudyArgs),
    Liquidus(LiquidusArgs),
    Curve(CurveArgs),
    Candidates(Box<CandidatesArgs>),
    Report(ReportArgs),
    Mixture(MixtureArgs),
    History(HistoryArgs),
    Correct(CorrectArgs),
    Strike(StrikeArgs),
    Verify(VerifyArgs),
    Archive(ArchiveArgs),
    Restore(RestoreArgs),
    Backup(BackupArgs),
    Manual(ManualArgs),
    Completions(CompletionsArgs),
}

fn format(text: &str) -> Result<Format, String> {
    text.parse::<Format>().map_err(|error| format!("{error}. {}", error.hint()))
}
