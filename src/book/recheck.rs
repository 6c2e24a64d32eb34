//! What a change of an earlier entry does to the limits that were checked when it and the later entries were
//! written: the journal is replayed elsewhere, and each entry is checked as if it were written now.

use std::collections::BTreeMap;

use rusqlite::Connection;

use super::error::BookError;
use super::projection::{self, Changes};
use crate::record::Code;

/// Less than this below nothing is the dust of a sum, in grams.
const DUST_G: f64 = 1e-9;

/// What stands against entries, and what holds less than nothing.
pub(super) struct Recheck {
    /// What is against an entry, by its sequence.
    against: BTreeMap<u64, BookError>,
    /// The lowest that a code ever held, in grams, and the entry after which that was so; only what is below
    /// nothing.
    below: BTreeMap<String, (f64, u64)>,
}

/// What a change brought about that was not so before.
#[derive(Default)]
pub(super) struct Brought {
    /// What is against the changed entry itself.
    pub(super) own: Option<BookError>,
    /// What is against later entries, in words.
    pub(super) later: BTreeMap<u64, String>,
    /// What holds less than nothing now.
    pub(super) below: Vec<Below>,
}

/// A code that holds less than nothing.
pub(super) struct Below {
    pub(super) code: Code,
    /// How much, in grams; negative.
    pub(super) grams: f64,
    /// The entry that takes it there.
    pub(super) entry: u64,
}

/// Checks again what was written from an entry on, as the journal of `source` stands with these changes.
pub(super) fn recheck(source: &Connection, changes: &Changes, from: u64) -> Result<Recheck, BookError> {
    let fresh = Connection::open_in_memory()?;
    projection::create(&fresh)?;
    let mut against = BTreeMap::new();
    let filled = projection::fill_checking(source, &fresh, changes, |sequence, event| {
        if from <= sequence
            && let Err(error) = projection::check(&fresh, event)
        {
            if !error.is_input() {
                return Err(error);
            }
            against.insert(sequence, error);
        }
        Ok(())
    });
    match filled {
        Ok(()) => Ok(Recheck { against, below: below(&fresh)? }),
        // What can't even be put into the tables is told by the check that saw it coming.
        Err((sequence, error)) => Err(against.remove(&sequence).unwrap_or(error)),
    }
}

fn below(connection: &Connection) -> Result<BTreeMap<String, (f64, u64)>, BookError> {
    let mut select = connection.prepare(
        "SELECT code, min(held), sequence FROM (
             SELECT code, sequence, sum(grams) OVER (PARTITION BY code ORDER BY sequence, rowid) AS held
             FROM movement)
         GROUP BY code HAVING min(held) < ?1",
    )?;
    let rows = select.query_map([-DUST_G], |row| Ok((row.get(0)?, (row.get(1)?, row.get(2)?))))?;
    Ok(rows.collect::<rusqlite::Result<_>>()?)
}

impl Recheck {
    /// True if nothing is against any entry and nothing is below nothing.
    pub(super) fn is_clean(&self) -> bool {
        self.against.is_empty() && self.below.is_empty()
    }

    /// What of this was not so before, for a change of `entry`.
    pub(super) fn brought(mut self, before: &Self, entry: u64) -> Brought {
        let told = |sequence: &u64| before.against.get(sequence).map(ToString::to_string);
        self.against.retain(|sequence, error| told(sequence).as_ref() != Some(&error.to_string()));
        self.below.retain(|code, _| !before.below.contains_key(code));
        let own = self.against.remove(&entry);
        let below = self
            .below
            .into_iter()
            .filter_map(|(code, (grams, entry))| Some(Below { code: code.parse().ok()?, grams, entry }));
        Brought {
            own,
            below: below.collect(),
            later: self.against.into_iter().map(|(sequence, error)| (sequence, error.to_string())).collect(),
        }
    }
}
