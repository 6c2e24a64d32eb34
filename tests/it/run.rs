//! Runs the program itself, away from whoever runs the tests: no screen, no variables of theirs, a folder
//! that is gone afterwards.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use serde_json::Value;
use tempfile::TempDir;

/// How a run ended.
pub struct Run {
    /// What stood on standard output.
    pub stdout: String,
    /// What stood on standard error.
    pub stderr: String,
    /// The exit code.
    pub code: i32,
}

/// An empty folder to run in.
pub fn folder() -> TempDir {
    tempfile::tempdir().expect("a temporary folder is made")
}

/// The program, about to run in a folder.
pub fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_meltbook"));
    command.current_dir(folder).args(arguments).env_clear().env("COLUMNS", "100");
    command.env("TZ", "UTC").env("MELTBOOK_NOW", "2026-11-25T09:00:00Z");
    command
}

/// Runs the program in a folder.
pub fn run_in(folder: &Path, arguments: &[&str]) -> Run {
    let output = command(folder, arguments).output().expect("the program starts");
    let text = |bytes| String::from_utf8(bytes).expect("the output is UTF-8");
    Run {
        stdout: text(output.stdout),
        stderr: text(output.stderr),
        code: output.status.code().expect("the program ends by itself"),
    }
}

/// Runs the program in an empty folder.
pub fn run(arguments: &[&str]) -> Run {
    run_in(folder().path(), arguments)
}

/// The standard output of a run that must end with this code and no word on standard error.
#[track_caller]
pub fn answer(arguments: &[&str], code: i32) -> String {
    let run = run(arguments);
    assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{}", line(arguments));
    run.stdout
}

/// The answer as JSON, out of an envelope that must be there.
#[track_caller]
pub fn json(arguments: &[&str], code: i32) -> Value {
    let mut all = arguments.to_vec();
    all.extend(["--format", "json"]);
    envelope(&answer(&all, code))["answer"].clone()
}

/// One JSON object with the keys that every answer has.
#[track_caller]
pub fn envelope(text: &str) -> Value {
    let value: Value = serde_json::from_str(text).expect("the answer is one JSON value");
    let object = value.as_object().expect("it is an object");
    let keys: Vec<&str> = object.keys().map(String::as_str).collect();
    assert_eq!(keys, ["meltbook", "kind", "answer", "warnings"]);
    assert_eq!(value["meltbook"], env!("CARGO_PKG_VERSION"));
    for warning in value["warnings"].as_array().expect("warnings are a list") {
        assert!(warning["code"].is_string() && warning["message"].is_string(), "{warning}");
    }
    value
}

/// Writes a file into a folder, with the folders above it.
pub fn write(folder: &Path, name: &str, content: &[u8]) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().expect("a file lies in a folder")).expect("the folder is made");
    fs::write(path, content).expect("the file is written");
}

/// The command line as a person would type it.
pub fn line(arguments: &[&str]) -> String {
    let mut line = "$ meltbook".to_owned();
    for argument in arguments {
        let plain = |c: char| c.is_alphanumeric() || "-_./=,".contains(c);
        line.push(' ');
        if !argument.is_empty() && argument.chars().all(plain) {
            line.push_str(argument);
        } else if argument.contains('"') {
            line.push_str(&format!("'{argument}'"));
        } else {
            line.push_str(&format!("\"{argument}\""));
        }
    }
    line
}

/// The words of a shell line with plain quotes.
pub fn words(text: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quote = None;
    for c in text.trim().chars() {
        match c {
            '"' | '\'' if quote.is_none() => quote = Some(c),
            _ if quote == Some(c) => quote = None,
            ' ' if quote.is_none() => words.push(String::new()),
            _ => words.last_mut().expect("there is a first word").push(c),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}
