//! `cell weigh`: the real mass in the place of the planned dose.

use clap::Args;
use serde_json::{Value, json};

use super::answer::{entry_fact, of_cell};
use crate::book::cell;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, RecordArgs, bench_values, code, failure, open_book, quantity, read_text, stamp,
};
use crate::input::{BenchCell, BenchTable, Fault, Faults, Place};
use crate::quantity::{Mass, Typed};
use crate::record::cell::CellWeighed;
use crate::record::{Code, Event};
use crate::report::document::{Document, Table, column, paragraph};

/// Enter what really went into a cell; it takes the place of the planned dose
///
/// A table has cells down and batches across, its unit in the head, as in "E1 (g)", or in --unit. If anything in
/// it is wrong, nothing is entered; a mass that stands in the book already is passed over.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook cell weigh C3 E1 1.183g\n  meltbook cell weigh --csv masses.csv --unit g"
)]
pub(super) struct WeighArgs {
    /// The cell
    #[arg(value_name = "CELL", required_unless_present = "csv")]
    cell: Option<String>,
    /// The batch in it
    #[arg(value_name = "BATCH", required_unless_present = "csv")]
    batch: Option<String>,
    /// The mass
    #[arg(value_name = "MASS", required_unless_present = "csv", allow_hyphen_values = true)]
    mass: Option<String>,
    /// A table of masses: cells down, batches across
    #[arg(long, value_name = "FILE", conflicts_with = "cell")]
    csv: Option<String>,
    /// The unit of bare numbers in the table
    #[arg(long, value_name = "UNIT", requires = "csv")]
    unit: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

/// One mass of one batch in one cell.
type Weighing = (Code, Code, Typed<Mass>);

pub(super) fn run(common: &Common, args: &WeighArgs) -> Result<Outcome, Failure> {
    let weighings = weighings(args)?;
    let at = args.record.at()?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    let mut entered: Vec<&Weighing> = Vec::new();
    for weighing in &weighings {
        let (code, batch, mass) = weighing;
        let stands = cell(&book, code).map_err(|error| failure(&error))?;
        let stands = stands.contents.iter().find(|content| content.batch == *batch);
        if args.csv.is_none() || stands.and_then(|content| content.weighed_g) != Some(mass.value.get()) {
            entered.push(weighing);
        }
    }
    if !entered.is_empty() {
        book.write(&stamp, |writer| {
            for (cell, batch, mass) in entered.iter().copied().cloned() {
                let because = args.record.because.clone();
                writer.append(&Event::CellWeighed(CellWeighed { cell, batch, mass, because, at }))?;
            }
            Ok(())
        })
        .map_err(|error| failure(&error))?;
    }
    answer(&book, &entered, weighings.len() - entered.len())
}

fn weighings(args: &WeighArgs) -> Result<Vec<Weighing>, Failure> {
    let mut faults = Faults::none();
    let list = match (&args.csv, &args.cell, &args.batch, &args.mass) {
        (Some(path), ..) => faults.collect(table(path, &read_text(path)?, args.unit.as_deref())),
        (None, Some(cell), Some(batch), Some(mass)) => {
            let cell = faults.collect(code("CELL", cell));
            let batch = faults.collect(code("BATCH", batch));
            let mass = faults.collect(quantity::<Mass>("MASS", mass));
            cell.zip(batch).zip(mass).map(|((cell, batch), mass)| vec![(cell, batch, mass)])
        }
        _ => {
            let fault = Fault::new("no_mass", "no mass is given", Place::named("MASS"));
            faults.push(fault.with_hint("Write it like: meltbook cell weigh C3 E1 1.183g."));
            None
        }
    };
    Ok(faults.or(list.unwrap_or_default())?)
}

fn table(path: &str, text: &str, unit: Option<&str>) -> Result<Vec<Weighing>, Faults> {
    let table = BenchTable::read(path, text)?;
    let named = |name: &str, cell: &BenchCell| -> Result<Code, Faults> {
        name.parse::<Code>().map_err(|error| {
            let fault = Fault::new("bad_code", error.to_string(), table.place(cell));
            fault.with_hint(crate::record::CodeError::HINT).into()
        })
    };
    let across = |name: &str, cell: &BenchCell| {
        named(name, cell).map_err(|faults| {
            let hint = "Cells go down and batches across: above each column of masses stands the batch, such as \"E1 (g)\".";
            let mut hinted = Faults::none();
            faults.iter().for_each(|fault| hinted.push(fault.clone().with_hint(hint)));
            hinted
        })
    };
    let values = bench_values::<Code, Code, Mass>(&table, unit, named, across)?;
    Ok(values.into_iter().map(|value| (value.row, value.head, value.value)).collect())
}

/// The cells as they stand now.
fn answer(book: &crate::book::Book, entered: &[&Weighing], passed_over: usize) -> Result<Outcome, Failure> {
    let mut table = Table::new([
        column("Cell").key("cell"),
        column("Batch").key("batch"),
        column("Planned").unit("g").key("planned_g").decimal(),
        column("Weighed").unit("g").key("weighed_g").decimal(),
        column("Difference").unit("%").key("difference_pct").decimal(),
    ]);
    let mut cells: Vec<Value> = Vec::new();
    for (code, batch, mass) in entered {
        let now = cell(book, code).map_err(|error| failure(&error))?;
        if let Some(content) = now.contents.iter().find(|content| content.batch == *batch) {
            let off = (mass.value.get() / content.planned_g - 1.0) * 100.0;
            table.push([
                code.to_string(),
                batch.to_string(),
                content.planned_g.to_string(),
                mass.value.get().to_string(),
                format!("{off:+.1}"),
            ]);
        }
        cells.push(of_cell(&now));
    }
    let head = book.head().map_err(|error| failure(&error))?;
    let mut document = Document::new("Real masses").with(table);
    if 0 < passed_over {
        document.push(paragraph(format!("{passed_over} masses stood in the book already.")));
    }
    document.push(entry_fact(&head));
    let answer =
        json!({ "cells": cells, "passed_over": passed_over, "entry": head.0, "head": head.1.to_string() });
    Ok(Outcome::new("cell weigh", answer, document))
}
