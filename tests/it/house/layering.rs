//! Which room may import which: imports point only downward.

use std::collections::BTreeSet;
use std::path::Path;

use super::source::{Token, rust_files, shown, text, tokens};

/// Each room with the rooms that it may import. The order is that of reading.
const TABLE: &[(&str, &[&str])] = &[
    ("quantity", &[]),
    ("statistics", &[]),
    ("input", &["quantity"]),
    ("chemistry", &["quantity", "input"]),
    ("component", &["chemistry", "quantity", "input"]),
    ("recipe", &["component", "chemistry", "quantity", "input"]),
    ("plan", &["recipe", "component", "chemistry", "quantity", "input"]),
    ("caution", &["component", "chemistry", "quantity", "input"]),
    ("compose", &["component", "chemistry", "quantity", "input", "statistics"]),
    ("record", &["component", "quantity", "input", "statistics"]),
    ("cell", &["record", "component", "chemistry", "quantity", "input", "statistics"]),
    ("book", &["record", "quantity", "input"]),
    (
        "report",
        &[
            "quantity",
            "statistics",
            "input",
            "chemistry",
            "component",
            "recipe",
            "plan",
            "caution",
            "compose",
            "record",
            "cell",
        ],
    ),
    (
        "cli",
        &[
            "quantity",
            "statistics",
            "input",
            "chemistry",
            "component",
            "recipe",
            "plan",
            "caution",
            "compose",
            "record",
            "cell",
            "book",
            "report",
        ],
    ),
];

/// Libraries that one room alone knows, so that the others work without them.
const KEPT_IN: &[(&str, &str)] = &[
    ("clap", "cli"),
    ("indicatif", "cli"),
    ("rusqlite", "book"),
    ("maud", "report"),
    ("fast_qr", "report"),
    ("statrs", "statistics"),
    ("plotters", "report"),
];

#[test]
fn rooms_import_only_downward() {
    let mut broken = Vec::new();
    for file in rust_files("src") {
        let Some(room) = room_of(&file) else { continue };
        let Some((_, allowed)) = TABLE.iter().find(|(name, _)| *name == room) else {
            broken.push(format!("{}: the room {room} is not in the table", shown(&file)));
            continue;
        };
        for imported in imports(&file, &text(&file)) {
            if imported != room && !allowed.contains(&imported.as_str()) {
                broken.push(format!("{}: {room} must not import {imported}", shown(&file)));
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
fn a_library_stays_in_its_room() {
    let mut broken = Vec::new();
    for file in rust_files("src") {
        let tokens = tokens(&text(&file));
        for (library, room) in KEPT_IN {
            let knows = tokens.contains(&Token::Word((*library).to_owned()));
            if knows && room_of(&file).as_deref() != Some(room) {
                broken.push(format!("{}: only {room} may know {library}", shown(&file)));
            }
        }
    }
    assert!(broken.is_empty(), "{}", broken.join("\n"));
}

#[test]
fn main_alone_runs_the_command_line() {
    let main = tokens(&text(Path::new("src/main.rs")));
    let names = |path: &[&str]| {
        let words = main.iter().filter_map(|token| match token {
            Token::Word(word) => Some(word.as_str()),
            _ => None,
        });
        words.collect::<Vec<_>>().windows(path.len()).any(|window| window == path)
    };
    assert!(names(&["meltbook", "cli", "run"]));
    // The table lets no room import `cli`; the crate's root only declares it.
    let above: Vec<&str> =
        TABLE.iter().filter(|(_, may)| may.contains(&"cli")).map(|(room, _)| *room).collect();
    assert_eq!(above, Vec::<&str>::new());
    assert_eq!(imports(Path::new("src/lib.rs"), &text(Path::new("src/lib.rs"))), BTreeSet::new());
}

#[test]
fn every_way_to_write_an_import_is_seen() {
    let rooms = |path: &str, source: &str| imports(Path::new(path), source).into_iter().collect::<Vec<_>>();
    assert_eq!(rooms("src/plan/a.rs", "use crate::recipe::Recipe;"), ["recipe"]);
    assert_eq!(rooms("src/plan/a.rs", "use crate::{book, cli::run as go};"), ["book", "cli"]);
    assert_eq!(rooms("src/plan/a.rs", "use crate::{plan::{x, y}, book::{self, z}};"), ["book", "plan"]);
    assert_eq!(rooms("src/plan/a.rs", "let x = crate::book::open();"), ["book"]);
    assert_eq!(rooms("src/plan/a.rs", "use super::super::book::open;"), ["book"]);
    assert_eq!(rooms("src/plan/mod.rs", "use super::book::open;"), ["book"]);
    assert_eq!(rooms("src/plan/a/b.rs", "use super::super::c;"), Vec::<String>::new());
    assert_eq!(rooms("src/plan/a.rs", "// crate::book\nlet x = \"crate::book\";"), Vec::<String>::new());
}

/// The room that a file of `src` lies in; `None` for the crate's own two files.
fn room_of(file: &Path) -> Option<String> {
    let names: Vec<_> = file.iter().map(|name| name.to_string_lossy().into_owned()).collect();
    match names.as_slice() {
        [_, _] => None,
        [_, room, ..] => Some(room.clone()),
        _ => None,
    }
}

/// How many modules deep the file's own module lies: 1 for `src/plan/mod.rs`.
fn depth_of(file: &Path) -> usize {
    let below_src = file.iter().count() - 1;
    let is_folder = file.ends_with("mod.rs") || file.ends_with("lib.rs") || file.ends_with("main.rs");
    if is_folder { below_src - 1 } else { below_src }
}

/// The rooms that paths in the source start from, whether written `crate::…` or with enough `super::`.
fn imports(file: &Path, source: &str) -> BTreeSet<String> {
    let tokens = tokens(source);
    let mut rooms = BTreeSet::new();
    for start in 0..tokens.len() {
        if let Some(rest) = after_root(&tokens[start..], depth_of(file)) {
            rooms.extend(first_names(rest));
        }
    }
    rooms
}

/// What follows the crate's root, if the tokens start with a path to it.
fn after_root(tokens: &[Token], depth: usize) -> Option<&[Token]> {
    let supers = tokens.chunks(3).take_while(|chunk| starts_path(chunk, "super")).count();
    if starts_path(tokens, "crate") {
        Some(&tokens[3..])
    } else if 0 < depth && depth <= supers {
        Some(&tokens[3 * depth..])
    } else {
        None
    }
}

fn starts_path(tokens: &[Token], word: &str) -> bool {
    matches!(tokens, [Token::Word(first), Token::Sign(':'), Token::Sign(':'), ..] if first == word)
}

/// The name behind the root, or each first name in braces behind it.
fn first_names(tokens: &[Token]) -> Vec<String> {
    match tokens {
        [Token::Word(name), ..] => vec![name.clone()],
        [Token::Sign('{'), inside @ ..] => {
            let mut depth = 0usize;
            let mut names = Vec::new();
            let mut at_start = true;
            for token in inside {
                match token {
                    Token::Sign('{') => depth += 1,
                    Token::Sign('}') if depth == 0 => break,
                    Token::Sign('}') => depth -= 1,
                    Token::Sign(',') if depth == 0 => at_start = true,
                    Token::Word(name) if depth == 0 && at_start => {
                        names.push(name.clone());
                        at_start = false;
                    }
                    _ => {}
                }
            }
            names
        }
        _ => Vec::new(),
    }
}
