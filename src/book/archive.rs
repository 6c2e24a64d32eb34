//! The archive: a book as plain text that rebuilds it, and SQLite's own backup.

use std::fs::File;
use std::io::{BufRead as _, BufReader, BufWriter, Write as _};
use std::path::{Path, PathBuf};

use rusqlite::{Connection, TransactionBehavior};
use serde::{Deserialize, Serialize};

use super::error::BookError;
use super::files::FILES;
use super::open::{Book, SETTINGS};
use super::{journal, projection, schema};
use crate::record::{Entry, Hash};

/// The journal's name in an archive: one entry a line.
const JOURNAL: &str = "journal.jsonl";
/// What else belongs to a book, beside journal and settings.
const BESIDE: [&str; 4] = ["components.toml", "recipes", "designs", FILES];

/// One line of an archived journal.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Line {
    book: String,
    sequence: u64,
    time: String,
    author: String,
    kind: String,
    version: u16,
    payload: String,
    previous: String,
    hash: String,
}

impl Book {
    /// Writes the whole book into a new folder as plain text, and gives the head.
    ///
    /// # Errors
    /// If the folder is there already, or anything can't be read or written.
    pub fn archive(&self, to: &Path) -> Result<(u64, Hash), BookError> {
        if to.exists() {
            return Err(BookError::NotEmpty(to.to_owned()));
        }
        let half = beside(to, "half-written")?;
        let head = self.write_journal(&half.join(JOURNAL))?;
        copy(&self.folder().join(SETTINGS), &half.join(SETTINGS))?;
        BESIDE.iter().try_for_each(|name| copy(&self.folder().join(name), &half.join(name)))?;
        // Under its own name it is whole.
        std::fs::rename(&half, to).map_err(BookError::io(to))?;
        Ok(head)
    }

    /// Makes a book of an archive, checks it entry by entry, and opens it.
    ///
    /// # Errors
    /// If the archive is not whole, or the folder is not empty.
    pub fn restore(archive: &Path, folder: &Path) -> Result<Self, BookError> {
        if folder.exists() && std::fs::read_dir(folder).map_err(BookError::io(folder))?.next().is_some() {
            return Err(BookError::NotEmpty(folder.to_owned()));
        }
        let half = beside(folder, "half-restored")?;
        for name in ["recipes", "designs", FILES] {
            std::fs::create_dir_all(half.join(name)).map_err(BookError::io(half.join(name)))?;
        }
        let rebuilt = rebuild(&archive.join(JOURNAL), &half.join("book.sqlite"))
            .and_then(|()| copy(&archive.join(SETTINGS), &half.join(SETTINGS)))
            .and_then(|()| BESIDE.iter().try_for_each(|name| copy(&archive.join(name), &half.join(name))));
        if let Err(error) = rebuilt {
            // What was begun beside the target is of no use to anybody.
            let _ = std::fs::remove_dir_all(&half);
            return Err(error);
        }
        if folder.exists() {
            std::fs::remove_dir(folder).map_err(BookError::io(folder))?;
        }
        std::fs::rename(&half, folder).map_err(BookError::io(folder))?;
        Self::open(folder)
    }

    /// Copies the database with SQLite's own backup while others may write.
    ///
    /// # Errors
    /// If the file is there already or can't be written.
    pub fn backup(&self, to: &Path) -> Result<(u64, Hash), BookError> {
        if to.exists() {
            return Err(BookError::NotEmpty(to.to_owned()));
        }
        self.connection().backup("main", to, None::<fn(rusqlite::backup::Progress)>)?;
        let copy = Connection::open(to)?;
        journal::head(&copy)
    }

    fn write_journal(&self, path: &Path) -> Result<(u64, Hash), BookError> {
        let file = File::create_new(path).map_err(BookError::io(path))?;
        let mut out = BufWriter::new(file);
        let mut head = (0, Hash::ZERO);
        journal::for_each(self.connection(), |entry| {
            head = (entry.sequence, entry.hash);
            serde_json::to_writer(&mut out, &Line::of(entry))?;
            out.write_all(b"\n").map_err(BookError::io(path))
        })?;
        out.flush().and_then(|()| out.get_ref().sync_all()).map_err(BookError::io(path))?;
        Ok(head)
    }
}

impl Line {
    fn of(entry: Entry) -> Self {
        Self {
            book: entry.book,
            sequence: entry.sequence,
            time: entry.time,
            author: entry.author,
            kind: entry.kind,
            version: entry.version,
            payload: String::from_utf8_lossy(&entry.payload).into_owned(),
            previous: entry.previous.to_string(),
            hash: entry.hash.to_string(),
        }
    }

    fn entry(self) -> Option<Entry> {
        Some(Entry {
            book: self.book,
            sequence: self.sequence,
            time: self.time,
            author: self.author,
            kind: self.kind,
            version: self.version,
            payload: self.payload.into_bytes(),
            previous: Hash::from_hex(&self.previous)?,
            hash: Hash::from_hex(&self.hash)?,
        })
    }
}

/// Fills a new database from an archived journal; every entry must continue the chain.
fn rebuild(archived: &Path, database: &Path) -> Result<(), BookError> {
    let file = File::open(archived).map_err(BookError::io(archived))?;
    let mut connection = Connection::open(database)?;
    schema::prepare(&connection)?;
    let tx = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    schema::create(&tx)?;
    let mut previous = Hash::ZERO;
    for (number, line) in (1..).zip(BufReader::new(file).lines()) {
        let line = line.map_err(BookError::io(archived))?;
        let broken = |what: &str| BookError::Chain { sequence: number, what: what.to_owned() };
        let line: Line = serde_json::from_str(&line).map_err(|error| broken(&error.to_string()))?;
        let entry = line.entry().ok_or_else(|| broken("a hash is no hash"))?;
        if entry.sequence != number || entry.previous != previous {
            return Err(broken("it does not follow the one before it"));
        }
        if !entry.is_whole() {
            return Err(broken("it was changed: its hash is not that of its content"));
        }
        previous = entry.hash;
        journal::insert(&tx, &entry)?;
    }
    if previous == Hash::ZERO {
        return Err(BookError::Chain { sequence: 1, what: "the journal is empty".to_owned() });
    }
    projection::replay(&tx)?;
    Ok(tx.commit()?)
}

/// Makes a folder beside another, for what is not whole yet.
fn beside(path: &Path, what: &str) -> Result<PathBuf, BookError> {
    let name = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    if let Some(parent) = path.parent().filter(|parent| !parent.as_os_str().is_empty()) {
        std::fs::create_dir_all(parent).map_err(BookError::io(parent))?;
    }
    let mut number = 1;
    loop {
        let folder = path.with_file_name(format!("{name}.{what}-{number}"));
        match std::fs::create_dir(&folder) {
            Ok(()) => return Ok(folder),
            Err(error) if error.kind() == std::io::ErrorKind::AlreadyExists => number += 1,
            Err(error) => return Err(BookError::Io { path: folder, error }),
        }
    }
}

/// Copies a file or a folder with all in it; what is not there is left out.
fn copy(from: &Path, to: &Path) -> Result<(), BookError> {
    if from.is_dir() {
        std::fs::create_dir_all(to).map_err(BookError::io(to))?;
        for entry in std::fs::read_dir(from).map_err(BookError::io(from))? {
            let entry = entry.map_err(BookError::io(from))?;
            copy(&entry.path(), &to.join(entry.file_name()))?;
        }
    } else if from.is_file() {
        std::fs::copy(from, to).map_err(BookError::io(to))?;
    }
    Ok(())
}
