//! `study assign`: cells that were built otherwise are taken into a study.

use clap::Args;
use serde_json::json;

use crate::book::studies;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, code, codes, failure, open_book, stamp};
use crate::input::{Faults, Warning};
use crate::record::study::{Assigned, Study};
use crate::record::{Code, Event};
use crate::report::document::{Caution, Document, facts, paragraph};
use crate::report::view::code_range;

/// Take cells into a study that were not built with meltbook cell build --study
///
/// They must hold one of its electrolytes. That they stand outside its random order is named as a departure.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook study assign Q1 C1-C6")]
pub(super) struct AssignArgs {
    /// The study
    #[arg(value_name = "STUDY")]
    study: String,
    /// The cells; a run of them as C1-C12
    #[arg(value_name = "CELL", required = true)]
    cells: Vec<String>,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &AssignArgs) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let study = faults.collect(code("STUDY", &args.study));
    let cells = faults.collect(codes("CELL", &args.cells));
    let (Some(study), Some(cells)) = (study, cells) else { return Err(faults.into()) };
    let at = args.record.at()?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    let assigned = Assigned { study: study.clone(), cells: cells.clone(), at };
    let written = book.write(&stamp, |writer| writer.append(&Event::StudyAssigned(assigned.clone())));
    written.map_err(|error| failure(&error))?;
    let head = book.head().map_err(|error| failure(&error))?;
    let shared = shared(&study, &cells, &studies(&book).map_err(|error| failure(&error))?);
    let answer = json!({
        "study": study.to_string(),
        "cells": cells.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "entry": head.0,
        "head": head.1.to_string(),
    });
    let mut document = Document::new(format!("Taken into study {study}"));
    document.extend(shared.iter().map(|warning| Caution::warn(warning.message.as_str())));
    let document = document
        .with(facts([
            ("Cells", code_range(&cells)),
            ("Entry", format!("{}, head {}", head.0, head.1.short())),
        ]))
        .with(paragraph(format!("See what is planned and what differs with: meltbook study show {study}.")));
    let mut outcome = Outcome::new("study assign", answer, document);
    outcome.warnings = shared;
    Ok(outcome)
}

/// Cells that belong to another study as well: what was seen of them there is known here.
fn shared(study: &Code, cells: &[Code], studies: &[Study]) -> Vec<Warning> {
    let others = studies.iter().filter(|other| other.planned.code != *study);
    others
        .filter_map(|other| {
            let both: Vec<Code> =
                other.cells.iter().map(|(cell, _)| cell).filter(|cell| cells.contains(cell)).cloned().collect();
            (!both.is_empty()).then(|| {
                let message = format!(
                    "{} belong to study {} too: what was seen of them there was known before they were taken in here",
                    code_range(&both),
                    other.planned.code
                );
                Warning::new("shared_cells", message)
            })
        })
        .collect()
}
