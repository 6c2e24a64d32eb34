//! `study show`.

use clap::Args;

use super::answer::of_study;
use crate::book::Book;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{StudyRecords, code, open_book, study_power};
use crate::record::Code;
use crate::report::document::Document;
use crate::report::view::{StudyView, study_document};

/// Show what a study says, what there is of it, and where the work departed from it; no data are shown
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook study show Q1")]
pub(super) struct ShowArgs {
    /// The study
    #[arg(value_name = "CODE")]
    code: String,
}

pub(super) fn run(common: &Common, args: &ShowArgs) -> Result<Outcome, Failure> {
    let code = code("CODE", &args.code)?;
    let (records, document) = shown(&open_book(common)?, &code)?;
    Ok(Outcome::new("study show", of_study(&records), document))
}

/// A study with its document.
pub(in crate::cli) fn shown(book: &Book, code: &Code) -> Result<(StudyRecords, Document), Failure> {
    let records = StudyRecords::read(book, code)?;
    let (departures, power) = (records.departures(None), study_power(&records.study.planned));
    let document = study_document(&StudyView {
        study: &records.study,
        cells: &records.cells,
        departures: &departures,
        line: records.line(),
        power: power.as_ref(),
        days_before_end: records.days_before_end(),
        zone: &records.zone,
    });
    Ok((records, document))
}
