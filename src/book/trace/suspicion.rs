//! What a suspect had to do with, and all downstream of that.

use std::collections::BTreeSet;

use jiff::civil::Date;
use jiff::{ToSpan as _, ZonedDateTime};
use rusqlite::{Connection, Params};

use super::nodes::nodes;
use super::thread::downstream;
use super::{readings, unreadable};
use crate::book::error::BookError;
use crate::book::open::Book;
use crate::book::projection::require;
use crate::record::READ;
use crate::record::graph::{Handled, NodeCode, Suspect, Suspicion, TraceGraph};

const OF_LOT: &str =
    "SELECT 0 AS sequence, code, '' AS what, 1 AS spreads FROM bottle WHERE supplier_lot = ?1";
const OF_INSTRUMENT: &str =
    "SELECT sequence, code, what, spreads FROM touch WHERE instrument = ?1 ORDER BY sequence";
const OF_BALANCE: &str =
    "SELECT sequence, code, what, spreads FROM touch WHERE balance = ?1 ORDER BY sequence";
const OF_DAY: &str =
    "SELECT sequence, code, what, spreads FROM touch WHERE ?1 <= at AND at < ?2 ORDER BY sequence";
/// Entries by this author, entries that this author corrected, and cells that this author built though somebody
/// else wrote it down.
const OF_AUTHOR: &str = "
SELECT touch.sequence, code, what, spreads FROM touch WHERE author = ?1
UNION
SELECT touch.sequence, code, 'corrected: ' || touch.what, spreads
FROM change JOIN entry ON entry.sequence = change.sequence JOIN touch ON touch.sequence = change.entry
WHERE entry.author = ?1 AND change.what = 'corrected'
UNION
SELECT touch.sequence, code, what, spreads
FROM cell_set JOIN touch ON touch.sequence = cell_set.sequence WHERE cell_set.operator = ?1
ORDER BY 1, 2";

/// All that a suspect touched. `now` as for a trace.
///
/// # Errors
/// If the book has no such code, or nothing to do with the suspect, or can't be read.
pub fn suspicion(book: &Book, suspect: &Suspect, now: &ZonedDateTime) -> Result<Suspicion, BookError> {
    let connection = book.connection();
    let handled = handled(connection, suspect, now)?;
    if handled.is_empty() {
        return Err(BookError::NothingTouched(suspect.clone()));
    }
    let graph = graph(connection, &handled, now)?;
    Ok(Suspicion { suspect: suspect.clone(), handled, graph })
}

fn handled(
    connection: &Connection,
    suspect: &Suspect,
    now: &ZonedDateTime,
) -> Result<Vec<Handled>, BookError> {
    match suspect {
        Suspect::Code(code) => {
            if let NodeCode::Made(code) = code {
                super::refuse_study(code)?;
                require(connection, code)?;
            }
            Ok(vec![Handled { code: code.to_string(), what: String::new(), spreads: true }])
        }
        Suspect::Lot(name) => read(connection, OF_LOT, [name]),
        Suspect::Instrument(name) => read(connection, OF_INSTRUMENT, [name]),
        Suspect::Balance(name) => read(connection, OF_BALANCE, [name]),
        Suspect::Author(name) => read(connection, OF_AUTHOR, [name]),
        Suspect::Day(day) => match bounds(*day, now) {
            Some(bounds) => read(connection, OF_DAY, bounds),
            None => Ok(Vec::new()),
        },
    }
}

/// The first second of a day and the first after it.
fn bounds(day: Date, now: &ZonedDateTime) -> Option<[i64; 2]> {
    let start = |day: Date| {
        Some(day.at(0, 0, 0, 0).to_zoned_datetime(now.time_zone().clone()).ok()?.timestamp().as_second())
    };
    Some([start(day)?, start(day.checked_add(1.day()).ok()?)?])
}

fn read(connection: &Connection, sql: &str, name: impl Params) -> Result<Vec<Handled>, BookError> {
    let mut select = connection.prepare_cached(sql)?;
    let mut rows = select.query(name)?;
    let (mut handled, mut seen) = (Vec::new(), BTreeSet::new());
    while let Some(row) = rows.next()? {
        let (entry, code, what): (u64, String, String) = (row.get(0)?, row.get(1)?, row.get(2)?);
        let is_reading = what.ends_with(READ);
        let code = if is_reading { NodeCode::Reading(entry).to_string() } else { code };
        if seen.insert((code.clone(), what.clone())) {
            handled.push(Handled { code, what, spreads: row.get(3)? });
        }
    }
    Ok(handled)
}

/// The graph of what was handled and all downstream of it; a reading comes with its cell.
fn graph(connection: &Connection, handled: &[Handled], now: &ZonedDateTime) -> Result<TraceGraph, BookError> {
    let (mut codes, mut spreading, mut entries) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
    for one in handled {
        match one.code.parse::<NodeCode>() {
            Ok(NodeCode::Reading(entry)) => {
                entries.insert(entry);
            }
            Ok(NodeCode::Made(_)) => {
                codes.insert(one.code.clone());
                if one.spreads {
                    spreading.insert(one.code.clone());
                }
            }
            Err(_) => return Err(crate::book::cell::unreadable("code", &one.code)),
        }
    }
    let spreading: Vec<String> = spreading.into_iter().collect();
    let flows = downstream(connection, &spreading)?;
    let below = flows.ends(&spreading);
    let of_cells = readings::of_cells(connection, &below, now)?;
    entries.retain(|entry| !of_cells.has(*entry));
    let read = readings::of_entries(connection, &entries.into_iter().collect::<Vec<_>>(), now)?;
    codes.extend(below);
    codes.extend(read.cells().map(str::to_owned));
    let mut nodes = nodes(connection, &codes.into_iter().collect::<Vec<_>>(), now)?;
    let mut edges = flows.into_edges();
    of_cells.add_to(&mut nodes, &mut edges);
    read.add_to(&mut nodes, &mut edges);
    let code = handled.first().map(|one| one.code.clone()).unwrap_or_default();
    TraceGraph::dated(code, nodes, edges).map_err(unreadable)
}
