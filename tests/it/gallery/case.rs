//! One reproducer: the files that it needs, the command line, and the code that must come.

use std::path::Path;

use tempfile::TempDir;

use crate::run::{Run, folder, line, run_in, write};

/// A way to make the program refuse.
pub struct Case {
    /// The code of the fault.
    pub code: &'static str,
    /// The files in the folder, by name.
    pub files: &'static [(&'static str, &'static str)],
    /// Files that are no text.
    pub raw: &'static [(&'static str, &'static [u8])],
    /// Commands that go before, and are answered.
    pub before: &'static [&'static [&'static str]],
    /// The arguments.
    pub arguments: &'static [&'static str],
}

/// A book in the folder `lab` with one bottle of urea, B1, that is opened.
const LAB: &[&[&str]] = &[
    &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
    &["bottle", "receive", "urea assay=99.5%", "--net", "100 g", "--book", "lab"],
    &["bottle", "open", "B1", "--book", "lab"],
];

/// The same with a batch, E1, of which the first component is weighed.
const BATCH: &[&[&str]] = &[
    &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
    &["bottle", "receive", "ChCl", "--net", "100 g", "--book", "lab"],
    &["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--bottle", "B1", "--book", "lab"],
    &["batch", "weigh", "E1", "ChCl", "--gross", "131.761 g", "--tare", "100 g", "--book", "lab"],
];

impl Case {
    /// A case with nothing but arguments.
    pub const fn of(code: &'static str, arguments: &'static [&'static str]) -> Self {
        Self { code, files: &[], raw: &[], before: &[], arguments }
    }

    /// A recipe file of this text, planned at 50 g.
    pub const fn recipe(code: &'static str, files: &'static [(&'static str, &'static str)]) -> Self {
        Self { code, files, raw: &[], before: &[], arguments: &["plan", "mine.toml", "--mass", "50 g"] }
    }

    /// A table of components of this text, checked.
    pub const fn table(code: &'static str, files: &'static [(&'static str, &'static str)]) -> Self {
        Self { code, files, raw: &[], before: &[], arguments: &["component", "check", "own.toml"] }
    }

    /// A case in a book with one opened bottle, B1. The arguments name the book `lab`.
    pub const fn in_lab(code: &'static str, arguments: &'static [&'static str]) -> Self {
        Self { code, files: &[], raw: &[], before: LAB, arguments }
    }

    /// A case in a book with a batch, E1, of which one component is weighed out of B1. The arguments name the
    /// book `lab`.
    pub const fn of_batch(code: &'static str, arguments: &'static [&'static str]) -> Self {
        Self { code, files: &[], raw: &[], before: BATCH, arguments }
    }

    /// The folder with the files in it, and the commands run that go before.
    pub fn folder(&self) -> TempDir {
        let folder = folder();
        for (name, content) in self.files {
            write(folder.path(), name, content.as_bytes());
        }
        for (name, content) in self.raw {
            write(folder.path(), name, content);
        }
        for arguments in self.before {
            let run = run_in(folder.path(), arguments);
            assert_eq!(run.code, 0, "{}: {}", line(arguments), run.stderr);
        }
        folder
    }

    /// What a person sees.
    pub fn picture(&self) -> String {
        let folder = self.folder();
        picture(folder.path(), self.arguments)
    }

    /// The same run for a script; `None` if the case asks for another format.
    pub fn json(&self) -> Option<Run> {
        let mut arguments = self.arguments.to_vec();
        if !arguments.contains(&"json") {
            if arguments.contains(&"--format") {
                return None;
            }
            arguments.extend(["--format", "json"]);
        }
        Some(run_in(self.folder().path(), &arguments))
    }
}

/// Command line, all output and exit code, as a person sees them.
pub fn picture(folder: &Path, arguments: &[&str]) -> String {
    let run = run_in(folder, arguments);
    let line = line(arguments);
    format!("{line}\n{}{}exit {}\n", run.stdout, run.stderr, run.code)
}
