//! A book in a folder of its own, and commands on it at a fixed time.

use std::path::{Path, PathBuf};

use meltbook::book::Book;
use serde_json::Value;
use tempfile::TempDir;

use crate::run::{Run, command, envelope, folder, line, write};

/// A recipe with every kind of limit. The numbers are invented.
pub const LIMITED: &str = r#"
name = "ethaline with limits"
basis = "mole"
ratio_tolerance = "1 %"

[[part]]
component = "ChCl"
ratio = 1

[[part]]
component = "EG"
ratio = 2

[limits]
water = "max 5.5 wt%"
density = "1.08 to 1.13 g/mL at 25 °C"
appearance = "clear"
age = "30 d"
"#;

/// A bench with a book.
pub struct Bench {
    folder: TempDir,
    now: &'static str,
}

impl Bench {
    /// A new book.
    pub fn new() -> Self {
        let bench = Self { folder: folder(), now: "2026-11-25T09:00:00Z" };
        bench.said(&["init", ".", "--laboratory", "the test bench"], 0);
        bench
    }

    /// The same book at another time.
    pub fn at(&mut self, now: &'static str) -> &mut Self {
        self.now = now;
        self
    }

    /// The book's folder.
    pub fn path(&self) -> PathBuf {
        self.folder.path().to_owned()
    }

    /// Writes a file into the book's folder.
    pub fn write(&self, name: &str, content: &str) {
        write(Path::new(self.folder.path()), name, content.as_bytes());
    }

    /// Runs the program as AB.
    pub fn run(&self, arguments: &[&str]) -> Run {
        let mut command = command(self.folder.path(), arguments);
        let output = command.env("MELTBOOK_NOW", self.now).env("MELTBOOK_AUTHOR", "AB").output();
        let output = output.expect("the program starts");
        let text = |bytes| String::from_utf8(bytes).expect("the output is UTF-8");
        Run {
            stdout: text(output.stdout),
            stderr: text(output.stderr),
            code: output.status.code().expect("the program ends by itself"),
        }
    }

    /// What stands on the screen of a run that ends with this code.
    #[track_caller]
    pub fn said(&self, arguments: &[&str], code: i32) -> String {
        let run = self.run(arguments);
        assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{}", line(arguments));
        run.stdout
    }

    /// The answer of a run that ends with this code.
    #[track_caller]
    pub fn json(&self, arguments: &[&str], code: i32) -> Value {
        let mut all = arguments.to_vec();
        all.extend(["--format", "json"]);
        envelope(&self.said(&all, code))["answer"].clone()
    }

    /// The refusal of a run: it must hold this code of a fault, and change nothing.
    #[track_caller]
    pub fn refused(&self, arguments: &[&str], code: &str) -> String {
        let before = self.head();
        let run = self.run(arguments);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{}", line(arguments));
        assert!(run.stderr.contains(&format!("error[{code}]")), "{}: {}", line(arguments), run.stderr);
        assert_eq!(self.head(), before, "a refusal changes nothing");
        run.stderr
    }

    /// Takes in a bottle.
    #[track_caller]
    pub fn bottle(&self, component: &str, more: &[&str]) {
        let mut all = vec!["bottle", "receive", component, "--net", "500 g"];
        all.extend(more);
        self.said(&all, 0);
    }

    /// The book, by the library.
    pub fn book(&self) -> Book {
        Book::open(self.folder.path()).expect("the book opens")
    }

    fn head(&self) -> u64 {
        self.book().head().expect("it can be read").0
    }

    /// Everything is as a replay of the journal makes it.
    #[track_caller]
    pub fn verify(&self) {
        let verification = self.book().verify().expect("it can be read");
        assert_eq!(verification.findings, Vec::new());
    }
}

/// A number of an answer.
#[track_caller]
pub fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is a number"))
}

/// The line of a component.
#[track_caller]
pub fn line_of<'v>(answer: &'v Value, component: &str) -> &'v Value {
    let lines = answer["lines"].as_array().expect("lines are a list");
    lines
        .iter()
        .find(|line| line["component"] == component)
        .unwrap_or_else(|| panic!("no line of {component}"))
}

/// What was made went somewhere or is left.
#[track_caller]
pub fn reconciles(batch: &Value) {
    let of = |key: &str| number(&batch[key]);
    let made = of("put_in_g") - of("lost_g");
    approx::assert_abs_diff_eq!(of("total_g"), made, epsilon = 1e-9);
    let left = of("total_g") - of("dispensed_g") - of("wasted_g") + of("difference_g");
    approx::assert_abs_diff_eq!(of("left_g"), left, epsilon = 1e-9);
}
