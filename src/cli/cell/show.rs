//! `cell show`.

use clap::Args;

use super::answer::of_cell;
use crate::book::{cell, readings};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::reading::reading_answers;
use crate::cli::request::{code, failure, open_book, zone};
use crate::record::reading::{SETTLING, disturbed};
use crate::report::view::cell_document;

/// Show all that is known of a cell: contents, design, readings
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook cell show C1")]
pub(super) struct ShowArgs {
    /// The cell
    #[arg(value_name = "CELL")]
    cell: String,
}

pub(super) fn run(common: &Common, args: &ShowArgs) -> Result<Outcome, Failure> {
    let code = code("CELL", &args.cell)?;
    let book = open_book(common)?;
    let cell = cell(&book, &code).map_err(|error| failure(&error))?;
    let readings = readings(&book, &[code]).map_err(|error| failure(&error))?;
    let since_short = disturbed(&readings, SETTLING);
    let mut answer = of_cell(&cell);
    answer["readings"] = reading_answers(&readings, &since_short).into();
    Ok(Outcome::new("cell show", answer, cell_document(&cell, &readings, &since_short, &zone())))
}
