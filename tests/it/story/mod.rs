//! One story through the program alone, from an empty folder to the readings that are due, with the slips of a tired
//! person and what the program says to them. Each chapter is kept as the screens that its reader saw. Everything
//! in it is invented.

use std::fs;
use std::path::Path;

use crate::golden;
use crate::run::{command, folder, line, words};

/// The chapters in their order, in `tests/fixtures/story`.
const CHAPTERS: [&str; 7] =
    ["1-bottles", "2-a-batch", "3-qualified", "4-cells", "5-readings", "6-put-right", "7-thread"];

/// What lies about on the bench.
const FILES: [&str; 3] = ["evening.toml", "volts.csv", "volts-again.csv"];

#[test]
fn from_an_empty_folder_to_the_thread_between_all() {
    let fixtures = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/story");
    let folder = folder();
    for name in FILES {
        fs::copy(fixtures.join(name), folder.path().join(name)).expect("the file is copied");
    }
    let mut pages = Vec::new();
    for chapter in CHAPTERS {
        let text = fs::read_to_string(fixtures.join(format!("{chapter}.txt"))).expect("a chapter is there");
        pages.push((format!("story/{chapter}.txt"), played(folder.path(), &text)));
    }
    golden::check_all(&pages);
    let names: Vec<String> = pages.into_iter().map(|(name, _)| name).collect();
    golden::nothing_else_in("story", &names);
}

/// The screens of a chapter. A line with `@` sets the clock; a slip has `?` before it, and must be refused.
fn played(folder: &Path, chapter: &str) -> String {
    let mut screens = Vec::new();
    let mut now = "";
    for text in chapter.lines().map(str::trim).filter(|line| !line.is_empty()) {
        if let Some(time) = text.strip_prefix("@ ") {
            now = time;
            continue;
        }
        let (slip, typed) = text.strip_prefix("? ").map_or((false, text), |typed| (true, typed));
        let words = words(typed.strip_prefix("meltbook").expect("a line is a command"));
        let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
        screens.push(screen(folder, now, &arguments, slip));
    }
    screens.join("\n")
}

fn screen(folder: &Path, now: &str, arguments: &[&str], slip: bool) -> String {
    let here = if folder.join("lab").is_dir() { folder.join("lab") } else { folder.to_owned() };
    let output = command(&here, arguments).env("MELTBOOK_NOW", now).output().expect("the program starts");
    let text = |bytes| String::from_utf8(bytes).expect("the output is UTF-8");
    let (out, err) = (text(output.stdout), text(output.stderr));
    let code = output.status.code().expect("the program ends by itself");
    let line = line(arguments);
    assert_eq!(code == 2, slip, "{line}\n{out}{err}");
    assert!(slip == out.is_empty() && slip != err.is_empty(), "{line}\n{out}{err}");
    if slip { format!("{line}\n{err}exit {code}\n") } else { format!("{line}\n{out}") }
}
