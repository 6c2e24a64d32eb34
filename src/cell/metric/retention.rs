//! Charge retention of each stored cell against the fresh cells of its lot.

use super::ToCutOff;
use super::cell_record::CellRecord;
use super::discharge::{Sum, began_d, found as discharged};
use super::found::Found;
use crate::record::Code;

/// What is read of one cell.
struct Read<'c> {
    record: &'c CellRecord,
    found: Found,
    /// True if its discharge began soon after building.
    fresh: bool,
}

/// Percent for each stored cell, and the fresh cells. A fresh cell that failed is none to compare with.
pub(super) fn found(
    cells: &[CellRecord],
    fresh: f64,
    to: ToCutOff,
) -> (Vec<(&CellRecord, Found)>, Vec<Code>) {
    let read: Vec<Read<'_>> = cells
        .iter()
        .map(|record| Read {
            record,
            found: discharged(record, to, Sum::Charge),
            fresh: began_d(record, to).is_some_and(|day| day <= fresh),
        })
        .collect();
    let reference = read.iter().filter(|one| one.fresh).map(|one| one.record.cell.code.clone()).collect();
    let stored = read.iter().filter(|one| !one.fresh);
    let found = stored
        .map(|one| {
            let value = one.found.value.clone().and_then(|stored| {
                let mean = fresh_mean(&read, one.record).ok_or_else(|| no_fresh(fresh))?;
                Ok(100.0 * stored / mean)
            });
            (one.record, Found { value, until_d: one.found.until_d })
        })
        .collect();
    (found, reference)
}

fn no_fresh(fresh: f64) -> String {
    format!("no fresh cell of its lot was discharged to the cut-off, begun within {fresh} d of building")
}

/// The mean charge of the fresh cells that hold the same batches in the same design.
fn fresh_mean(read: &[Read<'_>], record: &CellRecord) -> Option<f64> {
    let charges: Vec<f64> = read
        .iter()
        .filter(|one| one.fresh && one.record.is_of_lot(record) && !one.record.has_failed())
        .filter_map(|one| one.found.value.as_ref().ok().copied())
        .collect();
    let mean = charges.iter().sum::<f64>() / charges.len() as f64;
    (0.0 < mean).then_some(mean)
}

impl CellRecord {
    fn is_of_lot(&self, other: &Self) -> bool {
        let batches = |record: &Self| {
            let mut batches: Vec<Code> =
                record.cell.contents.iter().map(|content| content.batch.clone()).collect();
            batches.sort();
            batches
        };
        self.cell.set.design.name == other.cell.set.design.name && batches(self) == batches(other)
    }

    fn has_failed(&self) -> bool {
        self.cell.retired.as_ref().is_some_and(|(_, cause, _)| cause.is_physical())
    }
}
