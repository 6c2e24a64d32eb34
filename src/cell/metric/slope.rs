//! The slope of the open-circuit voltage of a cell over a time, and cells whose readings cover little of it.

use jiff::SignedDuration;

use super::cell_record::{CellRecord, shown_day};
use crate::cell::drift::{Drift, Settling, drift};
use crate::input::Warning;
use crate::record::reading::{SETTLING, disturbed};

const SECONDS_PER_DAY: f64 = 86_400.0;
const DAYS_PER_WEEK: f64 = 7.0;

/// Volts per week, by a line through the settled readings up to a day.
pub(super) fn slope(record: &CellRecord, from: f64, to: f64) -> Result<f64, String> {
    let drift = between(record, from, to);
    let reason = || {
        let count = drift.settled.len();
        let few = if count == 0 { "no".to_owned() } else { format!("only {count}") };
        format!("{few} open-circuit reading that counts from day {from} to day {to}; a line needs two")
    };
    drift.line.map(|line| line.slope_without_rounding()).ok_or_else(reason)
}

fn between(record: &CellRecord, from: f64, to: f64) -> Drift {
    let since = disturbed(&record.readings, SETTLING);
    let (readings, since): (Vec<_>, Vec<_>) = record
        .readings
        .iter()
        .cloned()
        .zip(since)
        .filter(|(reading, _)| record.age_d(reading.taken.at) <= to)
        .unzip();
    let retired = record.cell.retired.as_ref().map(|(at, _, _)| *at);
    let until = SignedDuration::try_from_secs_f64(from * SECONDS_PER_DAY).unwrap_or(SignedDuration::MAX);
    drift(&readings, &since, record.cell.set.built, retired, Settling { until })
}

/// Cells that have a slope out of readings over less than half of the time asked for.
pub(super) fn cut_short(cells: &[CellRecord], from: f64, to: f64) -> Vec<Warning> {
    let short = |record: &CellRecord| {
        let drift = between(record, from, to);
        let (first, last) = (drift.settled.first()?.weeks, drift.settled.last()?.weeks);
        let covered = (last - first) * DAYS_PER_WEEK;
        (drift.line.is_some() && covered < (to - from) / 2.0).then(|| {
            let message = format!(
                "{}: its slope stands on readings over {} of {} days",
                record.cell.code,
                shown_day(covered),
                shown_day(to - from)
            );
            Warning::new("short_slope", message)
        })
    };
    cells.iter().filter_map(short).collect()
}
