//! Correcting and striking: what may be changed, and what a change makes doubtful.

use std::collections::BTreeSet;

use rusqlite::Connection;

use super::error::BookError;
use super::journal;
use super::projection::Changes;
use super::recheck::{Brought, recheck};
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
    /// What is against it now and was not before, in words.
    pub against: Option<String>,
}

/// Why something is changed.
#[derive(Debug, Clone, Copy)]
pub struct Why<'w> {
    /// What was wrong.
    pub reason: &'w str,
    /// Why it is changed although a bottle or batch then holds less than nothing.
    pub in_spite: Option<&'w str>,
}

impl<'w> From<&'w str> for Why<'w> {
    fn from(reason: &'w str) -> Self {
        Self { reason, in_spite: None }
    }
}

impl Why<'_> {
    fn in_spite(&self) -> Option<String> {
        self.in_spite.map(str::trim).filter(|why| !why.is_empty()).map(str::to_owned)
    }
}

/// The correction of an entry, if it may be corrected to this event.
pub(super) fn correction(
    connection: &Connection,
    sequence: u64,
    event: &Event,
    why: Why<'_>,
) -> Result<Corrected, BookError> {
    require_reason(why.reason)?;
    let old = decoded(&required(connection, sequence)?)?;
    refuse_change_of_change(sequence, &old)?;
    refuse_change_of_look(sequence, &old)?;
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
    Ok(Corrected {
        entry: sequence,
        version: encoded.version,
        payload,
        reason: why.reason.to_owned(),
        in_spite: why.in_spite(),
    })
}

/// The strike of an entry, if nothing stands on it.
pub(super) fn strike(connection: &Connection, sequence: u64, why: Why<'_>) -> Result<Struck, BookError> {
    require_reason(why.reason)?;
    let event = decoded(&required(connection, sequence)?)?;
    if matches!(event, Event::Begun(_) | Event::Struck(_)) {
        let what = format!("entry {sequence} can't be struck: it is a {}", event.kind());
        return Err(refused(what, "Record what was withdrawn by mistake again."));
    }
    refuse_change_of_look(sequence, &event)?;
    refuse_struck(connection, sequence)?;
    let on_it = standing_on(connection, sequence, &event)?;
    if !on_it.is_empty() {
        return Err(BookError::StandsOn { entry: sequence, on_it });
    }
    Ok(Struck { entry: sequence, reason: why.reason.to_owned(), in_spite: why.in_spite() })
}

/// The entry whose values a change of this one changes: striking a correction brings back what was corrected.
pub(super) fn affected(connection: &Connection, sequence: u64) -> Result<u64, BookError> {
    match decoded(&required(connection, sequence)?)? {
        Event::Corrected(correction) => Ok(correction.entry),
        _ => Ok(sequence),
    }
}

/// What a change brought about in the limits of the changed entry and of the later ones. `before` are the
/// changes that stood without it.
///
/// # Errors
/// If the entry itself is against a limit now, or a code holds less than nothing and nobody says why.
pub(super) fn checked_again(
    connection: &Connection,
    before: &Changes,
    sequence: u64,
    why: Why<'_>,
) -> Result<Brought, BookError> {
    let after = recheck(connection, &Changes::read(connection)?, sequence)?;
    let before = if after.is_clean() { None } else { Some(recheck(connection, before, sequence)?) };
    let mut brought = match &before {
        Some(before) => after.brought(before, sequence),
        None => Brought::default(),
    };
    match brought.own.take() {
        Some(BookError::NeedsReason { what }) => return Err(BookError::CorrectedNeedsReason { what }),
        Some(other) => return Err(other),
        None => {}
    }
    match brought.below.first() {
        Some(below) if why.in_spite().is_none() => Err(BookError::BelowNothing {
            code: below.code.clone(),
            missing_g: -below.grams,
            entry: below.entry,
        }),
        _ => Ok(brought),
    }
}

/// Later entries about the same codes as a changed one, and those that are against a limit now.
pub(super) fn doubts(
    connection: &Connection,
    sequence: u64,
    brought: &Brought,
) -> Result<Vec<Doubt>, BookError> {
    let about = codes(&decoded(&required(connection, sequence)?)?);
    let mut doubts = Vec::new();
    each_standing(connection, |entry, event| {
        let shared: Vec<Code> = codes(event).intersection(&about).cloned().collect();
        let against = brought.later.get(&entry.sequence).cloned();
        if sequence < entry.sequence && (against.is_some() || !shared.is_empty()) {
            doubts.push(Doubt { entry: entry.sequence, kind: entry.kind.clone(), codes: shared, against });
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

/// What was seen can't be unseen.
fn refuse_change_of_look(sequence: u64, event: &Event) -> Result<(), BookError> {
    if !matches!(event, Event::StudyLooked(_)) {
        return Ok(());
    }
    let what = format!("entry {sequence} is a look at a study's data, which can't be taken back");
    Err(refused(what, "Nothing is left to do; the comparison counts it."))
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
