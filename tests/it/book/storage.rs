//! What happens when storage fails: no room, no right to write, bytes that changed or are gone. Each is told,
//! and nothing is lost that was whole.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use meltbook::book::{Book, bottles, history};

use super::bench::Bench;
use super::shelf::{Shelf, raw};
use crate::run::line;

const PROGRAM: &str = env!("CARGO_BIN_EXE_meltbook");

/// Runs a line of the shell in a folder; `$MELTBOOK` is the program.
fn shell(folder: &Path, line: &str) -> Output {
    let mut command = Command::new("sh");
    command.args(["-c", line]).current_dir(folder).env_clear();
    command.env("PATH", std::env::var_os("PATH").unwrap_or_default()).env("MELTBOOK", PROGRAM);
    command.env("TZ", "UTC").env("MELTBOOK_NOW", "2026-11-25T09:00:00Z").env("MELTBOOK_AUTHOR", "AB");
    command.output().expect("a shell starts")
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn entries(folder: &Path) -> u64 {
    Book::open(folder).and_then(|book| book.head()).expect("the book opens").0
}

/// A bottle is taken in until there is no room; then one more is with room again.
fn fills_up(folder: &Path, limited: &str) {
    let note = "x".repeat(3000);
    let receive = format!("{limited} \"$MELTBOOK\" bottle receive urea --net '5 g' --note {note}");
    let mut acknowledged = entries(folder);
    let full = (0..200).map(|_| shell(folder, &receive)).find(|output| {
        let done = output.status.success();
        acknowledged += u64::from(done);
        !done
    });
    let full = full.expect("no room is left at last");
    assert_eq!(full.status.code(), Some(3), "{}", said(&full));
    let message = said(&full);
    assert!(message.contains("error[database]") && message.contains("room"), "{message}");
    assert_eq!(entries(folder), acknowledged, "everything acknowledged is there, and no half entry");
    let read = shell(folder, "\"$MELTBOOK\" verify");
    assert_eq!(read.status.code(), Some(0), "{}", said(&read));
}

/// A file may not grow past a size, as on a disk that is full (setrlimit(2), RLIMIT_FSIZE; the signal is
/// ignored, so that the write fails).
#[test]
fn no_room_for_the_database() {
    let bench = Bench::new();
    let path = bench.path();
    let blocks = fs::metadata(path.join("book.sqlite")).expect("a database").len() / 512 + 64;
    fills_up(&path, &format!("trap '' XFSZ; ulimit -f {blocks};"));
    bench.bottle("urea", &[]);
    bench.verify();
}

/// A disk of 1 MB that is really full, where this computer lets the test have one.
#[test]
fn a_disk_that_is_full() {
    let folder = crate::run::folder();
    let disk = folder.path().join("disk");
    fs::create_dir(&disk).expect("a folder");
    let mounted = shell(folder.path(), "mount -t tmpfs -o size=1m tmpfs disk");
    if !mounted.status.success() {
        println!("SKIPPED: a disk of its own can't be had here: {}", said(&mounted));
        return;
    }
    let _gone = Undo(format!("umount '{}'", disk.display()));
    let made = shell(&disk, "\"$MELTBOOK\" init lab --laboratory 'Room 12'");
    assert!(made.status.success(), "{}", said(&made));
    fills_up(&disk.join("lab"), "");
    for command in ["archive ../copy", "backup ../copy.sqlite"] {
        let copied = shell(&disk.join("lab"), &format!("\"$MELTBOOK\" {command}"));
        assert_eq!(copied.status.code(), Some(3), "{command}: {}", said(&copied));
        assert!(!disk.join("copy").exists(), "no half archive under its own name");
    }
}

/// A line of the shell that undoes what a test did to its folder, whatever the test says.
struct Undo(String);

impl Drop for Undo {
    fn drop(&mut self) {
        let undone = shell(Path::new("/"), &self.0);
        assert!(undone.status.success() || std::thread::panicking(), "{}: {}", self.0, said(&undone));
    }
}

#[test]
fn no_room_for_an_answer() {
    let bench = Bench::new();
    bench.bottle("urea", &[]);
    for command in ["bottle list > /dev/full", "label B1 --out /dev/full --force"] {
        let output = shell(&bench.path(), &format!("\"$MELTBOOK\" {command}"));
        assert_eq!(output.status.code(), Some(3), "{command}: {}", said(&output));
        assert!(said(&output).contains("error[not_writable]"), "{command}: {}", said(&output));
    }
}

/// Makes a folder read-only in whichever way holds for whoever runs the test; gives what undoes it.
fn read_only(folder: &Path) -> Option<Undo> {
    let path = folder.display();
    let ways = [
        (
            format!("mount --bind '{path}' '{path}' && mount -o remount,bind,ro '{path}'"),
            format!("umount '{path}'"),
        ),
        (format!("chattr -R +i '{path}'"), format!("chattr -R -i '{path}'")),
        (
            format!("chmod -R a-w '{path}' && ! touch '{path}/probe' 2>/dev/null"),
            format!("chmod -R u+w '{path}'"),
        ),
    ];
    let done = |way: &str| shell(Path::new("/"), way).status.success();
    ways.into_iter().find(|(way, _)| done(way)).map(|(_, undo)| Undo(undo))
}

/// Reading goes on, writing is told, and nothing changes.
#[test]
fn a_book_that_may_only_be_read() {
    let folder = crate::run::folder();
    let made = shell(folder.path(), "\"$MELTBOOK\" init lab --laboratory 'Room 12'");
    assert!(made.status.success(), "{}", said(&made));
    let lab = folder.path().join("lab");
    let received = shell(&lab, "\"$MELTBOOK\" bottle receive urea --net '5 g'");
    assert!(received.status.success(), "{}", said(&received));
    let bytes = fs::read(lab.join("book.sqlite")).expect("a database");
    let Some(locked) = read_only(&lab) else {
        println!("SKIPPED: nothing here keeps this user from writing");
        return;
    };
    for command in ["bottle list", "bottle show B1", "history", "verify", "label B1"] {
        let output = shell(&lab, &format!("\"$MELTBOOK\" {command}"));
        assert_eq!(output.status.code(), Some(0), "{command}: {}", said(&output));
    }
    for command in ["bottle receive urea --net '5 g'", "correct 2 --mass '4 g' --because misread"] {
        let output = shell(&lab, &format!("\"$MELTBOOK\" {command}"));
        assert_eq!(output.status.code(), Some(3), "{command}: {}", said(&output));
        let message = said(&output);
        assert!(message.contains("error[database]") && message.contains("rights"), "{command}: {message}");
    }
    drop(locked);
    assert_eq!(fs::read(lab.join("book.sqlite")).expect("a database"), bytes);
}

/// What can be read of a book, in words.
fn content(book: &Book) -> Option<String> {
    let lines = history(book).ok()?;
    let lines: Vec<_> = lines.iter().map(|line| (line.sequence, &line.author, &line.payload)).collect();
    Some(format!("{lines:?} {:?}", bottles(book).ok()?))
}

/// Opens and verifies; true if anything was told.
fn is_told(path: &Path, whole: &str) -> bool {
    let Ok(book) = Book::open(path) else { return true };
    match book.verify() {
        Ok(verification) if verification.findings.is_empty() => {
            assert_eq!(content(&book).as_deref(), Some(whole), "nothing is told, so nothing may differ");
            false
        }
        _ => true,
    }
}

/// A byte is flipped in some 500 places, then the end is cut off in many: either it is told, or it was in free
/// space and nothing that is read differs.
#[test]
fn flipped_bytes_and_cut_ends_are_told_or_harm_nothing() {
    let shelf = Shelf::stocked();
    let (path, whole) = (shelf.path(), content(&shelf.book).expect("it reads"));
    let folder = shelf.folder;
    drop(shelf.book);
    let database = path.join("book.sqlite");
    let bytes = fs::read(&database).expect("a file");
    let mut told = 0;
    let places = (0..100).chain((100..bytes.len()).step_by(bytes.len() / 400));
    for at in places {
        let mut flipped = bytes.clone();
        flipped[at] ^= 0x55;
        fs::write(&database, &flipped).expect("a file");
        told += u32::from(is_told(&path, &whole));
    }
    assert!(10 < told, "{told}");
    for cut in (0..bytes.len()).step_by(1511) {
        fs::write(&database, &bytes[..cut]).expect("a file");
        is_told(&path, &whole);
    }
    // Less than a page may be free space at the end; a page that is gone is told.
    for cut in (0..bytes.len()).step_by(4096) {
        fs::write(&database, &bytes[..cut]).expect("a file");
        assert!(is_told(&path, &whole), "cut at {cut}");
    }
    fs::write(&database, &bytes).expect("a file");
    assert!(!is_told(&path, &whole), "whole again");
    drop(folder);
}

/// Every byte of every entry that is stored counts: one other bit in a payload is found, with its place.
#[test]
fn a_flipped_byte_of_a_payload_is_found_where_it_is() {
    let shelf = Shelf::stocked();
    let path = shelf.path();
    let payload: Vec<u8> = raw(&path)
        .query_row("SELECT payload FROM entry WHERE sequence = 4", [], |row| row.get(0))
        .expect("a payload");
    let folder = shelf.folder;
    drop(shelf.book);
    let database = path.join("book.sqlite");
    let bytes = fs::read(&database).expect("a file");
    let start = bytes.windows(payload.len()).position(|window| window == payload).expect("it is there");
    for at in (0..payload.len()).step_by(7) {
        let mut flipped = bytes.clone();
        flipped[start + at] ^= 0x01;
        fs::write(&database, &flipped).expect("a file");
        let findings = Book::open(&path).and_then(|book| book.verify()).expect("it reads").findings;
        assert!(findings.iter().any(|finding| finding.place == "entry 4"), "byte {at}: {findings:?}");
    }
    drop(folder);
}

/// The program on a damaged book: no panic, no answer that is wrong in silence, and the place.
#[test]
fn the_program_tells_of_damage() {
    let bench = Bench::new();
    for _ in 0..40 {
        bench.bottle("urea", &["--note", "a note that fills some pages of the database with text"]);
    }
    let database = bench.path().join("book.sqlite");
    let bytes = fs::read(&database).expect("a file");
    for (what, damaged) in
        [("cut", bytes[..bytes.len() / 2].to_vec()), ("no header", [&[0; 100], &bytes[100..]].concat())]
    {
        fs::write(&database, damaged).expect("a file");
        for arguments in [&["verify"][..], &["bottle", "receive", "urea", "--net", "5 g"]] {
            let run = bench.run(arguments);
            assert!(matches!(run.code, 1 | 3), "{what}: {}: {}", line(arguments), run.code);
            let all = run.stdout + &run.stderr;
            assert!(!all.contains("panicked"), "{what}: {all}");
            assert!(all.contains("book.sqlite") || all.contains("database"), "{what}: {all}");
        }
    }
    fs::write(&database, bytes).expect("a file");
    bench.verify();
}

/// A picture that an entry names and that is gone is found; the rest goes on.
#[test]
fn a_file_that_is_gone_is_named_with_its_entry() {
    let bench = Bench::new();
    bench.write("look.png", "no real picture");
    bench.said(&["batch", "start", "ChCl:urea 1:2", "--mass", "20 g"], 0);
    bench.said(&["batch", "weigh", "E1", "ChCl", "10.76 g"], 0);
    bench.said(&["batch", "weigh", "E1", "urea", "9.2 g"], 0);
    bench.said(&["batch", "finish", "E1"], 0);
    bench.said(&["batch", "appearance", "E1", "--clarity", "clear", "--picture", "look.png"], 0);
    bench.verify();
    let kept = fs::read_dir(bench.path().join("files")).expect("a folder").flatten().next().expect("a file");
    fs::remove_file(kept.path()).expect("it goes");
    let name = kept.file_name().to_string_lossy().into_owned();
    let screen = bench.said(&["verify"], 1);
    assert!(screen.contains(&name) && screen.contains("is missing: entry 6 names it"), "{screen}");
    bench.said(&["batch", "show", "E1"], 0);
    let answer = bench.json(&["verify"], 1);
    assert_eq!(answer["findings"].as_array().map(Vec::len), Some(1), "{answer}");
}
