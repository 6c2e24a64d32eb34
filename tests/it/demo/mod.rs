//! The sample book: always the same, whole, readable, and true to the model that it was made from.

mod report;
mod screens;
mod truth;
mod verdict;

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use serde_json::Value;
use tempfile::TempDir;

use crate::run::{Run, command, envelope, folder, line};

/// When the story has just ended.
pub const NOW: &str = "2026-10-21T15:00:00Z";

/// A sample book in a folder that is gone afterwards.
pub struct Sample {
    folder: TempDir,
}

impl Sample {
    /// The book of the usual seed.
    pub fn new() -> Self {
        Self::of(&["demo", "sample"])
    }

    fn of(arguments: &[&str]) -> Self {
        let sample = Self { folder: folder() };
        let run = run(sample.folder.path(), arguments);
        assert_eq!((run.code, run.stderr.as_str()), (0, ""));
        sample
    }

    /// The book's folder.
    pub fn path(&self) -> PathBuf {
        self.folder.path().join("sample")
    }

    /// What stands on the screen of a command in it.
    #[track_caller]
    pub fn said(&self, arguments: &[&str]) -> String {
        let run = run(&self.path(), arguments);
        assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{}", line(arguments));
        run.stdout
    }

    /// The answer of a command in it.
    #[track_caller]
    pub fn json(&self, arguments: &[&str]) -> Value {
        let mut all = arguments.to_vec();
        all.extend(["--format", "json"]);
        envelope(&self.said(&all))["answer"].clone()
    }
}

/// Runs the program when the story has just ended.
fn run(folder: &Path, arguments: &[&str]) -> Run {
    let output = command(folder, arguments).env("MELTBOOK_NOW", NOW).output().expect("the program starts");
    let text = |bytes| String::from_utf8(bytes).expect("the output is UTF-8");
    Run {
        stdout: text(output.stdout),
        stderr: text(output.stderr),
        code: output.status.code().expect("the program ends by itself"),
    }
}

/// Every file below a folder with its bytes.
fn files(folder: &Path) -> BTreeMap<PathBuf, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(next) = open.pop() {
        for entry in fs::read_dir(next).expect("the folder can be read") {
            let path = entry.expect("the entry can be read").path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("it lies below").to_owned();
                found.insert(name, fs::read(&path).expect("the file can be read"));
            }
        }
    }
    found
}

/// Whoever makes it, wherever and whenever.
#[test]
fn the_same_seed_gives_the_same_book() {
    let here = Sample::new();
    let elsewhere = folder();
    let output = command(elsewhere.path(), &["demo", "deeper/another-name", "--seed", "907"])
        .env("TZ", "Asia/Kathmandu")
        .env("MELTBOOK_NOW", "2031-01-01T00:00:00Z")
        .env("MELTBOOK_AUTHOR", "ZZ")
        .env("MELTBOOK_BOOK", "nowhere")
        .output()
        .expect("the program starts");
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]));
    let (one, other) = (files(&here.path()), files(&elsewhere.path().join("deeper/another-name")));
    assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>());
    for (name, bytes) in &one {
        assert!(other[name] == *bytes, "{} differs", name.display());
    }
}

#[test]
fn another_seed_gives_other_readings_of_the_same_story() {
    let (one, other) = (Sample::new(), Sample::of(&["demo", "sample", "--seed", "12"]));
    let read = |sample: &Sample| {
        let list = sample.json(&["reading", "list", "--what", "open-circuit"]);
        list.as_array().expect("a list").iter().map(|reading| reading["text"].clone()).collect::<Vec<_>>()
    };
    assert_eq!(read(&one).len(), read(&other).len());
    assert_ne!(read(&one), read(&other));
    assert_eq!(other.json(&["verify"])["findings"].as_array().map(Vec::len), Some(0));
}

#[test]
fn it_is_whole_and_survives_its_archive() {
    let sample = Sample::new();
    sample.said(&["verify"]);
    sample.said(&["archive", "../archived"]);
    sample.said(&["restore", "../archived", "../again"]);
    let head = sample.json(&["verify"])["head"].clone();
    assert_eq!(sample.json(&["verify", "--book", "../again"])["head"], head);
    sample.said(&["archive", "../archived-again", "--book", "../again"]);
    let (one, again) = (sample.path().join("../archived"), sample.path().join("../archived-again"));
    assert!(files(&one) == files(&again), "the archive of the restored book is another");
}

/// What is there stays there.
#[test]
fn it_is_never_made_over_anything() {
    let folder = folder();
    crate::run::write(folder.path(), "mine/notes.txt", b"mine");
    let run = run(folder.path(), &["demo", "mine"]);
    assert_eq!(run.code, 2);
    assert!(run.stderr.contains("error[not_empty]"), "{}", run.stderr);
    let left = files(folder.path());
    assert_eq!(left.into_iter().collect::<Vec<_>>(), [(PathBuf::from("mine/notes.txt"), b"mine".to_vec())]);
}
