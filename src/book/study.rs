//! Studies: the projection, its limits, and reading it.

use rusqlite::{Connection, OptionalExtension as _, params};

use super::cell::{self, time, unreadable};
use super::error::BookError;
use super::open::Book;
use crate::record::study::{Assigned, Look, Looked, Planned, Study};
use crate::record::{Code, CodeKind, Event};

pub(super) const TABLE: &str = "
CREATE TABLE study (
    code TEXT PRIMARY KEY REFERENCES code (code),
    sequence INTEGER NOT NULL,
    planned TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE study_cell (
    study TEXT NOT NULL REFERENCES study (code),
    cell TEXT NOT NULL REFERENCES cell (code),
    sequence INTEGER NOT NULL,
    PRIMARY KEY (study, cell)
) STRICT, WITHOUT ROWID;
CREATE TABLE study_look (
    sequence INTEGER PRIMARY KEY,
    study TEXT NOT NULL REFERENCES study (code),
    looked TEXT NOT NULL
) STRICT;
";

/// Refuses what is no plan, cells of something else, and cells twice.
pub(super) fn check(connection: &Connection, event: &Event) -> Result<(), BookError> {
    match event {
        Event::StudyPlanned(planned) => check_planned(planned),
        Event::StudyAssigned(assigned) => check_assigned(connection, assigned),
        Event::StudyLooked(looked) => required(connection, &looked.study).map(|_| ()),
        _ => Ok(()),
    }
}

fn check_planned(planned: &Planned) -> Result<(), BookError> {
    let names: Vec<&str> = planned.electrolytes.iter().map(|studied| studied.name.as_str()).collect();
    let twice = (1..names.len()).find(|&at| names[..at].contains(&names[at])).map(|at| names[at]);
    let (each, blocks) = (planned.per_electrolyte as usize, planned.blocks.len());
    if names.len() < 2 {
        return Err(refused("a study compares two electrolytes or more", "Name each with --electrolyte."));
    }
    if let Some(name) = twice {
        return Err(refused(format!("two electrolytes are called {name:?}"), "Give one another name=."));
    }
    for (at, studied) in planned.electrolytes.iter().enumerate() {
        let others = &planned.electrolytes[..at];
        let shared =
            studied.batches.iter().find(|batch| others.iter().any(|other| other.batches.contains(batch)));
        if let Some(batch) = shared {
            let what = format!("{batch} would belong to two electrolytes");
            return Err(refused(what, "Name each batch once."));
        }
        if let Some(batch) = studied.batches.iter().find(|batch| !batch.kind().is_batch()) {
            return Err(BookError::WrongKind {
                code: batch.clone(),
                is: batch.kind().words(),
                wanted: "batch",
            });
        }
    }
    if blocks == 0 || each == 0 || each % blocks != 0 {
        let what =
            format!("{each} cells of each electrolyte can't be shared equally between {blocks} blocks");
        return Err(refused(what, "Plan as many blocks as divide the number of cells."));
    }
    if planned.baseline.as_ref().is_some_and(|baseline| !names.contains(&baseline.as_str())) {
        let what =
            format!("{:?} is none of the electrolytes", planned.baseline.as_deref().unwrap_or_default());
        return Err(refused(what, &format!("They are {}.", names.join(", "))));
    }
    if planned.confidence <= 0.0 || 1.0 <= planned.confidence {
        return Err(refused("a confidence lies between 0 and 1", "Write it like 0.95."));
    }
    Ok(())
}

fn check_assigned(connection: &Connection, assigned: &Assigned) -> Result<(), BookError> {
    let (_, planned) = required(connection, &assigned.study)?;
    for (at, code) in assigned.cells.iter().enumerate() {
        let cell = cell::required(connection, code)?;
        if planned.electrolyte_of(&cell, &|batch| recipe(connection, batch)).is_none() {
            let what = format!("{code} does not hold one of the electrolytes of {}", assigned.study);
            let hint = format!("See them with: meltbook study show {}.", assigned.study);
            return Err(refused(what, &hint));
        }
        let there: Option<u64> = connection
            .prepare_cached("SELECT sequence FROM study_cell WHERE study = ?1 AND cell = ?2")?
            .query_row([assigned.study.to_string(), code.to_string()], |row| row.get(0))
            .optional()?;
        if there.is_some() || assigned.cells[..at].contains(code) {
            let what = format!("{code} is in {} already", assigned.study);
            return Err(refused(what, "Name only those that are not."));
        }
    }
    Ok(())
}

/// What a batch was made from, as its plan or blend is called; what can't be read has none.
fn recipe(connection: &Connection, batch: &Code) -> Option<String> {
    let mut select = connection.prepare_cached("SELECT name FROM batch WHERE code = ?1").ok()?;
    select.query_row([batch.to_string()], |row| row.get(0)).ok()
}

/// A study that must be there, and its entry.
fn required(connection: &Connection, code: &Code) -> Result<(u64, Planned), BookError> {
    if code.kind() != CodeKind::Study {
        return Err(BookError::WrongKind { code: code.clone(), is: code.kind().words(), wanted: "study" });
    }
    let found: Option<(u64, String)> = connection
        .prepare_cached("SELECT sequence, planned FROM study WHERE code = ?1")?
        .query_row([code.to_string()], |row| Ok((row.get(0)?, row.get(1)?)))
        .optional()?;
    let Some((entry, planned)) = found else {
        super::projection::require(connection, code)?;
        return Err(BookError::UnknownCode(code.clone()));
    };
    Ok((entry, serde_json::from_str(&planned)?))
}

/// Puts an event into the tables; one of another noun changes nothing here.
pub(super) fn apply(connection: &Connection, sequence: u64, event: &Event) -> Result<(), BookError> {
    match event {
        Event::StudyPlanned(planned) => {
            connection
                .prepare_cached("INSERT INTO study (code, sequence, planned) VALUES (?1, ?2, ?3)")?
                .execute(params![planned.code.to_string(), sequence, serde_json::to_string(planned)?])?;
        }
        Event::StudyAssigned(assigned) => {
            // A correction may name a cell again: it is in the study once, by the first entry that says so.
            let mut insert = connection.prepare_cached(
                "INSERT OR IGNORE INTO study_cell (study, cell, sequence) VALUES (?1, ?2, ?3)",
            )?;
            for code in &assigned.cells {
                insert.execute(params![assigned.study.to_string(), code.to_string(), sequence])?;
            }
        }
        Event::StudyLooked(looked) => {
            connection
                .prepare_cached("INSERT INTO study_look (sequence, study, looked) VALUES (?1, ?2, ?3)")?
                .execute(params![sequence, looked.study.to_string(), serde_json::to_string(looked)?])?;
        }
        _ => {}
    }
    Ok(())
}

/// One study.
///
/// # Errors
/// If the book has none of this code.
pub fn study(book: &Book, code: &Code) -> Result<Study, BookError> {
    let connection = book.connection();
    let (entry, planned) = required(connection, code)?;
    let (written, author) = stamp(connection, entry)?;
    Ok(Study {
        entry,
        written: time(&written)?,
        author,
        cells: cells(connection, code)?,
        looks: looks(connection, code)?,
        planned,
    })
}

/// Every study, in the order of the codes.
///
/// # Errors
/// If the database can't be read.
pub fn studies(book: &Book) -> Result<Vec<Study>, BookError> {
    let mut select = book
        .connection()
        .prepare("SELECT s.code FROM study s JOIN code c ON c.code = s.code ORDER BY c.number")?;
    let codes = select.query_map([], |row| row.get(0))?.collect::<rusqlite::Result<Vec<String>>>()?;
    codes.iter().map(|code| study(book, &code.parse().map_err(|_| unreadable("code", code))?)).collect()
}

fn stamp(connection: &Connection, entry: u64) -> Result<(String, String), BookError> {
    let mut select = connection.prepare_cached("SELECT time, author FROM entry WHERE sequence = ?1")?;
    Ok(select.query_row([entry], |row| Ok((row.get(0)?, row.get(1)?)))?)
}

fn cells(connection: &Connection, study: &Code) -> Result<Vec<(Code, u64)>, BookError> {
    let mut select = connection.prepare_cached(
        "SELECT s.cell, s.sequence FROM study_cell s JOIN code c ON c.code = s.cell
         WHERE s.study = ?1 ORDER BY c.number",
    )?;
    let rows = select.query_map([study.to_string()], |row| Ok((row.get(0)?, row.get(1)?)))?;
    let rows = rows.collect::<rusqlite::Result<Vec<(String, u64)>>>()?;
    rows.into_iter()
        .map(|(code, entry)| Ok((code.parse().map_err(|_| unreadable("code", &code))?, entry)))
        .collect()
}

fn looks(connection: &Connection, study: &Code) -> Result<Vec<Look>, BookError> {
    let mut select = connection.prepare_cached(
        "SELECT l.sequence, e.author, l.looked FROM study_look l JOIN entry e ON e.sequence = l.sequence
         WHERE l.study = ?1 ORDER BY l.sequence",
    )?;
    let rows = select.query_map([study.to_string()], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    let rows = rows.collect::<rusqlite::Result<Vec<(u64, String, String)>>>()?;
    rows.into_iter()
        .map(|(entry, author, looked)| {
            let looked: Looked = serde_json::from_str(&looked)?;
            Ok(Look { entry, author, looked })
        })
        .collect()
}

fn refused(what: impl Into<String>, hint: &str) -> BookError {
    BookError::Refused { what: what.into(), hint: hint.to_owned() }
}
