//! Several processes that write at once, and writers that are killed.
//!
//! The writer is this very test binary, started again with a variable that names the book: the test
//! `the_writer` then writes until it is done or killed, and prints each sequence once it is acknowledged.

use std::io::{BufRead as _, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};

use meltbook::book::Book;
use meltbook::record::CodeKind;

use super::shelf::{Shelf, dried, received, stamp};

const BOOK: &str = "MELTBOOK_TEST_BOOK";
const COUNT: &str = "MELTBOOK_TEST_COUNT";

/// Not a test by itself: without its variable it has nothing to do.
#[test]
fn the_writer() {
    let Some(folder) = std::env::var_os(BOOK) else { return };
    let count: u32 = std::env::var(COUNT).ok().and_then(|count| count.parse().ok()).unwrap_or(u32::MAX);
    let mut book = Book::open(Path::new(&folder)).expect("the book opens");
    for _ in 0..count {
        let sequence = book
            .write(&stamp(), |writer| {
                let code = writer.next_code(CodeKind::Bottle)?;
                writer.append(&received(code, "10 g"))
            })
            .expect("it is written");
        println!("acknowledged {sequence}");
    }
}

fn writer(folder: &Path, count: Option<u32>) -> Child {
    let mut command = Command::new(std::env::current_exe().expect("this binary"));
    command.args(["--exact", "book::many_writers::the_writer", "--nocapture"]).env(BOOK, folder);
    if let Some(count) = count {
        command.env(COUNT, count.to_string());
    }
    command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("it starts")
}

fn acknowledged(child: &mut Child) -> impl Iterator<Item = u64> + use<> {
    let out = BufReader::new(child.stdout.take().expect("a pipe"));
    out.lines().map_while(Result::ok).filter_map(|line| {
        let (_, number) = line.split_once("acknowledged ")?;
        number.trim().parse().ok()
    })
}

/// 50 times a writer is killed at another moment (MELTBOOK_SOAK says how often). Every sequence that it
/// printed is there, the chain holds, and projections are those of a replay.
#[test]
fn nothing_acknowledged_is_lost_when_a_writer_is_killed() {
    let rounds: u64 = std::env::var("MELTBOOK_SOAK").ok().and_then(|n| n.parse().ok()).unwrap_or(50);
    let shelf = Shelf::new();
    let mut most = 0;
    for round in 0..rounds {
        let mut child = writer(&shelf.path(), None);
        let mut seen = acknowledged(&mut child);
        // Wait for a first entry, so that every kill meets a writer at work, then a little longer each time.
        most = most.max(seen.next().expect("a first entry"));
        std::thread::sleep(std::time::Duration::from_micros(137 * (round % 50)));
        child.kill().expect("it is killed");
        most = seen.fold(most, u64::max);
        child.wait().expect("it is gone");
        let (entries, _) = Book::open(&shelf.path()).and_then(|book| book.head()).expect("the book opens");
        assert!(most <= entries, "round {round}: entry {most} was acknowledged, and there are {entries}");
    }
    assert_eq!(shelf.findings(), Vec::<String>::new());
}

#[test]
fn several_writers_take_turns() {
    let shelf = Shelf::new();
    let mut children: Vec<Child> = (0..4).map(|_| writer(&shelf.path(), Some(25))).collect();
    let mut sequences: Vec<u64> =
        children.iter_mut().flat_map(|child| acknowledged(child).collect::<Vec<_>>()).collect();
    for child in &mut children {
        assert!(child.wait().expect("it ends").success());
    }
    sequences.sort_unstable();
    let expected: Vec<u64> = (2..=101).collect();
    assert_eq!(sequences, expected, "each entry once, none twice, no gap");
    assert_eq!(shelf.findings(), Vec::<String>::new());
}

/// Two who want the last gram: the limit is checked inside the transaction that writes.
#[test]
fn the_last_gram_is_taken_once() {
    let mut shelf = Shelf::new();
    shelf.receive("10 g");
    let path = shelf.path();
    let take = || {
        let mut book = Book::open(&path).expect("it opens");
        book.write(&stamp(), |writer| {
            let code = writer.next_code(CodeKind::Bottle)?;
            writer.append(&dried(code, "B1", "10 g", "10 g"))
        })
        .is_ok()
    };
    let (one, other) = std::thread::scope(|scope| {
        let one = scope.spawn(take);
        let other = scope.spawn(take);
        (one.join().expect("it ends"), other.join().expect("it ends"))
    });
    assert!(one ^ other, "one wins, the other is told");
    assert_eq!(shelf.left("B1"), 0.0);
    assert_eq!(shelf.findings(), Vec::<String>::new());
}
