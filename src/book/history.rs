//! The history: who wrote what, when, and what was changed later.

use std::collections::BTreeMap;

use super::error::BookError;
use super::journal;
use super::open::Book;
use crate::record::{Code, Event, Hash};

/// One entry of the history.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryLine {
    /// Its sequence.
    pub sequence: u64,
    /// When it was written.
    pub time: String,
    /// By whom.
    pub author: String,
    /// The kind.
    pub kind: String,
    /// The codes that it is about.
    pub codes: Vec<Code>,
    /// The payload as it was written.
    pub payload: String,
    /// Its hash.
    pub hash: Hash,
    /// What later entries say of it: (sequence, "corrected" or "struck", reason).
    pub changes: Vec<(u64, String, String)>,
}

/// Every entry in order.
///
/// # Errors
/// If an entry can't be read.
pub fn history(book: &Book) -> Result<Vec<HistoryLine>, BookError> {
    let mut changes = changes(book)?;
    let mut lines = Vec::new();
    journal::for_each(book.connection(), |entry| {
        let event = Event::decode(&entry.kind, entry.version, &entry.payload)
            .map_err(|error| BookError::Entry { sequence: entry.sequence, error })?;
        let mut codes = event.creates();
        codes.extend(event.uses());
        lines.push(HistoryLine {
            sequence: entry.sequence,
            codes,
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

type ChangesOf = BTreeMap<u64, Vec<(u64, String, String)>>;

fn changes(book: &Book) -> Result<ChangesOf, BookError> {
    let mut select =
        book.connection().prepare("SELECT entry, sequence, what, reason FROM change ORDER BY sequence")?;
    let mut rows = select.query([])?;
    let mut changes = ChangesOf::new();
    while let Some(row) = rows.next()? {
        changes.entry(row.get(0)?).or_default().push((row.get(1)?, row.get(2)?, row.get(3)?));
    }
    Ok(changes)
}
