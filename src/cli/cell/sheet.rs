//! `cell sheet`: the build sheet again.

use clap::Args;
use serde_json::{Value, json};

use super::answer::of_cell;
use super::build::chosen;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, CellReview, codes, open_book, zone};
use crate::record::{Code, read_design};
use crate::report::view::build_sheet;

/// Print the build sheet of cells again, in their order, with the masses that were entered
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook cell sheet C1-C12 --format html")]
pub(super) struct SheetArgs {
    /// The cells; a run of them as C1-C12
    #[arg(value_name = "CELL", required = true)]
    cells: Vec<String>,
}

pub(super) fn run(common: &Common, args: &SheetArgs) -> Result<Outcome, Failure> {
    let codes = codes("CELL", &args.cells)?;
    let table = request::component_table(common)?;
    let book = open_book(common)?;
    let cells = chosen(&book, &codes)?;
    let batches: Vec<Code> =
        cells.iter().flat_map(|cell| &cell.contents).map(|content| content.batch.clone()).collect();
    let text = cells.first().map(|cell| cell.set.design.text.clone()).unwrap_or_default();
    let design = read_design("the recorded design", &text)?;
    let CellReview { review, warnings, .. } =
        request::cell_review(&book, &table, &batches, &design, request::scheme_here(common)?)?;
    let document = build_sheet(&cells, &review, &warnings, &zone());
    let answer = json!(cells.iter().map(of_cell).collect::<Vec<Value>>());
    let mut outcome = Outcome::new("cell sheet", answer, document);
    outcome.warnings = warnings;
    Ok(outcome)
}
