//! Logs: the projection, its limits, and reading it. The rows stay in the kept file.

use rusqlite::{Connection, OptionalExtension as _, params};

use super::cell;
use super::error::BookError;
use super::open::Book;
use crate::record::Event;
use crate::record::log::{Log, LogImported};

pub(super) const TABLE: &str = "
CREATE TABLE log (
    sequence INTEGER PRIMARY KEY,
    file TEXT NOT NULL,
    imported TEXT NOT NULL
) STRICT;
CREATE INDEX log_file ON log (file);
CREATE TABLE log_cell (
    sequence INTEGER NOT NULL REFERENCES log (sequence),
    cell TEXT NOT NULL REFERENCES cell (code),
    rows INTEGER NOT NULL,
    first TEXT NOT NULL,
    last TEXT NOT NULL,
    PRIMARY KEY (sequence, cell)
) STRICT, WITHOUT ROWID;
CREATE INDEX log_cell_cell ON log_cell (cell);
";

/// Refuses the same file twice, what was logged before its cell was built, and after its end without a reason.
pub(super) fn check(connection: &Connection, event: &Event) -> Result<(), BookError> {
    let Event::LogImported(imported) = event else { return Ok(()) };
    let mut select = connection.prepare_cached("SELECT sequence FROM log WHERE file = ?1")?;
    let there: Option<u64> = select.query_row([imported.file.to_string()], |row| row.get(0)).optional()?;
    if let Some(sequence) = there {
        let what = format!("this very file was taken in by entry {sequence} already");
        let hint = "Nothing is left to do; to read it otherwise, strike that entry first.".to_owned();
        return Err(BookError::Refused { what, hint });
    }
    for logged in &imported.cells {
        let cell = cell::required(connection, &logged.cell)?;
        cell::refuse_before_building(&cell, logged.first)?;
        match &cell.retired {
            Some((at, _, _)) if *at < logged.last && imported.because.is_none() => {
                let what =
                    format!("{} was retired on {at}, and the log goes on until {}", cell.code, logged.last);
                return Err(BookError::NeedsReason { what });
            }
            _ => {}
        }
    }
    Ok(())
}

/// Puts an event into the tables; one of another noun changes nothing here.
pub(super) fn apply(connection: &Connection, sequence: u64, event: &Event) -> Result<(), BookError> {
    let Event::LogImported(imported) = event else { return Ok(()) };
    connection
        .prepare_cached("INSERT INTO log (sequence, file, imported) VALUES (?1, ?2, ?3)")?
        .execute(params![sequence, imported.file.to_string(), serde_json::to_string(imported)?])?;
    let mut insert = connection.prepare_cached(
        "INSERT INTO log_cell (sequence, cell, rows, first, last) VALUES (?1, ?2, ?3, ?4, ?5)",
    )?;
    for logged in &imported.cells {
        let (first, last) = (logged.first.to_string(), logged.last.to_string());
        insert.execute(params![sequence, logged.cell.to_string(), logged.rows, first, last])?;
    }
    Ok(())
}

/// Every log, in the order in which they were taken in.
///
/// # Errors
/// If the database can't be read.
pub fn logs(book: &Book) -> Result<Vec<Log>, BookError> {
    let mut select = book.connection().prepare("SELECT sequence, imported FROM log ORDER BY sequence")?;
    let mut rows = select.query([])?;
    let mut list = Vec::new();
    while let Some(row) = rows.next()? {
        let imported: String = row.get("imported")?;
        let imported: LogImported = serde_json::from_str(&imported)?;
        list.push(Log { entry: row.get("sequence")?, imported });
    }
    Ok(list)
}
