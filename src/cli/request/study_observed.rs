//! What a study compares, of each of its cells.

use super::book_observations::{GroupBy, observed_as};
use super::observed::Observed;
use super::study_records::StudyRecords;
use crate::book::Book;
use crate::cell::metric::{CellValue, Metric};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Place};
use crate::record::cell::Cell;

/// The metric of a study's cells by its electrolytes. A cell is left out only for a cause that the study names: one
/// that failed otherwise counts with its value.
pub(in crate::cli) fn study_observed(
    common: &Common,
    book: &Book,
    records: &StudyRecords,
    metric: &Metric,
) -> Result<Observed, Failure> {
    let planned = &records.study.planned;
    let held = |value: &CellValue| {
        records.cells.iter().find(|(cell, _)| cell.code == value.cell).and_then(|(_, held)| *held)
    };
    let say = |value: &mut CellValue| {
        if let Some(place) = held(value) {
            value.electrolyte.clone_from(&planned.electrolytes[place].name);
        }
        let unnamed = value.excluded.as_ref().is_some_and(|cause| !planned.allows(cause));
        if unnamed && value.value.is_some() {
            value.failed_later = value.excluded.take();
        }
    };
    let cells: Vec<Cell> =
        records.cells.iter().filter(|(_, held)| held.is_some()).map(|(cell, _)| cell.clone()).collect();
    if cells.is_empty() {
        let code = &planned.code;
        let fault = Fault::new("no_cells", format!("{code} has no cells yet"), Place::named("--study"));
        let hint = format!(
            "Build them with: meltbook cell build --study {code}, or take some in: meltbook study assign."
        );
        return Err(fault.with_hint(hint).into());
    }
    observed_as(common, book, metric, cells, GroupBy::Study, &say)
}
