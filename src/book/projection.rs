//! The projections: what the journal comes to, in tables that can be dropped and replayed.

use std::collections::{BTreeMap, BTreeSet};

use rusqlite::{Connection, OptionalExtension as _, params};

use super::error::BookError;
use super::{batch, bottle, cell, journal, log, reading, study};
use crate::record::{Code, CodeKind, Event};

/// Tables that every noun shares.
const SHARED: &str = "
CREATE TABLE code (
    code TEXT PRIMARY KEY,
    kind TEXT NOT NULL,
    number INTEGER NOT NULL,
    sequence INTEGER NOT NULL,
    struck INTEGER NOT NULL,
    UNIQUE (kind, number)
) STRICT, WITHOUT ROWID;
CREATE TABLE flow (
    sequence INTEGER NOT NULL,
    from_code TEXT NOT NULL,
    to_code TEXT NOT NULL,
    grams REAL
) STRICT;
CREATE INDEX flow_from ON flow (from_code, to_code);
CREATE INDEX flow_to ON flow (to_code, from_code);
CREATE TABLE movement (
    sequence INTEGER NOT NULL,
    code TEXT NOT NULL,
    grams REAL NOT NULL,
    reason TEXT NOT NULL
) STRICT;
CREATE INDEX movement_code ON movement (code);
CREATE TABLE change (
    sequence INTEGER PRIMARY KEY,
    entry INTEGER NOT NULL,
    what TEXT NOT NULL,
    reason TEXT NOT NULL
) STRICT;
CREATE INDEX change_entry ON change (entry);
CREATE TABLE touch (
    sequence INTEGER NOT NULL,
    code TEXT NOT NULL,
    what TEXT NOT NULL,
    spreads INTEGER NOT NULL,
    author TEXT NOT NULL,
    at INTEGER,
    instrument TEXT,
    balance TEXT,
    PRIMARY KEY (sequence, code)
) STRICT, WITHOUT ROWID;
CREATE INDEX touch_author ON touch (author);
CREATE INDEX touch_at ON touch (at);
CREATE INDEX touch_instrument ON touch (instrument) WHERE instrument IS NOT NULL;
CREATE INDEX touch_balance ON touch (balance) WHERE balance IS NOT NULL;
";

/// Names of all projection tables, children before parents.
pub(super) const TABLES: [&str; 17] = [
    "study_look",
    "study_cell",
    "study",
    "log_cell",
    "log",
    "reading",
    "cell_content",
    "cell",
    "cell_set",
    batch::TABLES[0],
    batch::TABLES[1],
    "bottle",
    "flow",
    "movement",
    "change",
    "touch",
    "code",
];

/// Makes the tables, empty.
pub(super) fn create(connection: &Connection) -> rusqlite::Result<()> {
    connection.execute_batch(SHARED)?;
    connection.execute_batch(bottle::TABLE)?;
    connection.execute_batch(batch::TABLE)?;
    connection.execute_batch(cell::TABLE)?;
    connection.execute_batch(reading::TABLE)?;
    connection.execute_batch(log::TABLE)?;
    connection.execute_batch(study::TABLE)
}

/// Empties every projection and fills it again from the journal.
pub(super) fn replay(connection: &Connection) -> Result<(), BookError> {
    for table in TABLES {
        // Names come from the list above and from nowhere else.
        connection.execute_batch(&format!("DROP TABLE IF EXISTS {table}"))?;
    }
    create(connection)?;
    fill(connection, connection)
}

/// Fills the empty projections of `target` from the journal of `source`.
pub(super) fn fill(source: &Connection, target: &Connection) -> Result<(), BookError> {
    let changes = Changes::read(source)?;
    fill_checking(source, target, &changes, |_, _| Ok(())).map_err(|(_, error)| error)
}

/// The same with these changes; `check` sees each event that stands before it is put in. A failure comes with
/// the entry that brought it about.
pub(super) fn fill_checking(
    source: &Connection,
    target: &Connection,
    changes: &Changes,
    mut check: impl FnMut(u64, &Event) -> Result<(), BookError>,
) -> Result<(), (u64, BookError)> {
    let mut at = 0;
    let filled = journal::for_each(source, |entry| {
        at = entry.sequence;
        let decode = |version: u16, payload: &[u8]| {
            Event::decode(&entry.kind, version, payload)
                .map_err(|error| BookError::Entry { sequence: entry.sequence, error })
        };
        let original = decode(entry.version, &entry.payload)?;
        if changes.struck.contains(&entry.sequence) {
            return original
                .creates()
                .iter()
                .try_for_each(|code| register(target, code, entry.sequence, true));
        }
        let standing = match changes.corrected.get(&entry.sequence) {
            Some((version, payload)) => decode(*version, payload.as_bytes())?,
            None => original,
        };
        check(entry.sequence, &standing)?;
        apply(target, entry.sequence, &entry.author, &standing)
    });
    filled.map_err(|error| (at, error))
}

/// What corrections and strikes say of other entries.
#[derive(Default)]
pub(super) struct Changes {
    /// Entry → version and payload of its latest correction that still stands.
    pub(super) corrected: BTreeMap<u64, (u16, String)>,
    /// Entries that were struck.
    pub(super) struck: BTreeSet<u64>,
}

impl Changes {
    pub(super) fn read(source: &Connection) -> Result<Self, BookError> {
        let mut changes = Self::default();
        let mut corrections = Vec::new();
        journal::for_each(source, |entry| {
            if !entry.kind.starts_with("entry.") {
                return Ok(());
            }
            let event = Event::decode(&entry.kind, entry.version, &entry.payload)
                .map_err(|error| BookError::Entry { sequence: entry.sequence, error })?;
            match event {
                Event::Corrected(correction) => corrections.push((entry.sequence, correction)),
                Event::Struck(strike) => {
                    changes.struck.insert(strike.entry);
                }
                _ => {}
            }
            Ok(())
        })?;
        for (sequence, correction) in corrections {
            if !changes.struck.contains(&sequence) {
                changes.corrected.insert(correction.entry, (correction.version, correction.payload));
            }
        }
        Ok(changes)
    }
}

/// Refuses an event that passes a limit.
pub(super) fn check(connection: &Connection, event: &Event) -> Result<(), BookError> {
    for code in event.uses() {
        require(connection, &code)?;
    }
    bottle::check(connection, event)?;
    batch::check(connection, event)?;
    cell::check(connection, event)?;
    reading::check(connection, event)?;
    log::check(connection, event)?;
    study::check(connection, event)
}

/// Puts an event into the projections, with the author of its entry.
pub(super) fn apply(
    connection: &Connection,
    sequence: u64,
    author: &str,
    event: &Event,
) -> Result<(), BookError> {
    for code in event.creates() {
        register(connection, &code, sequence, false)?;
    }
    for flow in event.flows() {
        let mut insert = connection.prepare_cached(
            "INSERT INTO flow (sequence, from_code, to_code, grams) VALUES (?1, ?2, ?3, ?4)",
        )?;
        insert.execute(params![sequence, flow.from.to_string(), flow.to.to_string(), flow.grams])?;
    }
    note_touches(connection, sequence, author, event)?;
    match event {
        Event::Corrected(change) => {
            note_change(connection, sequence, change.entry, "corrected", &change.reason)
        }
        Event::Struck(change) => note_change(connection, sequence, change.entry, "struck", &change.reason),
        _ => {
            bottle::apply(connection, sequence, event)?;
            batch::apply(connection, sequence, event)?;
            cell::apply(connection, sequence, event)?;
            reading::apply(connection, sequence, event)?;
            log::apply(connection, sequence, event)?;
            study::apply(connection, sequence, event)
        }
    }
}

/// Records that an amount came or went. The sum over a code is what is left of it.
pub(super) fn movement(
    connection: &Connection,
    sequence: u64,
    code: &Code,
    grams: f64,
    reason: &str,
) -> Result<(), BookError> {
    let mut insert = connection
        .prepare_cached("INSERT INTO movement (sequence, code, grams, reason) VALUES (?1, ?2, ?3, ?4)")?;
    insert.execute(params![sequence, code.to_string(), grams, reason])?;
    Ok(())
}

/// What is left of a code, in grams.
pub(super) fn left(connection: &Connection, code: &Code) -> Result<f64, BookError> {
    let mut select =
        connection.prepare_cached("SELECT coalesce(sum(grams), 0.0) FROM movement WHERE code = ?1")?;
    Ok(select.query_row([code.to_string()], |row| row.get(0))?)
}

/// The next free number of a kind: struck codes are not used again.
pub(super) fn next_code(connection: &Connection, kind: CodeKind) -> Result<Code, BookError> {
    let mut select =
        connection.prepare_cached("SELECT coalesce(max(number), 0) FROM code WHERE kind = ?1")?;
    let last: u32 = select.query_row([kind.words()], |row| row.get(0))?;
    Ok(Code::new(kind, last + 1))
}

/// Refuses a code that is not in the book or was struck.
pub(super) fn require(connection: &Connection, code: &Code) -> Result<(), BookError> {
    let mut select = connection.prepare_cached("SELECT struck FROM code WHERE code = ?1")?;
    match select.query_row([code.to_string()], |row| row.get::<_, bool>(0)).optional()? {
        Some(false) => Ok(()),
        Some(true) => Err(BookError::StruckCode(code.clone())),
        None => Err(BookError::UnknownCode(code.clone())),
    }
}

fn register(connection: &Connection, code: &Code, sequence: u64, struck: bool) -> Result<(), BookError> {
    let mut insert = connection.prepare_cached(
        "INSERT INTO code (code, kind, number, sequence, struck) VALUES (?1, ?2, ?3, ?4, ?5)",
    )?;
    insert.execute(params![code.to_string(), code.kind().words(), code.number(), sequence, struck])?;
    Ok(())
}

/// What the entry was done to, by whom, when and with what, for whoever asks what a day or a hand touched.
fn note_touches(
    connection: &Connection,
    sequence: u64,
    author: &str,
    event: &Event,
) -> Result<(), BookError> {
    let at = event.happened().map(jiff::Timestamp::as_second);
    for touch in event.touches() {
        let mut insert = connection.prepare_cached(
            "INSERT INTO touch (sequence, code, what, spreads, author, at, instrument, balance)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        )?;
        insert.execute(params![
            sequence,
            touch.code.to_string(),
            touch.what,
            touch.spreads,
            author,
            at,
            event.instrument(),
            event.balance(),
        ])?;
    }
    Ok(())
}

fn note_change(
    connection: &Connection,
    sequence: u64,
    entry: u64,
    what: &str,
    reason: &str,
) -> Result<(), BookError> {
    let mut insert = connection
        .prepare_cached("INSERT INTO change (sequence, entry, what, reason) VALUES (?1, ?2, ?3, ?4)")?;
    insert.execute(params![sequence, entry, what, reason])?;
    Ok(())
}
