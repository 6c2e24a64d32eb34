//! The sample book as its reader sees it, kept whole, and what the story promises to hold.

use super::{NOW, Sample, run};
use crate::golden;

#[test]
fn its_screens_are_kept() {
    let folder = crate::run::folder();
    let made = run(folder.path(), &["demo", "sample"]);
    assert_eq!((made.code, made.stderr.as_str()), (0, ""));
    let book = folder.path().join("sample");
    let mut pages = vec![("demo/demo.txt".to_owned(), made.stdout)];
    let screens: [(&str, &[&str]); 13] = [
        ("bottle-list.txt", &["bottle", "list", "--all"]),
        ("batch-list.txt", &["batch", "list", "--all"]),
        ("batch-show.txt", &["batch", "show", "E8"]),
        ("batch-show-rejected.txt", &["batch", "show", "E7"]),
        ("cell-list.txt", &["cell", "list", "--all"]),
        ("cell-list.csv", &["cell", "list", "--all", "--format", "csv"]),
        ("cell-show-failed.txt", &["cell", "show", "C9"]),
        ("reading-list.txt", &["reading", "list"]),
        ("reading-list.md", &["reading", "list", "C1-C3", "--what", "open-circuit", "--format", "markdown"]),
        ("due.txt", &["due"]),
        ("due.csv", &["due", "--format", "csv"]),
        ("history.txt", &["history"]),
        ("history-odd.txt", &["history", "--odd"]),
    ];
    for (name, arguments) in screens {
        let run = run(&book, arguments);
        assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{arguments:?}");
        pages.push((format!("demo/{name}"), run.stdout));
    }
    golden::check_all(&pages);
    let names: Vec<String> = pages.into_iter().map(|(name, _)| name).collect();
    golden::nothing_else_in("demo", &names);
}

/// A row for each entry in what scripts get, however people are shown them.
#[test]
fn scripts_get_every_row() {
    let sample = Sample::new();
    let rows = |arguments: &[&str]| sample.said(arguments).lines().count() - 1;
    let entries = sample.json(&["history"])["entries"].as_array().map(Vec::len).expect("a list");
    assert_eq!(rows(&["history", "--format", "csv"]), entries);
    let each = sample.said(&["history", "--each"]);
    assert!(entries < each.lines().count(), "one line for each at least");
    assert!(sample.said(&["history"]).lines().count() < entries / 3);
    assert_eq!(rows(&["due", "--format", "csv"]), sample.json(&["due"]).as_array().map_or(0, Vec::len));
}

/// Everything that the story is to show is in it.
#[test]
fn the_story_holds_what_it_promises() {
    let sample = Sample::new();
    let list = |arguments: &[&str]| sample.json(arguments).as_array().cloned().expect("a list");
    let cells = list(&["cell", "list", "--all"]);
    assert_eq!(cells.len(), 36);
    let causes: Vec<&str> = cells.iter().filter_map(|cell| cell["cause"].as_str()).collect();
    assert_eq!(causes, ["internal short", "leak"]);
    let batches = list(&["batch", "list", "--all"]);
    let status = |wanted: &str| batches.iter().filter(|batch| batch["status"] == wanted).count();
    assert_eq!((status("rejected"), batches.len()), (1, 13));
    let entries = sample.json(&["history"])["entries"].as_array().cloned().expect("a list");
    let kind = |wanted: &str| entries.iter().filter(|entry| entry["kind"] == wanted).count();
    for (wanted, count) in
        [("batch.blended", 1), ("entry.corrected", 1), ("entry.struck", 1), ("bottle.dried", 1)]
    {
        assert_eq!(kind(wanted), count, "{wanted}");
    }
    let days: std::collections::BTreeSet<&str> = entries
        .iter()
        .filter(|entry| entry["kind"] == "reading.taken")
        .filter_map(|entry| entry["happened"].as_str().map(|time| &time[..10]))
        .collect();
    assert_eq!((days.first(), days.last()), (Some(&"2026-09-09"), Some(&"2026-10-21")), "six weeks");
    assert!(NOW.starts_with("2026-10-21"), "the screens are those of the last day");
}
