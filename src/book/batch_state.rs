//! What cells must know of a batch: whether it was released, and that its masses move.

use rusqlite::Connection;

use super::error::BookError;
use super::journal;
use super::projection::{Changes, movement};
use crate::record::{Code, Event};

/// What was decided of a batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Decision {
    /// Nothing yet.
    None,
    /// Released.
    Released,
    /// Rejected.
    Rejected,
}

/// The latest decision that stands.
pub(super) fn decision(connection: &Connection, batch: &Code) -> Result<Decision, BookError> {
    let struck = Changes::read(connection)?.struck;
    let mut decision = Decision::None;
    journal::for_each(connection, |entry| {
        if !matches!(entry.kind.as_str(), "batch.released" | "batch.rejected")
            || struck.contains(&entry.sequence)
        {
            return Ok(());
        }
        let event = Event::decode(&entry.kind, entry.version, &entry.payload)
            .map_err(|error| BookError::Entry { sequence: entry.sequence, error })?;
        match event {
            Event::BatchReleased(event) if event.batch == *batch => decision = Decision::Released,
            Event::BatchRejected(event) if event.batch == *batch => decision = Decision::Rejected,
            _ => {}
        }
        Ok(())
    })?;
    Ok(decision)
}

/// What was weighed into a batch is there to be used.
pub(super) fn apply(connection: &Connection, sequence: u64, event: &Event) -> Result<(), BookError> {
    match event {
        Event::BatchWeighed(event) => {
            movement(connection, sequence, &event.batch, event.mass.value.get(), "weighed in")
        }
        _ => Ok(()),
    }
}
