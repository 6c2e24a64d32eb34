//! Reading batches.

use rusqlite::{Connection, OptionalExtension as _, Row};
use serde::de::DeserializeOwned;

use super::batch::status;
use super::error::BookError;
use super::open::Book;
use super::write::Writer;
use crate::record::Code;
use crate::record::batch::{Added, Blended};
use crate::record::life::{BatchLife, Movement, Origin, PutIn, Recorded};

/// The life of one batch.
///
/// # Errors
/// If the book has none of this code.
pub fn batch(book: &Book, code: &Code) -> Result<BatchLife, BookError> {
    life(book.connection(), code)
}

/// The codes of all batches, in the order of kinds and numbers.
///
/// # Errors
/// If the database can't be read.
pub fn batch_codes(book: &Book) -> Result<Vec<Code>, BookError> {
    let mut select = book
        .connection()
        .prepare("SELECT b.code FROM batch b JOIN code c ON c.code = b.code ORDER BY c.kind, c.number")?;
    let codes = select.query_map([], |row| row.get::<_, String>(0))?.collect::<rusqlite::Result<Vec<_>>>()?;
    Ok(codes.iter().filter_map(|code| code.parse().ok()).collect())
}

impl Writer<'_> {
    /// The life of one batch as it stands inside the transaction.
    ///
    /// # Errors
    /// If the book has none of this code.
    pub fn batch(&self, code: &Code) -> Result<BatchLife, BookError> {
        life(self.connection(), code)
    }
}

fn life(connection: &Connection, code: &Code) -> Result<BatchLife, BookError> {
    let status = status(connection, code)?;
    let (name, origin) = origin(connection, code)?;
    let mut life = BatchLife {
        code: code.clone(),
        name,
        status,
        put_in: blended_in(connection, code, &origin)?,
        origin,
        finished: None,
        released: None,
        rejected: None,
        water: Vec::new(),
        appearance: Vec::new(),
        properties: Vec::new(),
        movements: movements(connection, code)?,
    };
    let mut select = connection.prepare_cached(
        "SELECT sequence, what, record FROM batch_record WHERE batch = ?1 ORDER BY sequence",
    )?;
    let mut rows = select.query([code.to_string()])?;
    while let Some(row) = rows.next()? {
        put(&mut life, row)?;
    }
    Ok(life)
}

fn put(life: &mut BatchLife, row: &Row<'_>) -> Result<(), BookError> {
    let entry: u64 = row.get("sequence")?;
    let what: String = row.get("what")?;
    match what.as_str() {
        "put in" => {
            let record = record(row)?;
            life.put_in.push(Recorded { entry, what: PutIn::Component(Box::new(record)) });
        }
        "batch put in" => life.put_in.push(Recorded { entry, what: PutIn::Batch(record(row)?) }),
        "finished" => life.finished = Some(Recorded { entry, what: record(row)? }),
        "released" => life.released = Some(Recorded { entry, what: record(row)? }),
        "rejected" => life.rejected = Some(Recorded { entry, what: record(row)? }),
        "water" => life.water.push(Recorded { entry, what: record(row)? }),
        "appearance" => life.appearance.push(Recorded { entry, what: record(row)? }),
        "property" => life.properties.push(Recorded { entry, what: record(row)? }),
        _ => {}
    }
    Ok(())
}

fn record<T: DeserializeOwned>(row: &Row<'_>) -> Result<T, BookError> {
    let text: String = row.get("record")?;
    Ok(serde_json::from_str(&text)?)
}

fn origin(connection: &Connection, code: &Code) -> Result<(String, Origin), BookError> {
    let mut select = connection.prepare_cached("SELECT name, started, blended FROM batch WHERE code = ?1")?;
    let row = select.query_row([code.to_string()], |row| {
        Ok((row.get::<_, String>(0)?, row.get::<_, Option<String>>(1)?, row.get::<_, Option<String>>(2)?))
    });
    match row.optional()? {
        Some((name, Some(started), _)) => {
            Ok((name, Origin::Planned(Box::new(serde_json::from_str(&started)?))))
        }
        Some((name, None, Some(blended))) => Ok((name, Origin::Blended(serde_json::from_str(&blended)?))),
        _ => Err(BookError::UnknownCode(code.clone())),
    }
}

/// The parts of a blend as if they had been put in one by one.
fn blended_in(
    connection: &Connection,
    code: &Code,
    origin: &Origin,
) -> Result<Vec<Recorded<PutIn>>, BookError> {
    let Origin::Blended(blended) = origin else { return Ok(Vec::new()) };
    let mut select = connection.prepare_cached("SELECT sequence FROM code WHERE code = ?1")?;
    let entry: u64 = select.query_row([code.to_string()], |row| row.get(0))?;
    Ok(parts(blended, code).map(|added| Recorded { entry, what: PutIn::Batch(added) }).collect())
}

fn parts<'b>(blended: &'b Blended, code: &'b Code) -> impl Iterator<Item = Added> + 'b {
    blended.from.iter().map(|part| Added {
        batch: code.clone(),
        from: part.batch.clone(),
        mass: part.mass.clone(),
        because: blended.because.clone(),
        permit: None,
        at: blended.at,
    })
}

fn movements(connection: &Connection, code: &Code) -> Result<Vec<Movement>, BookError> {
    let mut select = connection.prepare_cached(
        "SELECT sequence, grams, reason FROM movement WHERE code = ?1 ORDER BY sequence, rowid",
    )?;
    let rows = select.query_map([code.to_string()], |row| {
        Ok(Movement { entry: row.get(0)?, grams: row.get(1)?, reason: row.get(2)? })
    })?;
    Ok(rows.collect::<rusqlite::Result<Vec<_>>>()?)
}
