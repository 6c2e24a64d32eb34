//! `cell show`.

use clap::Args;
use serde_json::json;

use super::answer::of_cell;
use crate::book::{cell, logs, readings};
use crate::cell::figures;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::reading::{log_answer, reading_answers};
use crate::cli::request::{code, failure, open_book, usual_rules, zone};
use crate::record::reading::{SETTLING, disturbed};
use crate::report::answer::figures_answer;
use crate::report::document::heading;
use crate::report::view::{cell_document, drift_blocks, log_table, logs_of, resistance_blocks};

/// Show all that is known of a cell: contents, design, readings, logs, resistance and drift
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
    let logs = logs(&book).map_err(|error| failure(&error))?;
    let logs = logs_of(&logs, &cell.code);
    let (rules, retired) = (usual_rules(), cell.retired.as_ref().map(|(at, _, _)| *at));
    let figures = [figures(&cell.code, &readings, &since_short, (cell.set.built, retired), &rules)];
    let mut document = cell_document(&cell, &readings, &since_short, &zone());
    if !logs.is_empty() {
        document.push(heading(2, "Logs"));
        document.push(log_table(&logs, &zone()));
    }
    let parts = [
        ("Internal resistance", resistance_blocks(&figures, &rules, &zone())),
        ("Open-circuit voltage over time", drift_blocks(&figures)),
    ];
    for (title, blocks) in parts.into_iter().filter(|(_, blocks)| !blocks.is_empty()) {
        document.push(heading(2, title));
        document.extend(blocks);
    }
    let mut answer = of_cell(&cell);
    answer["readings"] = reading_answers(&readings, &since_short).into();
    answer["logs"] =
        logs.iter().map(|(entry, log, _)| json!({ "entry": entry, "log": log_answer(log) })).collect();
    answer["figures"] = figures_answer(&figures, &rules, None)["cells"][0].clone();
    Ok(Outcome::new("cell show", answer, document))
}
