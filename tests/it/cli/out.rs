//! `--out`: written as asked, never over what is there.

use std::fs;

use crate::run::{answer, folder, run_in, write};

const PLAN: [&str; 4] = ["plan", "ChCl:urea 1:2", "--mass", "50 g"];

fn with(more: &[&'static str]) -> Vec<&'static str> {
    PLAN.iter().copied().chain(more.iter().copied()).collect()
}

#[test]
fn an_answer_is_written_to_a_file() {
    let folder = folder();
    let run = run_in(folder.path(), &with(&["--out", "plan.csv", "--format", "csv"]));
    assert_eq!((run.code, run.stdout.as_str(), run.stderr.as_str()), (0, "", ""));
    let written = fs::read_to_string(folder.path().join("plan.csv")).expect("it is written");
    assert_eq!(written, answer(&with(&["--format", "csv"]), 0));
}

#[test]
fn what_is_there_stays_unless_forced() {
    let folder = folder();
    let path = folder.path().join("plan.txt");
    write(folder.path(), "plan.txt", b"the plan of last week");
    let refused = run_in(folder.path(), &with(&["--out", "plan.txt"]));
    assert_eq!((refused.code, refused.stdout.as_str()), (2, ""));
    assert!(refused.stderr.contains("error[file_exists]"), "{}", refused.stderr);
    assert_eq!(fs::read(&path).expect("it is there"), b"the plan of last week");
    let forced = run_in(folder.path(), &with(&["--out", "plan.txt", "--force"]));
    assert_eq!((forced.code, forced.stdout.as_str(), forced.stderr.as_str()), (0, "", ""));
    assert_eq!(fs::read_to_string(&path).expect("it is there"), answer(&PLAN, 0));
}

/// A fault of the input is found before anything is written.
#[test]
fn a_fault_writes_nothing() {
    let folder = folder();
    write(folder.path(), "old.txt", b"old");
    let wrong = ["plan", "ChCl:ureum 1:2", "--mass", "50 g", "--out"];
    for (name, more) in [("new.txt", &[][..]), ("old.txt", &["--force"])] {
        let mut arguments = wrong.to_vec();
        arguments.push(name);
        arguments.extend(more);
        assert_eq!(run_in(folder.path(), &arguments).code, 2);
    }
    assert!(!folder.path().join("new.txt").exists());
    assert_eq!(fs::read(folder.path().join("old.txt")).expect("it is there"), b"old");
}

#[test]
fn a_folder_that_is_not_there_is_a_fault_of_storage() {
    let run = run_in(folder().path(), &with(&["--out", "nowhere/plan.txt"]));
    assert_eq!(run.code, 3);
}

#[test]
fn force_without_a_file_is_refused() {
    assert_eq!(run_in(folder().path(), &with(&["--force"])).code, 2);
}
