//! Opening what is a book, and what is none.

use std::fs;

use meltbook::book::{Book, BookError};

use super::shelf::{Shelf, begun, raw, stamp};

#[test]
fn a_newer_book_is_refused_untouched() {
    let shelf = Shelf::stocked();
    let path = shelf.path();
    let folder = shelf.folder;
    drop(shelf.book);
    raw(&path).pragma_update(None, "user_version", 6).expect("a pragma");
    let bytes = fs::read(path.join("book.sqlite")).expect("a file");
    match Book::open(&path).err().expect("it is refused") {
        BookError::Newer { found: 6, known: 5 } => {}
        other => panic!("{other}"),
    }
    assert_eq!(fs::read(path.join("book.sqlite")).expect("a file"), bytes);
    drop(folder);
}

/// An upgrade is a replay: projections of an older format are made anew, entries stay byte for byte.
#[test]
fn an_older_book_is_brought_up_by_replaying() {
    let shelf = Shelf::stocked();
    let (path, head, left) = (shelf.path(), shelf.book.head().expect("a head"), shelf.left("B1"));
    let folder = shelf.folder;
    drop(shelf.book);
    let old = raw(&path);
    old.execute_batch("DROP TABLE bottle; DROP TABLE movement; PRAGMA user_version = 0")
        .expect("an older format");
    drop(old);
    let book = Book::open(&path).expect("it opens");
    assert_eq!(book.head().expect("a head"), head);
    let again = Shelf { folder, book };
    assert_eq!(again.left("B1"), left);
    assert_eq!(again.findings(), Vec::<String>::new());
}

#[test]
fn what_is_no_book_is_told_and_left() {
    let folder = tempfile::tempdir().expect("a folder");
    let database = folder.path().join("book.sqlite");
    assert!(matches!(Book::open(folder.path()).err(), Some(BookError::NoBook(_))));
    fs::create_dir(&database).expect("a folder");
    assert!(matches!(Book::open(folder.path()).err(), Some(BookError::NoBook(_))));
    fs::remove_dir(&database).expect("gone");
    for bytes in [b"".as_slice(), b"not a database at all, only some text in a file of that name"] {
        fs::write(&database, bytes).expect("a file");
        assert!(matches!(Book::open(folder.path()).err(), Some(BookError::NotABook(_))), "{bytes:?}");
        assert_eq!(fs::read(&database).expect("a file"), bytes);
    }
}

#[test]
fn a_database_that_is_cut_or_scratched_is_told() {
    let shelf = Shelf::stocked();
    let path = shelf.path();
    let folder = shelf.folder;
    drop(shelf.book);
    let database = path.join("book.sqlite");
    let bytes = fs::read(&database).expect("a file");
    let mut told = 0;
    for cut in [100, 4096, bytes.len() / 2, bytes.len() - 4096] {
        fs::write(&database, &bytes[..cut]).expect("a file");
        let result = Book::open(&path).and_then(|book| book.verify());
        told += u32::from(result.map_or(true, |verification| !verification.findings.is_empty()));
    }
    assert_eq!(told, 4, "every cut is told");
    let mut found = 0;
    for at in (4096..bytes.len()).step_by(4096).map(|page| page + 2048).filter(|at| *at < bytes.len()) {
        let mut scratched = bytes.clone();
        scratched[at] ^= 0xff;
        fs::write(&database, &scratched).expect("a file");
        let result = Book::open(&path).and_then(|book| book.verify());
        found += u32::from(result.map_or(true, |verification| !verification.findings.is_empty()));
        // A scratch in the free space of a page changes nothing that is stored.
    }
    assert!(found <= (bytes.len() / 4096) as u32);
    fs::write(&database, &bytes).expect("a file");
    let book = Book::open(&path).expect("whole again");
    assert_eq!(book.verify().expect("it reads").findings, Vec::new());
    drop(folder);
}

#[test]
fn a_folder_with_something_in_it_takes_no_book() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("x"), "x").expect("a file");
    let refused = Book::create(folder.path(), "book-1", "", &begun(), &stamp()).err();
    assert!(matches!(refused, Some(BookError::NotEmpty(_))));
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 1);
}

/// The tables of each format. A change of any table needs the next format, or a book made yesterday would be
/// opened as if it had the tables of today; so each format has a file of its own, and none is ever changed.
#[test]
fn every_format_has_its_own_tables() {
    let shelf = Shelf::new();
    let raw = shelf.raw();
    let format: i64 = raw.pragma_query_value(None, "user_version", |row| row.get(0)).expect("a format");
    let mut select = raw
        .prepare("SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name")
        .expect("a statement");
    let rows = select.query_map([], |row| row.get::<_, String>(0)).expect("rows");
    let tables: Vec<String> = rows.collect::<rusqlite::Result<_>>().expect("texts");
    crate::golden::check(&format!("book/format-{format}.sql"), &(tables.join(";\n") + ";\n"));
}

/// A book of format 1 as the first version made it, with bottles alone: no table of batches or cells.
#[test]
fn a_book_of_bottles_alone_gets_the_later_tables() {
    let shelf = Shelf::stocked();
    let (path, head) = (shelf.path(), shelf.book.head().expect("a head"));
    let folder = shelf.folder;
    drop(shelf.book);
    let old = raw(&path);
    let tables: Vec<String> = old
        .prepare("SELECT name FROM sqlite_schema WHERE type = 'table'")
        .and_then(|mut select| select.query_map([], |row| row.get(0))?.collect())
        .expect("names");
    let first = ["entry", "code", "flow", "movement", "change", "bottle"];
    old.pragma_update(None, "foreign_keys", false).expect("a pragma");
    for table in tables.iter().filter(|table| !first.contains(&table.as_str())) {
        old.execute_batch(&format!("DROP TABLE {table}")).expect("it drops");
    }
    old.pragma_update(None, "user_version", 1).expect("a pragma");
    drop(old);
    let book = Book::open(&path).expect("it opens");
    assert_eq!(book.head().expect("a head"), head);
    let again = Shelf { folder, book };
    assert_eq!(again.findings(), Vec::<String>::new());
}
