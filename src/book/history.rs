//! The history: who wrote what, when, and what was changed later.

use std::collections::{BTreeMap, BTreeSet};

use rusqlite::Connection;

use super::error::BookError;
use super::journal;
use super::open::Book;
use super::projection::{Changes, require};
use super::write::Writer;
use crate::record::{ChangeOf, Code, Event, HistoryLine};

/// Every entry in order.
///
/// # Errors
/// If an entry can't be read.
pub fn history(book: &Book) -> Result<Vec<HistoryLine>, BookError> {
    let mut changes = changes(book.connection())?;
    let mut lines = Vec::new();
    journal::for_each(book.connection(), |entry| {
        let event = Event::decode(&entry.kind, entry.version, &entry.payload)
            .map_err(|error| BookError::Entry { sequence: entry.sequence, error })?;
        lines.push(HistoryLine {
            sequence: entry.sequence,
            codes: codes(&event),
            event,
            payload: String::from_utf8_lossy(&entry.payload).into_owned(),
            changes: changes.remove(&entry.sequence).unwrap_or_default(),
            time: entry.time,
            author: entry.author,
            kind: entry.kind,
            hash: entry.hash,
        });
        Ok(())
    })?;
    Ok(lines)
}

/// Who wrote the entry that made a code.
///
/// # Errors
/// If the book has no such code, or it was struck.
pub fn author_of(book: &Book, code: &Code) -> Result<String, BookError> {
    require(book.connection(), code)?;
    let mut select = book.connection().prepare_cached(
        "SELECT e.author FROM entry e JOIN code c ON c.sequence = e.sequence WHERE c.code = ?1",
    )?;
    Ok(select.query_row([code.to_string()], |row| row.get(0))?)
}

impl Book {
    /// The entry whose hash begins with these hexadecimal digits, if there is exactly one.
    ///
    /// # Errors
    /// If the database can't be read.
    pub fn entry_of_hash(&self, digits: &str) -> Result<Option<u64>, BookError> {
        let wanted = digits.trim().to_ascii_lowercase();
        let mut select = self
            .connection()
            .prepare("SELECT sequence FROM entry WHERE substr(lower(hex(hash)), 1, ?1) = ?2")?;
        let length = i64::try_from(wanted.len()).unwrap_or(i64::MAX);
        let found = select
            .query_map(rusqlite::params![length, wanted], |row| row.get(0))?
            .collect::<rusqlite::Result<Vec<u64>>>()?;
        Ok(match found.as_slice() {
            [one] => Some(*one),
            _ => None,
        })
    }
}

impl Writer<'_> {
    /// What an entry says as it stands: its latest correction, or itself.
    ///
    /// # Errors
    /// If there is no such entry or it can't be read.
    pub fn standing(&self, sequence: u64) -> Result<Event, BookError> {
        let connection = self.connection();
        let entry = journal::entry(connection, sequence)?.ok_or(BookError::UnknownEntry(sequence))?;
        let changes = Changes::read(connection)?;
        let decoded = match changes.corrected.get(&sequence) {
            Some((version, payload)) => Event::decode(&entry.kind, *version, payload.as_bytes()),
            None => Event::decode(&entry.kind, entry.version, &entry.payload),
        };
        decoded.map_err(|error| BookError::Entry { sequence, error })
    }

    /// What is left of every code, in grams.
    ///
    /// # Errors
    /// If the database can't be read.
    pub fn amounts(&self) -> Result<BTreeMap<String, f64>, BookError> {
        let mut select = self.connection().prepare("SELECT code, sum(grams) FROM movement GROUP BY code")?;
        let rows = select.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.collect::<rusqlite::Result<_>>()?)
    }
}

/// The codes that an event makes and uses, each once.
fn codes(event: &Event) -> Vec<Code> {
    let mut seen = BTreeSet::new();
    event.creates().into_iter().chain(event.uses()).filter(|code| seen.insert(code.clone())).collect()
}

type ChangesOf = BTreeMap<u64, Vec<ChangeOf>>;

fn changes(connection: &Connection) -> Result<ChangesOf, BookError> {
    let mut select =
        connection.prepare("SELECT entry, sequence, what, reason FROM change ORDER BY sequence")?;
    let mut rows = select.query([])?;
    let mut changes = ChangesOf::new();
    while let Some(row) = rows.next()? {
        let change = ChangeOf { sequence: row.get(1)?, what: row.get(2)?, reason: row.get(3)? };
        changes.entry(row.get(0)?).or_default().push(change);
    }
    Ok(changes)
}
