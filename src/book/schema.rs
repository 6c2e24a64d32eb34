//! The tables, and the settings of every connection.

use std::time::Duration;

use rusqlite::{Connection, Transaction};

/// Marks a database as a book's ("MELT").
pub(super) const APPLICATION_ID: i64 = 0x4d45_4c54;
/// Format of the journal and the projections. A book of an older format is brought up by replaying; the
/// journal itself never changes. It goes up with every change of any table: tests keep the tables of each
/// format. 1: bottles, then batches; 2: cells and readings; 3: what each entry
/// touched, and both ways of the thread in indexes; 4: logs; 5: studies.
pub(super) const FORMAT: i64 = 5;
/// How long to wait for somebody else who writes.
const PATIENCE: Duration = Duration::from_secs(10);

/// The journal: entries are added and never changed. Triggers refuse change and removal by any tool that
/// runs them; the chain of hashes shows what the others do.
const JOURNAL: &str = "
CREATE TABLE entry (
    sequence INTEGER PRIMARY KEY,
    book TEXT NOT NULL,
    time TEXT NOT NULL,
    author TEXT NOT NULL,
    kind TEXT NOT NULL,
    version INTEGER NOT NULL,
    payload BLOB NOT NULL,
    previous BLOB NOT NULL CHECK (length(previous) = 32),
    hash BLOB NOT NULL UNIQUE CHECK (length(hash) = 32)
) STRICT;
CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;
CREATE TRIGGER entry_follows_the_last BEFORE INSERT ON entry
WHEN NEW.sequence <> (SELECT coalesce(max(sequence), 0) + 1 FROM entry)
BEGIN SELECT RAISE(ABORT, 'an entry follows the last one'); END;
";

/// Sets up a connection. Triggers must fire for REPLACE too, and references hold.
pub(super) fn prepare(connection: &Connection) -> rusqlite::Result<()> {
    connection.busy_timeout(PATIENCE)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    connection.pragma_update(None, "recursive_triggers", true)?;
    connection.pragma_update(None, "synchronous", "FULL")
}

/// Makes the tables of a new book.
pub(super) fn create(tx: &Transaction<'_>) -> rusqlite::Result<()> {
    tx.pragma_update(None, "application_id", APPLICATION_ID)?;
    tx.pragma_update(None, "user_version", FORMAT)?;
    tx.execute_batch(JOURNAL)?;
    super::projection::create(tx)
}

/// The text of every table and trigger as it should stand, by name.
pub(super) fn expected() -> rusqlite::Result<Vec<(String, String)>> {
    let mut memory = Connection::open_in_memory()?;
    let tx = memory.transaction()?;
    create(&tx)?;
    tx.commit()?;
    definitions(&memory)
}

/// The text of every table and trigger as it stands, by name.
pub(super) fn definitions(connection: &Connection) -> rusqlite::Result<Vec<(String, String)>> {
    let mut select =
        connection.prepare("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name")?;
    let rows = select.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    rows.collect()
}
