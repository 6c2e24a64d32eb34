//! Correcting and striking: what may be changed, and what a change makes doubtful.

use std::collections::BTreeSet;

use rusqlite::Connection;

use super::error::BookError;
use super::journal;
use super::projection::Changes;
use crate::record::change::{Corrected, Struck};
use crate::record::{Code, Entry, Event};

/// A later entry that a change makes doubtful.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Doubt {
    /// Its sequence.
    pub entry: u64,
    /// Its kind.
    pub kind: String,
    /// The codes that both are about.
    pub codes: Vec<Code>,
}

/// The correction of an entry, if it may be corrected to this event.
pub(super) fn correction(
    connection: &Connection,
    sequence: u64,
    event: &Event,
    reason: &str,
) -> Result<Corrected, BookError> {
    require_reason(reason)?;
    let old = decoded(&required(connection, sequence)?)?;
    refuse_change_of_change(sequence, &old)?;
    refuse_struck(connection, sequence)?;
    if old.kind() != event.kind() {
        let what = format!("entry {sequence} is a {}, and can't become a {}", old.kind(), event.kind());
        return Err(refused(what, "Strike it and record the right one."));
    }
    if old.creates() != event.creates() || subject(&old) != subject(event) {
        let what = format!("entry {sequence} is about other codes than its correction");
        return Err(refused(what, "Strike it and record the right one."));
    }
    let encoded = event.encode()?;
    let payload = String::from_utf8_lossy(&encoded.payload).into_owned();
    Ok(Corrected { entry: sequence, version: encoded.version, payload, reason: reason.to_owned() })
}

/// The strike of an entry, if nothing stands on it.
pub(super) fn strike(connection: &Connection, sequence: u64, reason: &str) -> Result<Struck, BookError> {
    require_reason(reason)?;
    let event = decoded(&required(connection, sequence)?)?;
    if matches!(event, Event::Begun(_) | Event::Struck(_)) {
        let what = format!("entry {sequence} can't be struck: it is a {}", event.kind());
        return Err(refused(what, "Record what was withdrawn by mistake again."));
    }
    refuse_struck(connection, sequence)?;
    let on_it = standing_on(connection, sequence, &event)?;
    if !on_it.is_empty() {
        return Err(BookError::StandsOn { entry: sequence, on_it });
    }
    Ok(Struck { entry: sequence, reason: reason.to_owned() })
}

/// Later entries about the same codes as a corrected one.
pub(super) fn doubts(connection: &Connection, sequence: u64) -> Result<Vec<Doubt>, BookError> {
    let about = codes(&decoded(&required(connection, sequence)?)?);
    let mut doubts = Vec::new();
    each_standing(connection, |entry, event| {
        let shared: Vec<Code> = codes(event).intersection(&about).cloned().collect();
        if sequence < entry.sequence && !shared.is_empty() {
            doubts.push(Doubt { entry: entry.sequence, kind: entry.kind.clone(), codes: shared });
        }
    })?;
    Ok(doubts)
}

/// Entries that use a code which exists because of this one.
fn standing_on(connection: &Connection, sequence: u64, event: &Event) -> Result<Vec<u64>, BookError> {
    let created: BTreeSet<Code> = event.creates().into_iter().collect();
    let mut on_it = Vec::new();
    if created.is_empty() {
        return Ok(on_it);
    }
    each_standing(connection, |entry, event| {
        if sequence < entry.sequence && event.uses().iter().any(|code| created.contains(code)) {
            on_it.push(entry.sequence);
        }
    })?;
    Ok(on_it)
}

/// Every entry that was not struck.
fn each_standing(connection: &Connection, mut each: impl FnMut(&Entry, &Event)) -> Result<(), BookError> {
    let struck = Changes::read(connection)?.struck;
    journal::for_each(connection, |entry| {
        if !struck.contains(&entry.sequence) {
            each(&entry, &decoded(&entry)?);
        }
        Ok(())
    })
}

fn codes(event: &Event) -> BTreeSet<Code> {
    event.creates().into_iter().chain(event.uses()).collect()
}

/// What an event is about, so that a correction can't move a record to another bottle or batch.
fn subject(event: &Event) -> Option<Code> {
    event.creates().into_iter().chain(event.uses()).next()
}

fn required(connection: &Connection, sequence: u64) -> Result<Entry, BookError> {
    journal::entry(connection, sequence)?.ok_or(BookError::UnknownEntry(sequence))
}

fn decoded(entry: &Entry) -> Result<Event, BookError> {
    Event::decode(&entry.kind, entry.version, &entry.payload)
        .map_err(|error| BookError::Entry { sequence: entry.sequence, error })
}

fn refuse_struck(connection: &Connection, sequence: u64) -> Result<(), BookError> {
    if Changes::read(connection)?.struck.contains(&sequence) {
        return Err(refused(format!("entry {sequence} was struck already"), "Nothing is left to do."));
    }
    Ok(())
}

fn refuse_change_of_change(sequence: u64, event: &Event) -> Result<(), BookError> {
    if event.is_about_the_book() {
        let what = format!("entry {sequence} is a {} and can't be corrected", event.kind());
        return Err(refused(what, "Correct the entry that it is about again, or strike the correction."));
    }
    Ok(())
}

fn require_reason(reason: &str) -> Result<(), BookError> {
    if reason.trim().is_empty() {
        return Err(refused("a change needs a reason".to_owned(), "Say why with --because \"…\"."));
    }
    Ok(())
}

fn refused(what: String, hint: &str) -> BookError {
    BookError::Refused { what, hint: hint.to_owned() }
}
