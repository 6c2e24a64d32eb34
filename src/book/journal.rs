//! The journal: adding and reading entries.

use rusqlite::{Connection, OptionalExtension as _, Row};

use super::error::BookError;
use crate::record::{Entry, Hash};

/// Sequence and hash of the last entry; 0 and zeros for none.
pub(super) fn head(connection: &Connection) -> Result<(u64, Hash), BookError> {
    let mut select =
        connection.prepare_cached("SELECT sequence, hash FROM entry ORDER BY sequence DESC LIMIT 1")?;
    let head = select.query_row([], |row| Ok((row.get(0)?, Hash::from_bytes(row.get(1)?)))).optional()?;
    Ok(head.unwrap_or((0, Hash::ZERO)))
}

/// The book that the first entry names.
pub(super) fn book_id(connection: &Connection) -> Result<Option<String>, BookError> {
    Ok(connection.query_row("SELECT book FROM entry WHERE sequence = 1", [], |row| row.get(0)).optional()?)
}

/// Adds an entry.
pub(super) fn insert(connection: &Connection, entry: &Entry) -> Result<(), BookError> {
    let mut insert = connection.prepare_cached(
        "INSERT INTO entry (sequence, book, time, author, kind, version, payload, previous, hash)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
    )?;
    insert.execute(rusqlite::params![
        entry.sequence,
        entry.book,
        entry.time,
        entry.author,
        entry.kind,
        entry.version,
        entry.payload,
        entry.previous.as_bytes(),
        entry.hash.as_bytes(),
    ])?;
    Ok(())
}

/// One entry.
pub(super) fn entry(connection: &Connection, sequence: u64) -> Result<Option<Entry>, BookError> {
    let mut select = connection.prepare_cached("SELECT * FROM entry WHERE sequence = ?1")?;
    Ok(select.query_row([sequence], of_row).optional()?)
}

/// Calls `each` with every entry in order.
pub(super) fn for_each(
    connection: &Connection,
    mut each: impl FnMut(Entry) -> Result<(), BookError>,
) -> Result<(), BookError> {
    let mut select = connection.prepare("SELECT * FROM entry ORDER BY sequence")?;
    let mut rows = select.query([])?;
    while let Some(row) = rows.next()? {
        each(of_row(row)?)?;
    }
    Ok(())
}

fn of_row(row: &Row<'_>) -> rusqlite::Result<Entry> {
    Ok(Entry {
        sequence: row.get("sequence")?,
        book: row.get("book")?,
        time: row.get("time")?,
        author: row.get("author")?,
        kind: row.get("kind")?,
        version: row.get("version")?,
        payload: row.get("payload")?,
        previous: Hash::from_bytes(row.get("previous")?),
        hash: Hash::from_bytes(row.get("hash")?),
    })
}
