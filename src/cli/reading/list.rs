//! `reading list`: cells down, days across, or line by line.

use std::collections::{BTreeMap, BTreeSet};

use clap::Args;
use jiff::SignedDuration;

use super::{reading_answers, what};
use crate::book::{Book, cell, logs, readings};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{Lots, codes, day, failure, open_book, quantity, zone};
use crate::input::Faults;
use crate::quantity::TimeSpan;
use crate::record::Code;
use crate::record::cell::Cell;
use crate::record::reading::{Reading, SETTLING, disturbed};
use crate::report::Format;
use crate::report::document::{Document, Table};
use crate::report::view::{
    ReadingRow, cause_words, day as day_of, log_list, readings_columns, readings_long, readings_none,
    readings_wide,
};

/// List readings as a bench table: cells down, days across, a table for each quantity
///
/// As CSV it is one line for each reading, with bare numbers, electrolyte, batch, cause of retirement and age of the cell
/// beside them: what compare and summary read.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook reading list\n  meltbook reading list C1-C6 --what open-circuit --undisturbed --format csv\n  meltbook reading list C1 --long"
)]
pub(super) struct ListArgs {
    /// Only these cells; a run of them as C1-C12
    #[arg(value_name = "CELL")]
    cells: Vec<String>,
    /// Only this quantity: open-circuit, under-load or short-circuit
    #[arg(long, value_name = "QUANTITY", allow_hyphen_values = true)]
    what: Option<String>,
    /// Only readings of this day
    #[arg(long, value_name = "DATE")]
    day: Option<String>,
    /// One line for each reading, with all that was noted
    #[arg(long)]
    long: bool,
    /// Leave out what was read soon after a short circuit of the same cell
    #[arg(long)]
    undisturbed: bool,
    /// How long after a short circuit a reading counts as disturbed [default: 24 h]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    settling: Option<String>,
}

pub(super) fn run(common: &Common, args: &ListArgs) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let cells = faults.collect(codes("CELL", &args.cells)).unwrap_or_default();
    let what = args.what.as_ref().and_then(|text| faults.collect(what(text)));
    let on = args.day.as_ref().and_then(|text| faults.collect(day("--day", text)));
    let settling =
        args.settling.as_ref().and_then(|text| faults.collect(quantity::<TimeSpan>("--settling", text)));
    faults.or(())?;
    let settling = settling
        .and_then(|typed| SignedDuration::try_from_secs_f64(typed.value.get()).ok())
        .unwrap_or(SETTLING);
    let book = open_book(common)?;
    let all = readings(&book, &cells).map_err(|error| failure(&error))?;
    let since_short = disturbed(&all, settling);
    let (kept, since): (Vec<_>, Vec<_>) = all
        .into_iter()
        .zip(since_short)
        .filter(|(_, since)| !args.undisturbed || since.is_none())
        .filter(|(reading, _)| what.is_none_or(|what| reading.taken.value.kind() == what))
        .filter(|(reading, _)| on.is_none_or(|on| day_of(reading.taken.at, &zone()) == on.to_string()))
        .unzip();
    let for_scripts = common.format == Some(Format::Csv) && !args.long;
    let mut document = if for_scripts {
        Document::new("Readings").with(columns(&book, &kept, &since)?)
    } else if args.long {
        Document::new("Readings").with(readings_long(&kept, &since, &zone()))
    } else {
        readings_wide(&kept, &since, settling, &zone())
    };
    if kept.is_empty() && !for_scripts {
        document = readings_none();
    }
    let logs = logs(&book).map_err(|error| failure(&error))?;
    let shown = |cell: &Code| cells.is_empty() || cells.contains(cell);
    let table = log_list(&logs, shown, &zone());
    if !table.rows().is_empty() && what.is_none() && on.is_none() {
        document.push(table);
    }
    Ok(Outcome::new("reading list", reading_answers(&kept, &since).into(), document))
}

const SECONDS_PER_DAY: f64 = 86_400.0;

/// Readings line by line with what is known of their cells.
fn columns(book: &Book, kept: &[Reading], since: &[Option<SignedDuration>]) -> Result<Table, Failure> {
    let codes: BTreeSet<&Code> = kept.iter().map(|reading| &reading.taken.cell).collect();
    let cells: Result<Vec<Cell>, _> = codes.into_iter().map(|code| cell(book, code)).collect();
    let cells = cells.map_err(|error| failure(&error))?;
    let lots = Lots::of(book, &cells)?;
    let known: BTreeMap<&Code, &Cell> = cells.iter().map(|cell| (&cell.code, cell)).collect();
    let rows = kept.iter().zip(since).filter_map(|(reading, since)| {
        let cell = *known.get(&reading.taken.cell)?;
        let cause = cell.retired.as_ref().map(|(_, cause, _)| cause_words(cause).to_owned());
        Some(ReadingRow {
            disturbed: since.is_some(),
            electrolyte: lots.name(cell),
            batch: Lots::code(cell),
            cause: cause.unwrap_or_default(),
            age_d: reading.taken.at.duration_since(cell.set.built).as_secs_f64() / SECONDS_PER_DAY,
            reading,
        })
    });
    Ok(readings_columns(&rows.collect::<Vec<_>>()))
}
