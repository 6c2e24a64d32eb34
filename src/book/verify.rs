//! Verifying: is everything as it was written?

use std::path::Path;

use rusqlite::Connection;
use rusqlite::types::Value;

use super::error::BookError;
use super::files::{FILES, INCOMING, hash_of};
use super::open::Book;
use super::{journal, projection, schema};
use crate::record::{Event, Hash};

/// Something that is not as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// Where: "entry 12", "table bottle", "files/…".
    pub place: String,
    /// What is wrong there.
    pub what: String,
}

/// What was looked at and what was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verification {
    /// Entries read.
    pub entries: u64,
    /// Files read.
    pub files: u64,
    /// Hash of the last entry: compare it with a print to see that no entry is missing at the end.
    pub head: Hash,
    /// What is wrong; empty if nothing was found.
    pub findings: Vec<Finding>,
}

impl Book {
    /// Reads everything and compares it with what the chain, a replay and the files' names say.
    ///
    /// # Errors
    /// Only if it can't even be read.
    pub fn verify(&self) -> Result<Verification, BookError> {
        let mut findings = database(self.connection())?;
        let (entries, head, chain) = chain(self.connection(), self.id())?;
        let whole = chain.is_empty();
        findings.extend(chain);
        if whole {
            findings.extend(projections(self.connection())?);
        }
        let folder = self.folder().join(FILES);
        let files = files(&folder, &mut findings)?;
        findings.extend(missing(self.connection(), &folder)?);
        Ok(Verification { entries, files, head, findings })
    }
}

fn finding(place: impl Into<String>, what: impl Into<String>) -> Finding {
    Finding { place: place.into(), what: what.into() }
}

/// SQLite's own check, and the definitions of tables and triggers.
fn database(connection: &Connection) -> Result<Vec<Finding>, BookError> {
    let mut findings = Vec::new();
    let mut check = connection.prepare("PRAGMA integrity_check")?;
    let lines = check.query_map([], |row| row.get::<_, String>(0))?.collect::<rusqlite::Result<Vec<_>>>()?;
    findings.extend(lines.into_iter().filter(|line| line != "ok").map(|line| finding("book.sqlite", line)));
    let (expected, found) = (schema::expected()?, schema::definitions(connection)?);
    for (name, sql) in &expected {
        match found.iter().find(|(other, _)| other == name) {
            None => findings.push(finding(name.as_str(), "is missing from the database")),
            Some((_, other)) if other != sql => findings.push(finding(name.as_str(), "is defined otherwise")),
            Some(_) => {}
        }
    }
    let strangers = found.iter().filter(|(name, _)| expected.iter().all(|(other, _)| other != name));
    findings.extend(strangers.map(|(name, _)| finding(name.as_str(), "does not belong into the database")));
    Ok(findings)
}

/// Each entry against its own hash and the one before.
fn chain(connection: &Connection, book: &str) -> Result<(u64, Hash, Vec<Finding>), BookError> {
    let (mut last, mut previous) = (0, Hash::ZERO);
    let mut findings = Vec::new();
    journal::for_each(connection, |entry| {
        let mut note = |what: &str| findings.push(finding(format!("entry {}", entry.sequence), what));
        if entry.sequence != last + 1 {
            note("does not follow the one before it");
        }
        if entry.previous != previous {
            note("names another entry before it");
        }
        if !entry.is_whole() {
            note("was changed: its hash is not that of its content");
        }
        if entry.book != book {
            note("belongs to another book");
        }
        if let Err(error) = Event::decode(&entry.kind, entry.version, &entry.payload) {
            note(&error.to_string());
        }
        (last, previous) = (entry.sequence, entry.hash);
        Ok(())
    })?;
    Ok((last, previous, findings))
}

/// Every projection against a replay of the journal.
fn projections(connection: &Connection) -> Result<Vec<Finding>, BookError> {
    let fresh = Connection::open_in_memory()?;
    projection::create(&fresh)?;
    projection::fill(connection, &fresh)?;
    let mut findings = Vec::new();
    for table in projection::TABLES {
        match (rows(connection, table), rows(&fresh, table)) {
            (Ok(stored), Ok(replayed)) if stored == replayed => {}
            (Ok(stored), Ok(replayed)) => {
                let odd = stored.iter().filter(|row| !replayed.contains(row)).count();
                let missing = replayed.iter().filter(|row| !stored.contains(row)).count();
                let what = format!(
                    "differs from a replay of the journal: {odd} rows are not in it, {missing} rows of it are missing"
                );
                findings.push(finding(format!("table {table}"), what));
            }
            (Err(error), _) | (_, Err(error)) => {
                findings.push(finding(format!("table {table}"), error.to_string()))
            }
        }
    }
    Ok(findings)
}

/// All rows of a table in an order that does not depend on how they were stored.
fn rows(connection: &Connection, table: &str) -> rusqlite::Result<Vec<String>> {
    // The name comes from the list of projections.
    let mut select = connection.prepare(&format!("SELECT * FROM {table}"))?;
    let columns = select.column_count();
    let text = |row: &rusqlite::Row<'_>| {
        let values = (0..columns).map(|index| row.get::<_, Value>(index));
        values.collect::<rusqlite::Result<Vec<_>>>().map(|values| format!("{values:?}"))
    };
    let mut rows = select.query_map([], text)?.collect::<rusqlite::Result<Vec<_>>>()?;
    rows.sort_unstable();
    Ok(rows)
}

/// Files that entries name and that are not there.
fn missing(connection: &Connection, folder: &Path) -> Result<Vec<Finding>, BookError> {
    let mut findings = Vec::new();
    journal::for_each(connection, |entry| {
        // What can't be read was found before.
        let named = Event::decode(&entry.kind, entry.version, &entry.payload).map(|event| event.files());
        for hash in named.unwrap_or_default() {
            if !folder.join(hash.to_string()).is_file() {
                let what = format!("is missing: entry {} names it", entry.sequence);
                findings.push(finding(format!("{FILES}/{hash}"), what));
            }
        }
        Ok(())
    })?;
    Ok(findings)
}

/// Every file against its name.
fn files(folder: &Path, findings: &mut Vec<Finding>) -> Result<u64, BookError> {
    let mut count = 0;
    let mut paths: Vec<_> = match std::fs::read_dir(folder) {
        Ok(entries) => entries.flatten().map(|entry| entry.path()).collect(),
        Err(error) => {
            findings.push(finding(FILES, error.to_string()));
            Vec::new()
        }
    };
    paths.sort();
    for path in paths {
        let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        match Hash::from_hex(&name) {
            Some(hash) if hash_of(&path)? == hash => count += 1,
            Some(_) => {
                findings.push(finding(format!("{FILES}/{name}"), "was changed: its bytes have another hash"))
            }
            None => {
                let what = if name.starts_with(INCOMING) {
                    "was left over when taking in a file was cut off; it may be removed"
                } else {
                    "is no file of the book"
                };
                findings.push(finding(format!("{FILES}/{name}"), what));
            }
        }
    }
    Ok(count)
}
