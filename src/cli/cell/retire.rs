//! `cell retire`: a cell's end with its physical cause.

use clap::Args;
use serde_json::{Value, json};

use super::answer::{entry_fact, of_cell};
use super::build::chosen;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, cause, codes, failure, open_book, stamp};
use crate::input::Warning;
use crate::record::Event;
use crate::record::cell::{Cause, Retired};
use crate::report::document::{Caution, Document, Table, column};
use crate::report::view::cell_state;

/// Retire cells, with the physical cause: leak, short, dry, wrong-dose, end-of-test or "other: …"
///
/// A low voltage alone is no cause: a cell that reads low and has nothing to be seen stays in the study.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook cell retire C7 --cause leak --note \"crystals at the seam\"\n  meltbook cell retire C1-C6 --cause end-of-test"
)]
pub(super) struct RetireArgs {
    /// The cells; a run of them as C1-C12
    #[arg(value_name = "CELL", required = true)]
    cells: Vec<String>,
    /// leak, short, dry, wrong-dose, end-of-test or "other: …"
    #[arg(long, value_name = "CAUSE")]
    cause: String,
    /// What was seen
    #[arg(long, value_name = "TEXT")]
    note: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &RetireArgs) -> Result<Outcome, Failure> {
    let mut faults = crate::input::Faults::none();
    let codes = faults.collect(codes("CELL", &args.cells));
    let cause = faults.collect(cause("--cause", &args.cause));
    let (Some(codes), Some(cause)) = (codes, cause) else { return Err(faults.into()) };
    let at = args.record.at()?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    book.write(&stamp, |writer| {
        for cell in codes.iter().cloned() {
            let (cause, note) = (cause.clone(), args.note.clone());
            writer.append(&Event::CellRetired(Retired { cell, cause, note, at }))?;
        }
        Ok(())
    })
    .map_err(|error| failure(&error))?;
    let cells = chosen(&book, &codes)?;
    let head = book.head().map_err(|error| failure(&error))?;
    let mut table = Table::new([column("Cell").key("cell"), column("State").key("state")]);
    cells.iter().for_each(|cell| table.push([cell.code.to_string(), cell_state(cell)]));
    let answer = json!({
        "cells": cells.iter().map(of_cell).collect::<Vec<Value>>(),
        "entry": head.0,
        "head": head.1.to_string(),
    });
    let mut document = Document::new("Retired").with(table);
    let mut warnings = Vec::new();
    if let Cause::Other(words) = &cause
        && !cause.is_physical()
    {
        let message = format!(
            "{words:?} judges a value and does not say what happened to the cell: in comparisons it counts; a leak, a short, \
             a dry cell or a wrong dose would leave it out"
        );
        document.push(Caution::note(message.as_str()));
        warnings.push(Warning::new("not_physical", message));
    }
    let mut outcome = Outcome::new("cell retire", answer, document.with(entry_fact(&head)));
    outcome.warnings = warnings;
    Ok(outcome)
}
