//! `demo`: a full book in a scenario of the project's own, made by the commands that everybody has.

mod bench;
mod play;
mod story;
mod truth;

use std::path::Path;

use clap::Args;
use serde_json::json;

use super::outcome::{Failure, Outcome};
use super::request::{failure, whole_number, zone};
use crate::book::{Book, BookError, batch_codes, bottles, cells, readings};
use crate::report::view::{SampleBook, sample_book};

/// The seed of the readings unless another is asked for.
const SEED: u64 = 907;

/// Make a full sample book to look at: bottles, batches, 36 cells, six weeks of readings
///
/// Everything in it is invented: the laboratory, its people and suppliers, every mass and reading. It is made by
/// the same commands that you have, with the clock set for each; the same seed always gives the same book. What
/// is true of its cells stands in tables/truth.toml, so that statistics can be held against it.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  meltbook demo sample-book\n  meltbook demo another-sample --seed 12")]
pub(super) struct DemoArgs {
    /// The folder, empty or not there yet
    #[arg(value_name = "DIR")]
    folder: String,
    /// Seed of the readings [default: 907]
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    seed: Option<String>,
}

pub(super) fn run(args: &DemoArgs) -> Result<Outcome, Failure> {
    let seed = args.seed.as_ref().map_or(Ok(SEED), |text| whole_number("--seed", text))?;
    let ends = play::play(&args.folder, seed)?;
    let made = look(&args.folder, seed, ends).map_err(|error| failure(&error))?;
    let answer = json!({
        "folder": made.folder,
        "seed": made.seed,
        "ends": made.ends.to_string(),
        "bottles": made.bottles,
        "batches": made.batches,
        "cells": made.cells,
        "readings": made.readings,
        "entries": made.head.0,
        "head": made.head.1.to_string(),
    });
    Ok(Outcome::new("demo", answer, sample_book(&made, &zone())))
}

fn look(folder: &str, seed: u64, ends: jiff::Timestamp) -> Result<SampleBook, BookError> {
    let book = Book::open(Path::new(folder))?;
    Ok(SampleBook {
        folder: folder.to_owned(),
        seed,
        ends,
        bottles: bottles(&book)?.len(),
        batches: batch_codes(&book)?.len(),
        cells: cells(&book)?.len(),
        readings: readings(&book, &[])?.len(),
        head: book.head()?,
    })
}
