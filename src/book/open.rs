//! Making and opening a book.

use std::path::{Path, PathBuf};

use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use super::error::BookError;
use super::write::{Stamp, Writer};
use super::{holder, journal, projection, schema};
use crate::record::change::Begun;
use crate::record::{Event, Hash};

/// The name of the database in a book's folder.
const DATABASE: &str = "book.sqlite";
/// The name of the settings in a book's folder; it marks the folder as a book.
pub(super) const SETTINGS: &str = "meltbook.toml";

/// An open book.
pub struct Book {
    folder: PathBuf,
    connection: Connection,
    id: String,
}

impl Book {
    /// Makes a book in a folder that is empty or not there yet, and opens it.
    ///
    /// `id` is any text that no other book has; `settings` is the text of meltbook.toml.
    ///
    /// # Errors
    /// If the folder holds anything, or can't be written to.
    pub fn create(
        folder: &Path,
        id: &str,
        settings: &str,
        begun: &Begun,
        stamp: &Stamp,
    ) -> Result<Self, BookError> {
        make_folders(folder)?;
        let database = folder.join(DATABASE);
        let mut connection = Connection::open(&database)?;
        schema::prepare(&connection)?;
        let tx = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        schema::create(&tx)?;
        let mut writer = Writer::begin(tx, id.to_owned(), (0, Hash::ZERO), stamp.clone());
        writer.append(&Event::Begun(begun.clone()))?;
        writer.commit()?;
        // The settings come last: a folder is a book only once all of it is there.
        super::files::write_new(&folder.join(SETTINGS), settings.as_bytes())?;
        Ok(Self { folder: folder.to_owned(), connection, id: id.to_owned() })
    }

    /// Opens the book in a folder. A book of an older format is brought up to this one; one of a newer
    /// format is refused, untouched.
    ///
    /// # Errors
    /// If there is none, or it can't be read.
    pub fn open(folder: &Path) -> Result<Self, BookError> {
        let database = folder.join(DATABASE);
        if !database.is_file() {
            return Err(BookError::NoBook(folder.to_owned()));
        }
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let mut connection = Connection::open_with_flags(&database, flags)?;
        let format = checked_format(&connection, &database)?;
        schema::prepare(&connection)?;
        if format < schema::FORMAT {
            bring_up(&mut connection)?;
        }
        let id = journal::book_id(&connection)?.ok_or(BookError::NotABook(database))?;
        Ok(Self { folder: folder.to_owned(), connection, id })
    }

    /// The book's folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The book's own name among all books.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// Sequence and hash of the last entry. Print it with whatever leaves the book: a chain alone can't
    /// show that its end was cut off.
    ///
    /// # Errors
    /// If the database can't be read.
    pub fn head(&self) -> Result<(u64, Hash), BookError> {
        journal::head(&self.connection)
    }

    /// Runs `work` in the one transaction that also writes: limits are checked and entries added while
    /// nobody else can. If it fails, nothing was changed.
    ///
    /// # Errors
    /// What `work` says, or that somebody else is writing.
    pub fn write<T>(
        &mut self,
        stamp: &Stamp,
        work: impl FnOnce(&mut Writer<'_>) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        let folder = self.folder.clone();
        let tx = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(|error| holder::explain(error, &folder))?;
        let held = holder::hold(&folder, stamp);
        let head = journal::head(&tx)?;
        let mut writer = Writer::begin(tx, self.id.clone(), head, stamp.clone());
        let value = work(&mut writer)?;
        writer.commit()?;
        drop(held);
        Ok(value)
    }

    /// The connection, for reading.
    pub(super) fn connection(&self) -> &Connection {
        &self.connection
    }
}

fn make_folders(folder: &Path) -> Result<(), BookError> {
    let empty = match std::fs::read_dir(folder) {
        Ok(mut entries) => entries.next().is_none(),
        Err(error) => error.kind() == std::io::ErrorKind::NotFound,
    };
    if !empty {
        return Err(BookError::NotEmpty(folder.to_owned()));
    }
    for name in ["", "recipes", "designs", "files"] {
        let path = folder.join(name);
        std::fs::create_dir_all(&path).map_err(BookError::io(path))?;
    }
    Ok(())
}

fn checked_format(connection: &Connection, database: &Path) -> Result<i64, BookError> {
    let number = |name: &str| connection.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    let (application, format) = (number("application_id"), number("user_version"));
    match (application, format) {
        (Ok(schema::APPLICATION_ID), Ok(found)) if schema::FORMAT < found => {
            Err(BookError::Newer { found, known: schema::FORMAT })
        }
        (Ok(schema::APPLICATION_ID), Ok(found)) => Ok(found),
        _ => Err(BookError::NotABook(database.to_owned())),
    }
}

/// An upgrade is a replay: the journal stays as it is, the projections are made anew.
fn bring_up(connection: &mut Connection) -> Result<(), BookError> {
    let tx = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    projection::replay(&tx)?;
    tx.pragma_update(None, "user_version", schema::FORMAT)?;
    Ok(tx.commit()?)
}
