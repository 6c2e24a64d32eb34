//! The gallery of faults: for every code that the program knows, a way to get it and the exact message.
//!
//! A message says where, what was given, the rule and the difference; it is in lower case and has no full
//! stop. The hint is the way out, as a sentence on its own line.

mod batch;
mod blend;
mod book;
mod candidates;
mod case;
mod cell;
mod codes;
mod component;
mod compose;
mod file;
mod flag;
mod formula;
mod log;
mod metric;
mod mixture;
mod observations;
mod recipe;
mod size;
mod statistics;
mod study;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use crate::golden;
use case::Case;

/// Codes that no command line can bring about, each with the reason.
const UNREACHABLE: &[(&str, &str)] = &[
    ("all_water", "the command line refuses it as bad_fraction, like any other water content"),
    ("bad_json", "an event of quantities that were read from text is always JSON"),
    ("busy", "needs another process that writes for longer than the wait"),
    ("database", "needs a database that breaks between opening and reading; see book/open.rs"),
    ("newer_book", "needs a newer program; see book/open.rs"),
    ("unreadable_entry", "needs an entry that was changed by another tool; see book/journal.rs"),
    ("file_changed", "needs an instrument that writes on while the file is read"),
    ("no_zone", "the computer must not know where it is"),
    ("no_liquid", "the argument parser reports it as bad_arguments"),
    ("no_seed", "the computer must have no random numbers"),
    ("no_solvent", "a recipe's parts are above 0, and a ratio of water alone counts on its water"),
    ("no_tolerance", "the command line refuses it as bad_tolerance, which names the place"),
    (
        "story_stops",
        "the story comes with the program; needs a disk that fills while the sample book is made",
    ),
    ("unprintable_label", "no code of a book is so long"),
    ("unknown_format", "the argument parser reports it as bad_arguments"),
];

fn cases() -> Vec<&'static Case> {
    [
        component::CASES,
        file::CASES,
        flag::CASES,
        formula::CASES,
        recipe::CASES,
        size::CASES,
        blend::CASES,
        book::CASES,
        batch::CASES,
        cell::CASES,
        log::CASES,
        metric::CASES,
        observations::CASES,
        statistics::CASES,
        study::CASES,
        compose::CASES,
        mixture::CASES,
        candidates::CASES,
    ]
    .into_iter()
    .flatten()
    .collect()
}

#[test]
fn every_fault_reads_as_kept() {
    let mut count: BTreeMap<&str, usize> = BTreeMap::new();
    let mut pictures = Vec::new();
    let mut other = Vec::new();
    for case in cases() {
        let count = count.entry(case.code).or_default();
        *count += 1;
        let name = match *count {
            1 => format!("faults/{}.txt", case.code),
            more => format!("faults/{}-{more}.txt", case.code),
        };
        let picture = case.picture();
        let named = [format!("error[{}]", case.code), format!("\"code\": \"{}\"", case.code)];
        if !named.iter().any(|named| picture.contains(named)) {
            other.push(format!("{name} holds another fault:\n{picture}"));
        }
        pictures.push((name, picture));
    }
    assert!(other.is_empty(), "{}", other.join("\n"));
    golden::check_all(&pictures);
    let mut names: Vec<String> = pictures.into_iter().map(|(name, _)| name).collect();
    names.push("faults/several.json".to_owned());
    golden::nothing_else_in("faults", &names);
}

#[test]
fn every_code_is_in_the_gallery() {
    let shown: BTreeSet<&str> = cases().iter().map(|case| case.code).collect();
    let unreachable: BTreeSet<&str> = UNREACHABLE.iter().map(|(code, _)| *code).collect();
    let known = codes::in_source();
    let missing: Vec<&String> = known
        .iter()
        .filter(|code| !shown.contains(code.as_str()) && !unreachable.contains(code.as_str()))
        .collect();
    assert!(missing.is_empty(), "no reproducer for {missing:?}");
    let gone: Vec<&&str> = shown.union(&unreachable).filter(|code| !known.contains(**code)).collect();
    assert!(gone.is_empty(), "the source has no such code: {gone:?}");
    let both: Vec<&&str> = shown.intersection(&unreachable).collect();
    assert!(both.is_empty(), "reached after all: {both:?}");
}

/// The form of every message, read from the JSON that scripts get.
#[test]
fn every_fault_has_its_form() {
    let mut bad = Vec::new();
    for case in cases() {
        let Some(run) = case.json() else { continue };
        let command = crate::run::line(case.arguments);
        let refusal: Value =
            serde_json::from_str(&run.stderr).unwrap_or_else(|_| panic!("{command}: {}", run.stderr));
        assert_eq!((run.stdout.as_str(), &refusal["kind"]), ("", &Value::from("fault")), "{command}");
        assert!(matches!(run.code, 2 | 3), "{command}: exit {}", run.code);
        let faults = refusal["faults"].as_array().expect("faults are a list");
        assert!(faults.iter().any(|fault| fault["code"] == case.code), "{command}: {faults:?}");
        for fault in faults {
            bad.extend(bad_form(fault).map(|rule| format!("{command}: {rule}: {fault}")));
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}

/// The first rule of style that a fault breaks.
fn bad_form(fault: &Value) -> Option<&'static str> {
    let text = |key: &str| fault[key].as_str().unwrap_or_default();
    let (message, hint) = (text("message"), text("hint"));
    let rules = [
        (text("where").is_empty(), "it says where"),
        (message.is_empty() || message.ends_with(['.', '!', ' ']), "a message has no full stop"),
        (
            message.starts_with(char::is_uppercase) && !keeps_its_capital(message),
            "a message is in lower case",
        ),
        (!hint.starts_with(char::is_uppercase), "a hint begins like a sentence"),
        (!hint.ends_with(['.', '?']), "a hint ends like a sentence"),
        (message.contains('\n') || hint.contains('\n'), "message and hint are one line each"),
    ];
    rules.into_iter().find(|(broken, _)| *broken).map(|(_, rule)| rule)
}

/// Names of substances and formulas keep their capitals.
fn keeps_its_capital(message: &str) -> bool {
    let first = message.split_whitespace().next().unwrap_or_default();
    first.chars().filter(|c| c.is_uppercase()).count() > 1 || first.contains(|c: char| c.is_ascii_digit())
}

#[test]
fn scripts_get_all_faults_of_a_file() {
    let run = recipe::SEVERAL.json().expect("it asks for no format");
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    golden::check("faults/several.json", &run.stderr);
}
