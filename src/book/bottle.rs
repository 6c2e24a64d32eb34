//! Bottles: the projection, its limits, and reading it.

use rusqlite::{Connection, OptionalExtension as _, Row, params};

use super::error::BookError;
use super::open::Book;
use super::projection::{left, movement};
use crate::record::bottle::Bottle;
use crate::record::{Code, CodeKind, Event};

pub(super) const TABLE: &str = "
CREATE TABLE bottle (
    code TEXT PRIMARY KEY REFERENCES code (code),
    component TEXT NOT NULL,
    name TEXT NOT NULL,
    quality TEXT NOT NULL,
    supplier TEXT,
    supplier_lot TEXT,
    net_g REAL NOT NULL,
    price REAL,
    currency TEXT,
    received TEXT,
    expires TEXT,
    storage TEXT,
    note TEXT,
    dried_from TEXT REFERENCES bottle (code),
    opened TEXT,
    disposed TEXT,
    disposed_because TEXT
) STRICT, WITHOUT ROWID;
";

/// Refuses what a bottle can't take.
pub(super) fn check(connection: &Connection, event: &Event) -> Result<(), BookError> {
    match event {
        Event::BottleOpened(event) => {
            let row = required(connection, &event.code)?;
            refuse(row.opened.is_some(), || {
                (
                    format!("{} is open already, since {}", event.code, row.opened.unwrap_or_default()),
                    "Nothing is left to do.",
                )
            })
        }
        Event::BottleDried(event) => {
            let row = required(connection, &event.from)?;
            refuse_disposed(&row)?;
            let taken = event.taken.value.get();
            refuse(row.left_g + 1e-9 < taken, || {
                let what = format!("{} holds {:.4} g, and {taken} g is to be taken", event.from, row.left_g);
                (what, "Weigh what is left with: meltbook bottle weigh, or take less.")
            })?;
            refuse(taken + 1e-9 < event.dried.value.get(), || {
                ("the dried portion weighs more than what was taken".to_owned(), "Check the two masses.")
            })
        }
        Event::BottleWeighed(event) => refuse_disposed(&required(connection, &event.code)?),
        Event::BottleDisposed(event) => refuse_disposed(&required(connection, &event.code)?),
        _ => Ok(()),
    }
}

/// Puts an event into the table; one of another noun changes nothing here.
pub(super) fn apply(connection: &Connection, sequence: u64, event: &Event) -> Result<(), BookError> {
    match event {
        Event::BottleReceived(event) => {
            let price = event.price.as_ref();
            connection.execute(
                "INSERT INTO bottle (code, component, name, quality, supplier, supplier_lot, net_g, price, currency,
                                     received, expires, storage, note)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13)",
                params![
                    event.code.to_string(),
                    event.component.as_str(),
                    event.name,
                    serde_json::to_string(&event.quality)?,
                    event.supplier,
                    event.supplier_lot,
                    event.net.value.get(),
                    price.map(|price| price.amount),
                    price.map(|price| &price.currency),
                    event.received.to_string(),
                    event.expires.map(|date| date.to_string()),
                    event.storage,
                    event.note,
                ],
            )?;
            movement(connection, sequence, &event.code, event.net.value.get(), "received")
        }
        Event::BottleDried(event) => {
            let parent = required(connection, &event.from)?;
            let mut quality = parent.quality.clone();
            quality.moisture.clone_from(&event.moisture);
            connection.execute(
                "INSERT INTO bottle (code, component, name, quality, supplier, supplier_lot, net_g, expires, storage,
                                     dried_from, opened)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
                params![
                    event.code.to_string(),
                    parent.component,
                    parent.name,
                    serde_json::to_string(&quality)?,
                    parent.supplier,
                    parent.supplier_lot,
                    event.dried.value.get(),
                    parent.expires,
                    parent.storage,
                    event.from.to_string(),
                    event.at.to_string(),
                ],
            )?;
            movement(connection, sequence, &event.from, -event.taken.value.get(), "dried")?;
            movement(connection, sequence, &event.code, event.dried.value.get(), "dried")
        }
        Event::BottleOpened(event) => set(
            connection,
            "UPDATE bottle SET opened = ?2 WHERE code = ?1",
            &event.code,
            &event.at.to_string(),
        ),
        Event::BottleWeighed(event) => {
            let difference = event.left.value.get() - left(connection, &event.code)?;
            movement(connection, sequence, &event.code, difference, "weighed back")
        }
        Event::BottleDisposed(event) => {
            set(
                connection,
                "UPDATE bottle SET disposed = ?2 WHERE code = ?1",
                &event.code,
                &event.at.to_string(),
            )?;
            set(
                connection,
                "UPDATE bottle SET disposed_because = ?2 WHERE code = ?1",
                &event.code,
                &event.reason,
            )
        }
        _ => Ok(()),
    }
}

/// Every bottle, in the order of the codes.
///
/// # Errors
/// If the database can't be read.
pub fn bottles(book: &Book) -> Result<Vec<Bottle>, BookError> {
    let mut select = book.connection().prepare(&format!("{SELECT} ORDER BY c.number"))?;
    let rows = select.query_map([], of_row)?.collect::<rusqlite::Result<Vec<_>>>()?;
    rows.into_iter().collect()
}

/// One bottle.
///
/// # Errors
/// If the book has none of this code.
pub fn bottle(book: &Book, code: &Code) -> Result<Bottle, BookError> {
    required(book.connection(), code)
}

const SELECT: &str =
    "SELECT b.*, coalesce((SELECT sum(grams) FROM movement m WHERE m.code = b.code), 0.0) AS left_g
    FROM bottle b JOIN code c ON c.code = b.code";

/// A bottle that must be there.
pub(super) fn required(connection: &Connection, code: &Code) -> Result<Bottle, BookError> {
    if code.kind() != CodeKind::Bottle {
        let is = code.kind().words();
        return Err(BookError::WrongKind { code: code.clone(), is, wanted: "bottle" });
    }
    let mut select = connection.prepare_cached(&format!("{SELECT} WHERE b.code = ?1"))?;
    let row = select.query_row([code.to_string()], of_row).optional()?;
    row.ok_or_else(|| BookError::UnknownCode(code.clone()))?
}

fn of_row(row: &Row<'_>) -> rusqlite::Result<Result<Bottle, BookError>> {
    let price: Option<f64> = row.get("price")?;
    let currency: Option<String> = row.get("currency")?;
    let dried_from: Option<String> = row.get("dried_from")?;
    let code: String = row.get("code")?;
    let quality: String = row.get("quality")?;
    let (code, quality) = match (code.parse(), serde_json::from_str(&quality)) {
        (Ok(code), Ok(quality)) => (code, quality),
        (_, Err(error)) => return Ok(Err(error.into())),
        (Err(_), _) => {
            return Ok(Err(BookError::Refused { what: format!("{code:?} is no code"), hint: String::new() }));
        }
    };
    Ok(Ok(Bottle {
        code,
        component: row.get("component")?,
        name: row.get("name")?,
        quality,
        supplier: row.get("supplier")?,
        supplier_lot: row.get("supplier_lot")?,
        net_g: row.get("net_g")?,
        left_g: row.get("left_g")?,
        price: price.zip(currency),
        received: row.get("received")?,
        expires: row.get("expires")?,
        storage: row.get("storage")?,
        note: row.get("note")?,
        dried_from: dried_from.and_then(|code| code.parse().ok()),
        opened: row.get("opened")?,
        disposed: row.get("disposed")?,
    }))
}

fn set(connection: &Connection, sql: &'static str, code: &Code, value: &str) -> Result<(), BookError> {
    connection.prepare_cached(sql)?.execute(params![code.to_string(), value])?;
    Ok(())
}

fn refuse_disposed(row: &Bottle) -> Result<(), BookError> {
    refuse(row.disposed.is_some(), || {
        (
            format!("{} was disposed of on {}", row.code, row.disposed.as_deref().unwrap_or_default()),
            "Use another bottle.",
        )
    })
}

fn refuse(is: bool, why: impl FnOnce() -> (String, &'static str)) -> Result<(), BookError> {
    if !is {
        return Ok(());
    }
    let (what, hint) = why();
    Err(BookError::Refused { what, hint: hint.to_owned() })
}
