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

    /// Checks the limits of an event and writes nothing.
    ///
    /// # Errors
    /// If a limit is passed without a reason, or the database can't be read.
    pub fn check(&self, event: &Event) -> Result<(), BookError> {
        projection::check(&self.tx, event)
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

    /// Replaces the values of an entry, checks its limits as if it were written then, and computes again what
    /// came of it. Gives what that makes doubtful.
    ///
    /// # Errors
    /// If there is no such entry, the new values are of another kind or subject, they pass a limit without a
    /// reason of their own, or something then holds less than nothing and nobody says why.
    pub fn correct<'w>(
        &mut self,
        entry: u64,
        event: &Event,
        why: impl Into<change::Why<'w>>,
    ) -> Result<Vec<change::Doubt>, BookError> {
        let why = why.into();
        let corrected = change::correction(&self.tx, entry, event, why)?;
        self.change(entry, &Event::Corrected(corrected), why).map(|(_, doubts)| doubts)
    }

    /// Withdraws an entry. Gives the sequence of the strike, and what it makes doubtful.
    ///
    /// # Errors
    /// If there is no such entry, others stand on it, or something then holds less than nothing and nobody
    /// says why.
    pub fn strike<'w>(
        &mut self,
        entry: u64,
        why: impl Into<change::Why<'w>>,
    ) -> Result<(u64, Vec<change::Doubt>), BookError> {
        let why = why.into();
        let struck = change::strike(&self.tx, entry, why)?;
        self.change(entry, &Event::Struck(struck), why)
    }

    fn change(
        &mut self,
        entry: u64,
        change: &Event,
        why: change::Why<'_>,
    ) -> Result<(u64, Vec<change::Doubt>), BookError> {
        let before = projection::Changes::read(&self.tx)?;
        let affected = change::affected(&self.tx, entry)?;
        let sequence = self.add(change)?;
        let brought = change::checked_again(&self.tx, &before, affected, why)?;
        projection::replay(&self.tx)?;
        Ok((sequence, change::doubts(&self.tx, affected, &brought)?))
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
