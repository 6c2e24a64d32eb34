//! Archive, restore, backup.

use std::fs;

use meltbook::book::{Book, BookError, bottles};

use super::shelf::{Shelf, code, received, stamp};

fn changed() -> Shelf {
    let mut shelf = Shelf::stocked();
    shelf
        .book
        .write(&stamp(), |writer| writer.correct(2, &received(code("B1"), "450 g"), "misread"))
        .expect("it is corrected");
    shelf.book.write(&stamp(), |writer| writer.strike(6, "another bottle")).expect("it is struck");
    let log = shelf.folder.path().join("log.csv");
    fs::write(&log, "t,V\n0,1.5\n").expect("a file");
    shelf.book.keep_file(&log).expect("it is kept");
    fs::write(shelf.path().join("components.toml"), "# mine\n").expect("a file");
    fs::write(shelf.path().join("recipes/mine.toml"), "# mine\n").expect("a file");
    shelf
}

#[test]
fn an_archive_rebuilds_an_equal_book() {
    let shelf = changed();
    let (archive, again) = (shelf.folder.path().join("archive"), shelf.folder.path().join("again"));
    let head = shelf.book.archive(&archive).expect("it is archived");
    let restored = Book::restore(&archive, &again).expect("it is restored");
    assert_eq!(restored.head().expect("a head"), head);
    assert_eq!(restored.id(), shelf.book.id());
    assert_eq!(restored.verify().expect("it reads").findings, Vec::new());
    assert_eq!(bottles(&restored).expect("bottles"), bottles(&shelf.book).expect("bottles"));
    let twice = shelf.folder.path().join("twice");
    restored.archive(&twice).expect("it is archived again");
    for name in ["journal.jsonl", "meltbook.toml", "components.toml", "recipes/mine.toml"] {
        let read = |folder: &std::path::Path| fs::read(folder.join(name)).expect(name);
        assert_eq!(read(&archive), read(&twice), "{name}");
    }
}

#[test]
fn a_changed_archive_is_refused_with_its_line_and_leaves_nothing() {
    let shelf = changed();
    let archive = shelf.folder.path().join("archive");
    shelf.book.archive(&archive).expect("it is archived");
    let journal = archive.join("journal.jsonl");
    let text = fs::read_to_string(&journal).expect("a journal");
    let target = shelf.folder.path().join("target");
    fs::write(&journal, text.replacen("\"kind\":\"bottle.opened\"", "\"kind\":\"bottle.opened \"", 1))
        .expect("a change");
    match Book::restore(&archive, &target).err().expect("it is refused") {
        BookError::Chain { sequence: 3, .. } => {}
        other => panic!("{other}"),
    }
    let third_gone: String =
        text.lines().enumerate().filter(|(n, _)| *n != 2).map(|(_, line)| format!("{line}\n")).collect();
    fs::write(&journal, third_gone).expect("a change");
    assert!(matches!(Book::restore(&archive, &target).err(), Some(BookError::Chain { sequence: 3, .. })));
    fs::write(&journal, "").expect("a change");
    assert!(matches!(Book::restore(&archive, &target).err(), Some(BookError::Chain { sequence: 1, .. })));
    assert!(!target.exists());
    let left: Vec<_> = fs::read_dir(shelf.folder.path()).expect("a folder").flatten().collect();
    assert!(left.iter().all(|entry| !entry.file_name().to_string_lossy().contains("half")), "{left:?}");
}

#[test]
fn nothing_that_is_there_is_written_over() {
    let shelf = changed();
    let there = shelf.folder.path().join("there");
    fs::create_dir(&there).expect("a folder");
    fs::write(there.join("x"), "x").expect("a file");
    assert!(matches!(shelf.book.archive(&there).err(), Some(BookError::NotEmpty(_))));
    let archive = shelf.folder.path().join("archive");
    shelf.book.archive(&archive).expect("it is archived");
    assert!(matches!(Book::restore(&archive, &there).err(), Some(BookError::NotEmpty(_))));
    assert!(matches!(shelf.book.backup(&there.join("x")).err(), Some(BookError::NotEmpty(_))));
    assert_eq!(fs::read_to_string(there.join("x")).expect("a file"), "x");
}

#[test]
fn a_backup_has_the_same_head() {
    let shelf = changed();
    let copy = shelf.folder.path().join("copy.sqlite");
    let head = shelf.book.backup(&copy).expect("it is backed up");
    assert_eq!(head, shelf.book.head().expect("a head"));
    let raw = rusqlite::Connection::open(&copy).expect("it opens");
    let check: String = raw.query_row("PRAGMA integrity_check", [], |row| row.get(0)).expect("a check");
    assert_eq!(check, "ok");
}
