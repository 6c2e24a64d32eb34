//! One reproducer: the files that it needs, the command line, and the code that must come.

use std::path::Path;

use tempfile::TempDir;

use crate::book::lab::run_at;
use crate::run::{Run, folder, line, run_in, write};

/// When a case with a book is run.
const NOW: &str = "2026-11-10T09:00:00Z";

/// A way to make the program refuse.
pub struct Case {
    /// The code of the fault.
    pub code: &'static str,
    /// The files in the folder, by name.
    pub files: &'static [(&'static str, &'static str)],
    /// Files that are no text.
    pub raw: &'static [(&'static str, &'static [u8])],
    /// The arguments.
    pub arguments: &'static [&'static str],
    /// What is done in the folder first; where anything is, AB runs the program.
    pub before: Option<fn(&Path)>,
}

impl Case {
    /// A case with nothing but arguments.
    pub const fn of(code: &'static str, arguments: &'static [&'static str]) -> Self {
        Self { code, files: &[], raw: &[], arguments, before: None }
    }

    /// A case in a folder in which something was done before.
    pub const fn after(
        code: &'static str,
        before: fn(&Path),
        files: &'static [(&'static str, &'static str)],
        arguments: &'static [&'static str],
    ) -> Self {
        Self { code, files, raw: &[], arguments, before: Some(before) }
    }

    /// A recipe file of this text, planned at 50 g.
    pub const fn recipe(code: &'static str, files: &'static [(&'static str, &'static str)]) -> Self {
        Self { code, files, raw: &[], arguments: &["plan", "mine.toml", "--mass", "50 g"], before: None }
    }

    /// A table of components of this text, checked.
    pub const fn table(code: &'static str, files: &'static [(&'static str, &'static str)]) -> Self {
        Self { code, files, raw: &[], arguments: &["component", "check", "own.toml"], before: None }
    }

    /// The folder with the files in it.
    pub fn folder(&self) -> TempDir {
        let folder = folder();
        if let Some(before) = self.before {
            before(folder.path());
        }
        for (name, content) in self.files {
            write(folder.path(), name, content.as_bytes());
        }
        for (name, content) in self.raw {
            write(folder.path(), name, content);
        }
        folder
    }

    /// What a person sees.
    pub fn picture(&self) -> String {
        let folder = self.folder();
        picture_of(self.arguments, &self.run(folder.path(), self.arguments))
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
        Some(self.run(self.folder().path(), &arguments))
    }

    fn run(&self, folder: &Path, arguments: &[&str]) -> Run {
        if self.before.is_some() { run_at(folder, NOW, arguments) } else { run_in(folder, arguments) }
    }
}

/// Command line, all output and exit code, as a person sees them.
fn picture_of(arguments: &[&str], run: &Run) -> String {
    let line = line(arguments);
    format!("{line}\n{}{}exit {}\n", run.stdout, run.stderr, run.code)
}
