//! Times of readings in a file of columns: numbers in a unit, or dates.

use std::collections::HashMap;
use std::io::Read;

use super::observations::Reading;
use super::record::moment;
use crate::input::{ColumnFile, ColumnRow, Fault, Place, Warning};

const SECONDS_PER_DAY: f64 = 86_400.0;

/// The time in a cell of the file, and true if it is a date; that is in days then. `None` where nothing stands.
pub(super) fn reading_time<R: Read>(
    file: &ColumnFile<R>,
    row: &ColumnRow,
    column: usize,
) -> Result<Option<(f64, bool)>, Fault> {
    match (file.number(row, column), moment("", row.text(column))) {
        (Ok(number), _) => Ok(number.map(|number| (number, false))),
        (Err(_), Ok(at)) => Ok(Some((at.as_millisecond() as f64 / 1000.0 / SECONDS_PER_DAY, true))),
        (Err(fault), Err(_)) => {
            Err(fault
                .with_hint("Write times as numbers, or as dates like 2026-11-25 or \"2026-11-25 14:30\"."))
        }
    }
}

/// Counts dates from the first reading of each cell; true if the times are dates.
///
/// # Errors
/// If some are dates and some are numbers.
pub(super) fn days_of_dates(origin: &str, readings: &mut [Reading]) -> Result<bool, Fault> {
    let timed = || readings.iter().filter(|reading| reading.time.is_some());
    let Some(date) = timed().find(|reading| reading.dated) else { return Ok(false) };
    if let Some(number) = timed().find(|reading| !reading.dated) {
        let message = format!("line {} has a date as its time, and line {} a number", date.line, number.line);
        let place = Place::named(format!("{origin}:{}", number.line));
        return Err(Fault::new("bad_number", message, place)
            .with_hint("Write all times as dates, or all as numbers."));
    }
    let mut first: HashMap<Option<String>, f64> = HashMap::new();
    for reading in readings.iter() {
        let Some(time) = reading.time else { continue };
        let first = first.entry(reading.cell.clone()).or_insert(time);
        *first = first.min(time);
    }
    for reading in readings.iter_mut() {
        let start = first.get(&reading.cell).copied().unwrap_or_default();
        reading.time = reading.time.map(|time| time - start);
    }
    Ok(true)
}

/// What a day means where the file has dates.
pub(super) fn days_from_first() -> Warning {
    Warning::new("days_from_first", "the times are dates: days count from the first reading of each cell")
}
