//! Writing: entries are added inside one transaction, each checked and projected as it comes.

use rusqlite::{Connection, Transaction};

use super::error::BookError;
use super::{change, journal, projection};
use crate::record::{Code, CodeKind, Entry, Event, Hash};

/// Who writes, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stamp {
    /// Initials or name.
    pub author: String,
    /// UTC, RFC 3339 with milliseconds.
    pub time: String,
}

/// The one transaction that checks and writes.
pub struct Writer<'b> {
    tx: Transaction<'b>,
    book: String,
    head: (u64, Hash),
    stamp: Stamp,
}

impl<'b> Writer<'b> {
    pub(super) fn begin(tx: Transaction<'b>, book: String, head: (u64, Hash), stamp: Stamp) -> Self {
        Self { tx, book, head, stamp }
    }

    /// Adds an entry after checking its limits, and gives its sequence.
    ///
    /// # Errors
    /// If a limit is passed without a reason, or storage fails.
    pub fn append(&mut self, event: &Event) -> Result<u64, BookError> {
        projection::check(&self.tx, event)?;
        let sequence = self.add(event)?;
        projection::apply(&self.tx, sequence, &self.stamp.author, event)?;
        Ok(sequence)
    }

    /// Replaces the values of an entry and computes again what came of it. Gives what that makes doubtful.
    ///
    /// # Errors
    /// If there is no such entry, or the new values are of another kind or subject.
    pub fn correct(
        &mut self,
        entry: u64,
        event: &Event,
        reason: &str,
    ) -> Result<Vec<change::Doubt>, BookError> {
        let corrected = change::correction(&self.tx, entry, event, reason)?;
        self.add(&Event::Corrected(corrected))?;
        projection::replay(&self.tx)?;
        change::doubts(&self.tx, entry)
    }

    /// Withdraws an entry.
    ///
    /// # Errors
    /// If there is no such entry, or others stand on it.
    pub fn strike(&mut self, entry: u64, reason: &str) -> Result<u64, BookError> {
        let struck = change::strike(&self.tx, entry, reason)?;
        let sequence = self.add(&Event::Struck(struck))?;
        projection::replay(&self.tx)?;
        Ok(sequence)
    }

    /// The next code of a kind. It stays free until an entry creates it.
    ///
    /// # Errors
    /// If the database can't be read.
    pub fn next_code(&self, kind: CodeKind) -> Result<Code, BookError> {
        projection::next_code(&self.tx, kind)
    }

    /// The connection, for reading inside the transaction.
    pub fn connection(&self) -> &Connection {
        &self.tx
    }

    pub(super) fn commit(self) -> Result<(), BookError> {
        Ok(self.tx.commit()?)
    }

    fn add(&mut self, event: &Event) -> Result<u64, BookError> {
        let encoded = event.encode()?;
        let sequence = self.head.0 + 1;
        let entry = Entry::seal(
            self.book.as_str(),
            sequence,
            self.stamp.time.as_str(),
            self.stamp.author.as_str(),
            encoded.kind,
            encoded.version,
            encoded.payload,
            self.head.1,
        );
        journal::insert(&self.tx, &entry)?;
        self.head = (sequence, entry.hash);
        Ok(sequence)
    }
}
