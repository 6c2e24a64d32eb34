//! Faults of a book and of what is recorded in it.

use super::case::Case;

const NO_JOURNAL: &[(&str, &str)] =
    &[("half/journal.jsonl", "{}\n"), ("half/meltbook.toml", "laboratory = \"x\"\n")];
const NO_DATABASE: &[(&str, &str)] =
    &[("lab/book.sqlite", "some text"), ("lab/meltbook.toml", "laboratory = \"x\"\n")];

/// Half of a bottle of 100 g is dried.
const DRIED: &[&[&str]] = &[
    &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
    &["bottle", "receive", "urea", "--net", "100 g", "--book", "lab"],
    &["bottle", "dry", "B1", "--taken", "50 g", "--dried", "49 g", "--book", "lab"],
];

pub const CASES: &[Case] = &[
    Case::of("no_book", &["bottle", "list"]),
    Case::of("no_book", &["bottle", "list", "--book", "nowhere"]),
    Case::of("no_author", &["init", "lab"]),
    Case { files: &[("lab/x.txt", "x")], ..Case::of("not_empty", &["init", "lab", "--by", "AB"]) },
    Case { files: NO_DATABASE, ..Case::of("not_a_book", &["bottle", "list", "--book", "lab"]) },
    Case { files: NO_JOURNAL, ..Case::of("broken_chain", &["restore", "half", "whole"]) },
    Case::of("file_system", &["restore", "nothing", "whole"]),
    Case::in_lab(
        "bad_date",
        &["bottle", "receive", "urea", "--net", "5 g", "--expires", "soon", "--book", "lab"],
    ),
    Case::in_lab("bad_time", &["bottle", "weigh", "B1", "5 g", "--when", "yesterday", "--book", "lab"]),
    Case::in_lab(
        "bad_price",
        &["bottle", "receive", "urea", "--net", "5 g", "--price", "cheap", "--book", "lab"],
    ),
    Case::in_lab("empty_bottle", &["bottle", "receive", "urea", "--net", "0 g", "--book", "lab"]),
    Case::in_lab("no_reason", &["bottle", "dispose", "B1", "--book", "lab"]),
    Case::in_lab("unknown_code", &["bottle", "open", "B9", "--book", "lab"]),
    Case::in_lab("bad_code", &["bottle", "open", "urea", "--book", "lab"]),
    Case::in_lab("wrong_kind", &["bottle", "show", "E1", "--book", "lab"]),
    Case::in_lab("refused", &["bottle", "open", "B1", "--book", "lab"]),
    Case::in_lab(
        "refused",
        &["bottle", "dry", "B1", "--taken", "200 g", "--dried", "199 g", "--book", "lab"],
    ),
    Case::in_lab("stands_on_it", &["strike", "2", "--because", "never came", "--book", "lab"]),
    Case::in_lab("unknown_entry", &["strike", "99", "--because", "x", "--book", "lab"]),
    Case {
        before: &[
            &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
            &["bottle", "receive", "urea", "--net", "100 g", "--book", "lab"],
            &["strike", "2", "--because", "never came", "--book", "lab"],
        ],
        ..Case::of("struck_code", &["bottle", "open", "B1", "--book", "lab"])
    },
    Case {
        before: DRIED,
        ..Case::of(
            "below_nothing",
            &["correct", "2", "--mass", "40 g", "--because", "misread", "--book", "lab"],
        )
    },
    Case {
        before: DRIED,
        ..Case::of(
            "refused",
            &["correct", "3", "--set", "taken=120 g", "--because", "misread", "--book", "lab"],
        )
    },
    Case::in_lab("bad_hash", &["verify", "--head", "xyz", "--book", "lab"]),
    Case::in_lab("unknown_kind", &["history", "--kind", "batches", "--book", "lab"]),
    Case::in_lab("no_new_value", &["correct", "2", "--because", "x", "--book", "lab"]),
    Case::in_lab("no_field", &["correct", "2", "--set", "net", "--because", "x", "--book", "lab"]),
    Case::in_lab("unknown_field", &["correct", "2", "--set", "nett=5 g", "--because", "x", "--book", "lab"]),
    Case::in_lab("no_one_mass", &["correct", "3", "--mass", "5 g", "--because", "x", "--book", "lab"]),
    Case::in_lab("nothing_changes", &["correct", "2", "--mass", "100 g", "--because", "x", "--book", "lab"]),
    Case::in_lab("does_not_fit", &["correct", "2", "--set", "net=heavy", "--because", "x", "--book", "lab"]),
];
