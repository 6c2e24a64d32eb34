//! `study build-list`: in which order the cells of a study are built.

use clap::Args;
use serde_json::{Value, json};

use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{StudyRecords, batches_of, code, open_book, quantity};
use crate::input::Warning;
use crate::quantity::Mass;
use crate::record::Code;
use crate::record::life::BatchStatus;
use crate::record::study::{ListedCell, build_list};
use crate::report::view::{BatchShare, build_list_document};

/// Print the build list of a study: random order, in blocks that each hold equally many of every electrolyte
///
/// The list is drawn from the seed that the study keeps. Several batches of an electrolyte take turns. As a sheet to
/// write on: --format html --out FILE.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook study build-list Q1 --dose 1.2g\n  meltbook study build-list Q1 --format html --out list.html"
)]
pub(super) struct BuildListArgs {
    /// The study
    #[arg(value_name = "CODE")]
    code: String,
    /// How much electrolyte each cell takes, to see whether the batches are enough
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    dose: Option<String>,
}

/// Less than this is the dust of a sum, in grams.
const DUST_G: f64 = 1e-9;

pub(super) fn run(common: &Common, args: &BuildListArgs) -> Result<Outcome, Failure> {
    let code = code("CODE", &args.code)?;
    let dose = args.dose.as_ref().map(|text| quantity::<Mass>("--dose", text)).transpose()?;
    let records = StudyRecords::read(&open_book(common)?, &code)?;
    let planned = &records.study.planned;
    let batches = batches_of(planned, &records.lives);
    let counts: Vec<usize> = batches.iter().map(Vec::len).collect();
    let list = build_list(planned, &counts);
    let mut shares: Vec<BatchShare> = Vec::new();
    for (electrolyte, lives) in batches.iter().enumerate() {
        for (number, life) in lives.iter().enumerate() {
            let of = |listed: &&ListedCell| listed.electrolyte == electrolyte && listed.batch == number;
            let (batch, status, cells) = (life.code.clone(), life.status, list.iter().filter(of).count());
            shares.push(BatchShare { batch, electrolyte, status, cells, left_g: life.left_g() });
        }
    }
    // What is built takes nothing more of the batches.
    let built = !records.cells.is_empty();
    let mut warnings = Vec::new();
    if !built {
        let missing = batches.iter().zip(&planned.electrolytes).filter(|(lives, _)| lives.is_empty());
        warnings.extend(missing.map(|(_, studied)| {
            let message = format!("there is no released batch of {} yet", studied.name);
            Warning::new("no_batch_yet", message)
        }));
        let dose_g = dose.map(|dose| dose.value.get());
        warnings.extend(shares.iter().flat_map(|share| short_of(share, dose_g)));
    }
    let cell_at = |position: u32| {
        let here = records.cells.iter().find(|(cell, _)| {
            cell.position == position && cell.set.seed == planned.seed && cell.block.is_some()
        });
        here.map(|(cell, _)| cell.code.clone())
    };
    let document = build_list_document(planned, &list, &shares, &cell_at, &warnings);
    let answer = of_list(&records, &list, &shares, &cell_at);
    let mut outcome = Outcome::new("study build-list", answer, document);
    outcome.warnings = warnings;
    Ok(outcome)
}

/// What speaks against building from a batch.
fn short_of(share: &BatchShare, dose_g: Option<f64>) -> Vec<Warning> {
    let mut warnings = Vec::new();
    if share.status != BatchStatus::Released {
        let message = match share.status {
            BatchStatus::Rejected => format!("{} was rejected", share.batch),
            _ => format!("{} is not released", share.batch),
        };
        warnings.push(Warning::new("not_released", message));
    }
    let left = share.left_g;
    match dose_g {
        Some(dose) if left + DUST_G < dose * share.cells as f64 => {
            let (batch, cells, needed) = (&share.batch, share.cells, dose * share.cells as f64);
            let message = format!("{cells} cells take {needed:.4} g of {batch}, and {left:.4} g is left");
            warnings.push(Warning::new("not_enough", message));
        }
        None if left <= DUST_G => {
            warnings.push(Warning::new("not_enough", format!("nothing is left of {}", share.batch)));
        }
        _ => {}
    }
    warnings
}

fn of_list(
    records: &StudyRecords,
    list: &[ListedCell],
    shares: &[BatchShare],
    cell_at: &dyn Fn(u32) -> Option<Code>,
) -> Value {
    let planned = &records.study.planned;
    let row = |listed: &ListedCell| {
        let mut of = shares.iter().filter(|share| share.electrolyte == listed.electrolyte);
        json!({
            "position": listed.position,
            "block": planned.blocks.get(listed.block),
            "electrolyte": planned.electrolytes[listed.electrolyte].name,
            "batch": of.nth(listed.batch).map(|share| share.batch.to_string()),
            "cell": cell_at(listed.position).map(|code| code.to_string()),
        })
    };
    let share = |share: &BatchShare| {
        json!({
            "batch": share.batch.to_string(),
            "electrolyte": planned.electrolytes[share.electrolyte].name,
            "status": share.status.word(),
            "cells": share.cells,
            "left_g": share.left_g,
            "per_cell_g": share.per_cell_g(),
        })
    };
    json!({
        "study": planned.code.to_string(),
        "seed": planned.seed,
        "list": list.iter().map(row).collect::<Vec<_>>(),
        "batches": shares.iter().map(share).collect::<Vec<_>>(),
    })
}
