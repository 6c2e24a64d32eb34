//! Readings: the projection, its limits, and reading it.

use rusqlite::{Connection, Row, params};

use super::cell;
use super::error::BookError;
use super::open::Book;
use crate::record::reading::{Reading, ReadingTaken};
use crate::record::{Code, Event};

pub(super) const TABLE: &str = "
CREATE TABLE reading (
    sequence INTEGER PRIMARY KEY,
    cell TEXT NOT NULL REFERENCES cell (code),
    what TEXT NOT NULL,
    number REAL NOT NULL,
    at TEXT NOT NULL,
    taken TEXT NOT NULL
) STRICT;
CREATE INDEX reading_cell ON reading (cell);
";

/// Refuses what can't be, and a reading of a retired cell without a reason.
pub(super) fn check(connection: &Connection, event: &Event) -> Result<(), BookError> {
    let Event::ReadingTaken(taken) = event else { return Ok(()) };
    let cell = cell::required(connection, &taken.cell)?;
    cell::refuse_before_building(&cell, taken.at)?;
    match &cell.retired {
        Some((at, _, _)) if *at < taken.at && taken.because.is_none() => {
            Err(BookError::NeedsReason { what: format!("{} was retired on {at}", cell.code) })
        }
        _ => Ok(()),
    }
}

/// Puts an event into the table; one of another noun changes nothing here.
pub(super) fn apply(connection: &Connection, sequence: u64, event: &Event) -> Result<(), BookError> {
    let Event::ReadingTaken(taken) = event else { return Ok(()) };
    let mut insert = connection.prepare_cached(
        "INSERT INTO reading (sequence, cell, what, number, at, taken) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    )?;
    insert.execute(params![
        sequence,
        taken.cell.to_string(),
        taken.value.kind().word(),
        taken.value.number(),
        taken.at.to_string(),
        serde_json::to_string(taken)?,
    ])?;
    Ok(())
}

/// The readings of these cells, or of all if none is named, in order of time.
///
/// # Errors
/// If a cell is not there, or the database can't be read.
pub fn readings(book: &Book, of: &[Code]) -> Result<Vec<Reading>, BookError> {
    let connection = book.connection();
    let mut list = Vec::new();
    if of.is_empty() {
        let mut select = connection.prepare("SELECT sequence, taken FROM reading")?;
        let mut rows = select.query([])?;
        while let Some(row) = rows.next()? {
            list.push(of_row(row)?);
        }
    }
    for code in of {
        cell::required(connection, code)?;
        let mut select = connection.prepare_cached("SELECT sequence, taken FROM reading WHERE cell = ?1")?;
        let mut rows = select.query([code.to_string()])?;
        while let Some(row) = rows.next()? {
            list.push(of_row(row)?);
        }
    }
    list.sort_by_key(|reading: &Reading| (reading.taken.at, reading.entry));
    Ok(list)
}

fn of_row(row: &Row<'_>) -> Result<Reading, BookError> {
    let taken: String = row.get("taken")?;
    let taken: ReadingTaken = serde_json::from_str(&taken)?;
    Ok(Reading { entry: row.get("sequence")?, taken })
}
