//! `cell list`.

use std::collections::BTreeMap;

use clap::Args;
use serde_json::Value;

use super::answer::of_cell;
use crate::book::{batch, cells, readings};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{code, failure, open_book, zone};
use crate::record::Code;
use crate::record::cell::Cell;
use crate::record::reading::Reading;
use crate::report::document::paragraph;
use crate::report::view::cell_list;

/// List the cells in use, with what they hold and their last open-circuit voltage
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  meltbook cell list\n  meltbook cell list --of E1 --all --format csv")]
pub(super) struct ListArgs {
    /// Only cells that hold this batch
    #[arg(long, value_name = "BATCH")]
    of: Option<String>,
    /// Also those that are retired
    #[arg(long)]
    all: bool,
}

pub(super) fn run(common: &Common, args: &ListArgs) -> Result<Outcome, Failure> {
    let of = args.of.as_ref().map(|text| code("--of", text)).transpose()?;
    let book = open_book(common)?;
    if let Some(of) = &of {
        batch(&book, of).map_err(|error| failure(&error))?;
    }
    let mut taken: BTreeMap<Code, Vec<Reading>> = BTreeMap::new();
    for reading in readings(&book, &[]).map_err(|error| failure(&error))? {
        taken.entry(reading.taken.cell.clone()).or_default().push(reading);
    }
    let holds =
        |cell: &Cell| of.as_ref().is_none_or(|of| cell.contents.iter().any(|content| content.batch == *of));
    let list = cells(&book).map_err(|error| failure(&error))?;
    let list: Vec<(Cell, Vec<Reading>)> = list
        .into_iter()
        .filter(|cell| (args.all || cell.retired.is_none()) && holds(cell))
        .map(|cell| {
            let taken = taken.remove(&cell.code).unwrap_or_default();
            (cell, taken)
        })
        .collect();
    let answer: Vec<Value> = list
        .iter()
        .map(|(cell, taken)| {
            let mut value = of_cell(cell);
            value["readings"] = taken.len().into();
            value
        })
        .collect();
    let mut document = cell_list(&list, &zone());
    if list.is_empty() {
        document.push(paragraph("No cell yet. Build some with: meltbook cell build."));
    }
    Ok(Outcome::new("cell list", Value::Array(answer), document))
}
