//! What a study is to be, from flags and a file; flags win.

use clap::Args;

use super::source::read_text;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Faults, Place, TableReader, TomlFile};

/// The arguments of `study plan`.
#[derive(Debug, Args)]
pub(in crate::cli) struct StudyOptions {
    /// A file with the same by the names of the flags (TOML); flags win over it
    #[arg(value_name = "FILE")]
    file: Option<String>,
    /// The question in words
    #[arg(long, value_name = "TEXT")]
    question: Option<String>,
    /// A recipe, or batches, with a short name: "choline-chloride-urea-1-2 name=urea" or "E1 E8 name=A"; one for
    /// each electrolyte
    #[arg(long, value_name = "RECIPE or CODES")]
    electrolyte: Vec<String>,
    /// The one value of each cell that is compared, such as "voltage day=14"
    #[arg(long, value_name = "METRIC")]
    metric: Option<String>,
    /// How many cells of each electrolyte
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u32).range(2..=10_000))]
    cells: Option<u32>,
    /// The day of the comparison; a look before it is counted
    #[arg(long, value_name = "DATE")]
    ends: Option<String>,
    /// Blocks to build in, each with its share of every electrolyte: their number, or "day 2026-11-25 2026-11-26",
    /// or "operator AB CD" [default: as many as cells, each with one of every electrolyte]
    #[arg(long, value_name = "BLOCKS")]
    blocks: Option<String>,
    /// A reading beyond those of the cell design: "open-circuit every=7d until=42d" or "under-load after=14d";
    /// repeatable
    #[arg(long, value_name = "KIND key=value…")]
    reading: Vec<String>,
    /// A physical cause for which a cell may be left out; repeatable [default: leak, short, dry, wrong-dose]
    #[arg(long, value_name = "CAUSE")]
    cause: Vec<String>,
    /// The smallest difference that matters, such as "20 mV"
    #[arg(long, value_name = "SIZE")]
    difference: Option<String>,
    /// The spread expected between cells of one electrolyte (standard deviation), such as "12 mV"
    #[arg(long, value_name = "SIZE")]
    sd: Option<String>,
    /// Compare all others with this electrolyte instead of every pair
    #[arg(long, value_name = "NAME")]
    baseline: Option<String>,
    /// What is assumed of the values: welch, classical or ranks [default: welch]
    #[arg(long, value_name = "METHOD")]
    method: Option<String>,
    /// Confidence of the limits [default: 95 %]
    #[arg(long, value_name = "SHARE")]
    confidence: Option<String>,
    /// Seed of the build list [default: drawn by the computer]
    #[arg(long, value_name = "NUMBER")]
    seed: Option<u64>,
}

/// A text and where it was given.
#[derive(Debug, Clone)]
pub(super) struct Given {
    pub(super) origin: String,
    pub(super) text: String,
}

/// All that was given, not yet read.
#[derive(Debug, Default)]
pub(super) struct StudyWish {
    pub(super) file: Option<String>,
    pub(super) question: Option<Given>,
    pub(super) electrolytes: Vec<Given>,
    pub(super) metric: Option<Given>,
    pub(super) cells: Option<u32>,
    pub(super) ends: Option<Given>,
    pub(super) blocks: Option<Given>,
    pub(super) readings: Vec<Given>,
    pub(super) causes: Vec<Given>,
    pub(super) difference: Option<Given>,
    pub(super) sd: Option<Given>,
    pub(super) baseline: Option<Given>,
    pub(super) method: Option<Given>,
    pub(super) confidence: Option<Given>,
    pub(super) seed: Option<u64>,
}

impl Given {
    pub(super) fn place(&self) -> Place {
        Place::in_text(&self.origin, self.text.as_str(), 0..self.text.len())
    }

    /// A fault of the whole text.
    pub(super) fn fault(&self, code: &'static str, message: String, hint: impl Into<String>) -> Fault {
        Fault::new(code, message, self.place()).with_hint(hint)
    }
}

/// The file, with the flags over it.
pub(super) fn study_wish(options: &StudyOptions) -> Result<StudyWish, Failure> {
    let file = match &options.file {
        Some(path) => of_file(path, &read_text(path)?)?,
        None => StudyWish::default(),
    };
    let one = |flag: &str, text: &Option<String>, file: Option<Given>| {
        text.as_ref().map(|text| given(flag, text)).or(file)
    };
    let many = |flag: &str, texts: &[String], file: Vec<Given>| {
        if texts.is_empty() { file } else { texts.iter().map(|text| given(flag, text)).collect() }
    };
    Ok(StudyWish {
        file: options.file.clone(),
        question: one("--question", &options.question, file.question),
        electrolytes: many("--electrolyte", &options.electrolyte, file.electrolytes),
        metric: one("--metric", &options.metric, file.metric),
        cells: options.cells.or(file.cells),
        ends: one("--ends", &options.ends, file.ends),
        blocks: one("--blocks", &options.blocks, file.blocks),
        readings: many("--reading", &options.reading, file.readings),
        causes: many("--cause", &options.cause, file.causes),
        difference: one("--difference", &options.difference, file.difference),
        sd: one("--sd", &options.sd, file.sd),
        baseline: one("--baseline", &options.baseline, file.baseline),
        method: one("--method", &options.method, file.method),
        confidence: one("--confidence", &options.confidence, file.confidence),
        seed: options.seed.or(file.seed),
    })
}

fn given(origin: &str, text: &str) -> Given {
    Given { origin: origin.to_owned(), text: text.to_owned() }
}

/// The keys are the names of the flags, those that can be repeated in the plural.
fn of_file(path: &str, text: &str) -> Result<StudyWish, Faults> {
    TomlFile::new(path, text).read(|root| {
        let one =
            |key: &'static str| root.string(key).map(|field| given(&format!("{path}, {key}"), field.value));
        let many = |key: &'static str| {
            let fields = root.strings(key).into_iter();
            fields.map(|field| given(&format!("{path}, {key}"), field.value)).collect()
        };
        Some(StudyWish {
            file: None,
            question: one("question"),
            electrolytes: many("electrolytes"),
            metric: one("metric"),
            cells: whole(root, "cells", 2.0, 10_000.0).map(|cells| cells as u32),
            ends: one("ends"),
            blocks: one("blocks"),
            readings: many("readings"),
            causes: many("causes"),
            difference: one("difference"),
            sd: one("sd"),
            baseline: one("baseline"),
            method: one("method"),
            confidence: one("confidence"),
            // Every whole number up to here is itself as a float.
            seed: whole(root, "seed", 0.0, 9e15).map(|seed| seed as u64),
        })
    })
}

fn whole(root: &TableReader<'_>, key: &'static str, low: f64, high: f64) -> Option<f64> {
    let field = root.number(key)?;
    if field.value.fract() == 0.0 && low <= field.value && field.value <= high {
        return Some(field.value);
    }
    let message = format!("{} is no whole number from {low} to {high}", field.value);
    root.fault("bad_number", message, field.span, format!("Write it like {key} = 6."));
    None
}
