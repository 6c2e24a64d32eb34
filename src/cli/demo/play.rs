//! Plays the story: every line goes the way that a person's goes, with the clock where the story puts it.

use std::path::Path;

use clap::{CommandFactory as _, FromArgMatches as _};
use jiff::Timestamp;

use super::bench::Bench;
use super::story::{Step, What, steps};
use super::truth::Nature;
use crate::book::BookError;
use crate::cli::args::Arguments;
use crate::cli::outcome::Failure;
use crate::cli::progress::Steps;
use crate::cli::request::{at_time, failure};
use crate::input::{Fault, Faults, Place};

/// Files that a person would have written into the book's folder: recipes and a cell design; and the truth.
const FILES: [(&str, &str); 6] = [
    ("recipes/sample-cathode-mix.toml", include_str!("../../../data/demo/recipes/sample-cathode-mix.toml")),
    (
        "recipes/sample-ethylene-glycol.toml",
        include_str!("../../../data/demo/recipes/sample-ethylene-glycol.toml"),
    ),
    ("recipes/sample-glycerol.toml", include_str!("../../../data/demo/recipes/sample-glycerol.toml")),
    ("recipes/sample-urea.toml", include_str!("../../../data/demo/recipes/sample-urea.toml")),
    ("tables/truth.toml", super::truth::TEXT),
    ("designs/sample-vial.toml", include_str!("../../../data/demo/designs/sample-vial.toml")),
];
/// What a person would have set in meltbook.toml.
const SETTINGS: &str = include_str!("../../../data/demo/settings.toml");
/// Where bench tables are kept.
const TABLES: &str = "tables";

/// Makes the book in a folder, and gives the time at which the story ends.
pub(super) fn play(folder: &str, seed: u64) -> Result<Timestamp, Failure> {
    let steps = steps().map_err(|line| stopped(line, "the line is no step"))?;
    let nature = Nature::new(seed).map_err(|error| stopped(0, &error.to_string()))?;
    let mut player =
        Player { folder, seed, bench: Bench::new(nature), parser: Arguments::command().no_binary_name(true) };
    let mut progress = Steps::new(steps.len(), "making the sample book");
    let mut end = Timestamp::UNIX_EPOCH;
    for (done, step) in steps.iter().enumerate() {
        // The folder itself is the user's doing; whatever stops the story later is not.
        let result = at_time(step.at, || player.step(step));
        result.map_err(|failure| if done == 0 { failure } else { within(step, failure) })?;
        progress.next();
        end = step.at;
    }
    Ok(end)
}

struct Player<'a> {
    folder: &'a str,
    seed: u64,
    bench: Bench,
    parser: clap::Command,
}

impl Player<'_> {
    fn step(&mut self, step: &Step) -> Result<(), Failure> {
        let folder = Path::new(self.folder);
        match &step.what {
            What::Command(words) => self.command(step, words),
            What::Remember(name) => self.bench.remember(folder, name).map_err(|error| failure(&error)),
            What::Table(words) => self.table(words).map_err(|error| failure(&error)),
        }
    }

    fn command(&mut self, step: &Step, words: &[String]) -> Result<(), Failure> {
        let begins = words.first().is_some_and(|word| word == "init");
        let mut all = vec![format!("--by={}", step.by)];
        if !begins {
            all.push(format!("--book={}", self.folder));
        }
        for word in words.iter().rev() {
            all.insert(0, self.word(step, word)?);
        }
        let matches = self.parser.try_get_matches_from_mut(&all);
        let arguments = matches
            .and_then(|matches| Arguments::from_arg_matches(&matches))
            .map_err(|error| stopped(step.line, error.to_string().trim()))?;
        crate::cli::answer(&arguments)?;
        if begins { write_files(Path::new(self.folder)).map_err(|error| failure(&error)) } else { Ok(()) }
    }

    /// `BOOK` is the folder; what stands in braces is read off.
    fn word(&self, step: &Step, word: &str) -> Result<String, Failure> {
        let word = word.replace("{seed}", &self.seed.to_string());
        if word == "BOOK" {
            return Ok(self.folder.to_owned());
        }
        if let Some(path) = word.strip_prefix("BOOK/") {
            return Ok(Path::new(self.folder).join(path).display().to_string());
        }
        self.bench.read_off(Path::new(self.folder), &word, step.at).map_err(|error| failure(&error))
    }

    fn table(&self, words: &[String]) -> Result<(), BookError> {
        let folder = Path::new(self.folder);
        let [file, what, times @ ..] = words else { return Ok(()) };
        let text = if what == "doses" {
            self.bench.doses(folder)?
        } else {
            let times: Vec<Timestamp> = times.iter().filter_map(|time| time.parse().ok()).collect();
            self.bench.table(folder, &times)?
        };
        write(&folder.join(file), &text)
    }
}

fn write_files(folder: &Path) -> Result<(), BookError> {
    let tables = folder.join(TABLES);
    std::fs::create_dir_all(&tables).map_err(|error| BookError::Io { path: tables, error })?;
    for (name, text) in FILES {
        write(&folder.join(name), text)?;
    }
    let path = folder.join("meltbook.toml");
    let settings = std::fs::read_to_string(&path);
    let settings = settings.map_err(|error| BookError::Io { path: path.clone(), error })?;
    write(&path, &format!("{settings}\n{SETTINGS}"))
}

fn write(path: &Path, text: &str) -> Result<(), BookError> {
    std::fs::write(path, text).map_err(|error| BookError::Io { path: path.to_owned(), error })
}

/// What stopped a step, and where the story was.
fn within(step: &Step, failure: Failure) -> Failure {
    let mut faults = failure.faults().clone();
    faults.extend(stopped(step.line, "this step could not be done").faults().clone());
    Failure::Storage(faults)
}

fn stopped(line: usize, what: &str) -> Failure {
    let place = Place::named(format!("the story of the sample book, line {line}"));
    let fault = Fault::new("story_stops", what.to_owned(), place);
    Failure::Storage(Faults::from(fault.with_hint(
        "The folder holds the part that was made: remove it, make room on the disk, and try again.",
    )))
}
