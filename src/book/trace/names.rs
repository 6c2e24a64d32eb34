//! Names that can be suspected, and what there is to choose from.

use jiff::Timestamp;
use rusqlite::Connection;

use crate::book::error::BookError;
use crate::book::open::Book;
use crate::record::graph::Suspect;
use crate::record::{Code, CodeKind};

/// Where the names of one kind stand: whether there is one, and which there are.
struct Names {
    suspect: fn(String) -> Suspect,
    one: &'static str,
    all: &'static str,
}

const NAMES: [Names; 5] = [
    Names {
        suspect: Suspect::Lot,
        one: "SELECT EXISTS (SELECT 1 FROM bottle WHERE supplier_lot = ?1)",
        all: "SELECT DISTINCT supplier_lot FROM bottle WHERE supplier_lot IS NOT NULL",
    },
    Names {
        suspect: Suspect::Instrument,
        one: "SELECT EXISTS (SELECT 1 FROM touch WHERE instrument = ?1)",
        all: "SELECT DISTINCT instrument FROM touch WHERE instrument IS NOT NULL",
    },
    Names {
        suspect: Suspect::Balance,
        one: "SELECT EXISTS (SELECT 1 FROM touch WHERE balance = ?1)",
        all: "SELECT DISTINCT balance FROM touch WHERE balance IS NOT NULL",
    },
    Names {
        suspect: Suspect::Author,
        one: "SELECT EXISTS (SELECT 1 FROM touch WHERE author = ?1)",
        all: "SELECT DISTINCT author FROM touch",
    },
    Names {
        suspect: Suspect::Author,
        one: "SELECT EXISTS (SELECT 1 FROM cell_set WHERE operator = ?1)",
        all: "SELECT DISTINCT operator FROM cell_set WHERE operator IS NOT NULL",
    },
];

/// Everything that the book knows by this very name: a lot, an instrument, a balance, an author. More than one
/// if the name is that of several.
///
/// # Errors
/// If the book can't be read.
pub fn suspects_named(book: &Book, name: &str) -> Result<Vec<Suspect>, BookError> {
    let mut found = Vec::new();
    for names in &NAMES {
        let mut select = book.connection().prepare_cached(names.one)?;
        let suspect = (names.suspect)(name.to_owned());
        if select.query_row([name], |row| row.get::<_, bool>(0))? && !found.contains(&suspect) {
            found.push(suspect);
        }
    }
    Ok(found)
}

/// All names that can be suspected.
///
/// # Errors
/// If the book can't be read.
pub fn known_suspects(book: &Book) -> Result<Vec<Suspect>, BookError> {
    let mut all = Vec::new();
    for names in &NAMES {
        for name in texts(book.connection(), names.all)? {
            let suspect = (names.suspect)(name);
            if !all.contains(&suspect) {
                all.push(suspect);
            }
        }
    }
    Ok(all)
}

fn texts(connection: &Connection, sql: &str) -> Result<Vec<String>, BookError> {
    let mut select = connection.prepare_cached(sql)?;
    let texts = select.query_map([], |row| row.get(0))?;
    Ok(texts.collect::<rusqlite::Result<_>>()?)
}

/// The last code of a kind that the book has given, if any.
///
/// # Errors
/// If the book can't be read.
pub fn last_code(book: &Book, kind: CodeKind) -> Result<Option<Code>, BookError> {
    let mut select = book.connection().prepare_cached("SELECT max(number) FROM code WHERE kind = ?1")?;
    let last: Option<u32> = select.query_row([kind.words()], |row| row.get(0))?;
    Ok(last.map(|number| Code::new(kind, number)))
}

/// When the first and the last of what is recorded happened.
///
/// # Errors
/// If the book can't be read.
pub fn days(book: &Book) -> Result<Option<(Timestamp, Timestamp)>, BookError> {
    let mut select = book.connection().prepare_cached("SELECT min(at), max(at) FROM touch")?;
    let (first, last): (Option<i64>, Option<i64>) =
        select.query_row([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    let time = |seconds: Option<i64>| Timestamp::from_second(seconds?).ok();
    Ok(time(first).zip(time(last)))
}
