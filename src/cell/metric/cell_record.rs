//! What the records say of one cell.

use jiff::Timestamp;

use crate::cell::figures::CellDischarge;
use crate::record::cell::Cell;
use crate::record::reading::{Reading, SETTLING, disturbed};

/// What the records say of one cell.
#[derive(Debug, Clone, PartialEq)]
pub struct CellRecord {
    /// The cell.
    pub cell: Cell,
    /// What its electrolyte is called.
    pub electrolyte: String,
    /// The lot code of its electrolyte.
    pub batch: String,
    /// Its readings in order of time.
    pub readings: Vec<Reading>,
    /// Its discharges to the cut-off of the metric, if that is taken from them.
    pub discharges: Vec<CellDischarge>,
}

const SECONDS_PER_DAY: f64 = 86_400.0;

impl CellRecord {
    /// Days after building.
    pub(super) fn age_d(&self, at: Timestamp) -> f64 {
        at.duration_since(self.cell.set.built).as_secs_f64() / SECONDS_PER_DAY
    }

    /// The readings until the cell was retired, each with whether a short circuit disturbs it.
    pub(super) fn in_use(&self) -> Vec<(&Reading, bool)> {
        let end = self.cell.retired.as_ref().map(|(at, _, _)| *at);
        let since = disturbed(&self.readings, SETTLING);
        let kept = |(reading, _): &(&Reading, bool)| end.is_none_or(|end| reading.taken.at <= end);
        self.readings
            .iter()
            .zip(since)
            .map(|(reading, since)| (reading, since.is_some()))
            .filter(kept)
            .collect()
    }
}

/// A day as a person reads it.
pub(super) fn shown_day(day: f64) -> String {
    let rounded = (day * 10.0).round() / 10.0;
    format!("{rounded}")
}
