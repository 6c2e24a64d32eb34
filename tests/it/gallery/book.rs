//! Faults of the book as a whole: making, finding and opening it, its entries, its journal's commands.

use std::fs;
use std::path::Path;

use rusqlite::Connection;

use super::case::Case;
use crate::book::lab::{begin, run_at, with_cells_in};

pub const CASES: &[Case] = &[
    Case::of("no_book", &["bottle", "list"]),
    Case::of("no_author", &["init", "lab"]),
    Case::of("bad_time", &["bottle", "open", "B1", "--when", "yesterday"]),
    Case::of("bad_date", &["history", "--day", "25.11.2026"]),
    Case::after("not_empty", begin, &[], &["archive", "designs"]),
    Case::after("no_reason", with_bottle, &[], &["bottle", "dispose", "B1"]),
    Case::after("bad_price", begin, &[], &["bottle", "receive", "urea", "--net", "1 kg", "--price", "45"]),
    Case::after("empty_bottle", begin, &[], &["bottle", "receive", "urea", "--net", "0 g"]),
    Case::after("unknown_code", with_bottle, &[], &["bottle", "show", "B7"]),
    Case::after("wrong_kind", with_bottle, &[], &["cell", "show", "B1"]),
    Case::after("bad_code", begin, &[], &["bottle", "show", "7B"]),
    Case::after(
        "refused",
        with_bottle,
        &[],
        &["bottle", "dry", "B1", "--taken", "2 kg", "--dried", "1.9 kg"],
    ),
    Case::after("in_the_future", with_bottle, &[], &["bottle", "open", "B1", "--when", "2026-11-11"]),
    Case::after("unknown_entry", begin, &[], &["strike", "70", "--because", "recorded twice"]),
    Case::after("stands_on_it", opened, &[], &["strike", "2", "--because", "recorded twice"]),
    Case::after("struck_code", struck, &[], &["bottle", "open", "B1"]),
    Case::after("unknown_kind", begin, &[], &["history", "--kind", "bottel"]),
    Case::after("bad_hash", begin, &[], &["verify", "--head", "12 entries"]),
    Case::after("no_new_value", with_bottle, &[], &["correct", "2", "--because", "misread"]),
    Case::after("no_field", with_bottle, &[], &["correct", "2", "--set", "500 g", "--because", "misread"]),
    Case::after(
        "unknown_field",
        with_bottle,
        &[],
        &["correct", "2", "--set", "nett=1 kg", "--because", "misread"],
    ),
    Case::after(
        "does_not_fit",
        with_bottle,
        &[],
        &["correct", "2", "--set", "net=80 °C", "--because", "misread"],
    ),
    Case::after(
        "nothing_changes",
        with_bottle,
        &[],
        &["correct", "2", "--mass", "500 g", "--because", "misread"],
    ),
    Case::after("no_one_mass", opened, &[], &["correct", "3", "--mass", "500 g", "--because", "misread"]),
    Case::after(
        "does_not_add_up",
        by_difference,
        &[],
        &["correct", "3", "--mass", "3 g", "--because", "misread"],
    ),
    Case::after("not_a_book", other_database, &[], &["bottle", "list"]),
    Case::after("newer_book", newer, &[], &["bottle", "list"]),
    Case::after("database", torn, &[], &["bottle", "list"]),
    Case::after("broken_chain", cut_archive, &[], &["restore", "archived", "again"]),
    Case::after("unreadable_entry", stranger, &[], &["history"]),
];

fn done(folder: &Path, arguments: &[&str]) {
    let run = run_at(folder, "2026-11-02T09:00:00Z", arguments);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{arguments:?}");
}

fn with_bottle(folder: &Path) {
    begin(folder);
    done(folder, &["bottle", "receive", "urea", "--net", "500 g"]);
}

fn opened(folder: &Path) {
    with_bottle(folder);
    done(folder, &["bottle", "open", "B1"]);
}

fn struck(folder: &Path) {
    with_bottle(folder);
    done(folder, &["strike", "2", "--because", "recorded twice"]);
}

/// Entry 3 weighs 5 g by difference of 20 g and 15 g.
fn by_difference(folder: &Path) {
    begin(folder);
    crate::book::lab::weighed_by_difference(folder);
}

fn database(folder: &Path) -> Connection {
    Connection::open(folder.join("book.sqlite")).expect("it opens")
}

fn other_database(folder: &Path) {
    begin(folder);
    database(folder).execute_batch("PRAGMA application_id = 1").expect("it is set");
}

fn newer(folder: &Path) {
    begin(folder);
    database(folder).execute_batch("PRAGMA user_version = 99").expect("it is set");
}

/// The file of the database is whole, and a table is not in it.
fn torn(folder: &Path) {
    with_bottle(folder);
    database(folder).execute_batch("DROP TABLE bottle").expect("it is dropped");
}

fn cut_archive(folder: &Path) {
    with_cells_in(folder);
    done(folder, &["archive", "archived"]);
    let path = folder.join("archived/journal.jsonl");
    let journal = fs::read_to_string(&path).expect("it is there");
    let without_third: Vec<&str> =
        journal.lines().enumerate().filter(|(at, _)| *at != 2).map(|(_, line)| line).collect();
    fs::write(&path, without_third.join("\n")).expect("it is written");
}

/// An entry of a kind that a later version may know.
fn stranger(folder: &Path) {
    begin(folder);
    let add = "INSERT INTO entry SELECT 2, book, time, author, 'bottle.sung_to', 1, payload, hash, zeroblob(32) FROM entry";
    database(folder).execute_batch(add).expect("it is added");
}
