//! One value of each cell out of its readings: a slope, a value at a day, or the only reading that there is.

use std::collections::BTreeMap;

use super::observations::Reading;
use super::observed::Observed;
use crate::input::{Fault, Faults, Place, Warning};
use crate::quantity::{Quantity as _, TimeSpan};
use crate::statistics::interpolate::interpolate;
use crate::statistics::line::line_through;

/// What is taken of each cell.
pub(super) enum Metric {
    /// Its only reading.
    Value,
    /// How much the readings rise in a unit of time.
    Slope {
        /// The unit, if it is known.
        unit: Option<TimeUnit>,
        /// The head of the column of times.
        column: String,
    },
    /// The reading at a time, between the two around it.
    At {
        /// As asked for.
        day: f64,
        /// The same in the unit of the times.
        time: f64,
    },
}

/// A unit of time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TimeUnit {
    symbol: &'static str,
    seconds: f64,
}

impl TimeUnit {
    /// The unit of a text in the head of a column.
    pub(super) fn of(text: &str) -> Option<Self> {
        let folded = text.trim().to_lowercase();
        let seconds = TimeSpan::UNITS.iter().find(|unit| unit.symbol == folded)?.factor;
        // However it was written, it is shown by the usual sign, which stands before the others.
        let usual = TimeSpan::UNITS.iter().find(|unit| unit.factor == seconds)?;
        Some(Self { symbol: usual.symbol, seconds })
    }

    pub(super) fn symbol(self) -> &'static str {
        self.symbol
    }

    /// So many days in this unit.
    pub(super) fn days(self, days: f64) -> f64 {
        days * (SECONDS_PER_DAY / self.seconds)
    }
}

const SECONDS_PER_DAY: f64 = 86_400.0;

/// The readings of one cell.
struct Cell {
    name: String,
    group: String,
    batch: String,
    cause: Option<String>,
    points: Vec<(f64, f64)>,
    lines: Vec<u64>,
    values: Vec<f64>,
}

/// Puts one value of each cell into its group.
pub(super) fn per_cell(
    origin: &str,
    readings: Vec<Reading>,
    metric: &Metric,
    observed: &mut Observed,
) -> Result<(), Faults> {
    let cells = cells(origin, readings)?;
    let mut faults = Faults::none();
    let (mut places, mut short) = (BTreeMap::new(), Vec::new());
    for cell in cells {
        let value = faults.collect(cell.value(origin, metric)).flatten();
        if value.is_none() && cell.cause.is_none() && !cell.values.is_empty() {
            short.push(cell.name.clone());
        }
        let group = observed.group(&cell.group, &mut places);
        group.add(cell.name, &cell.batch, value, cell.cause);
    }
    if !short.is_empty() {
        let what = match metric {
            Metric::At { day, .. } => format!("no readings on both sides of day {day}"),
            _ => "fewer than two readings at different times".to_owned(),
        };
        observed.warnings.push(Warning::new("too_few_readings", format!("{}: {what}", short.join(", "))));
    }
    faults.or(())
}

fn cells(origin: &str, readings: Vec<Reading>) -> Result<Vec<Cell>, Faults> {
    let mut faults = Faults::none();
    let mut cells: Vec<Cell> = Vec::new();
    let mut places: BTreeMap<String, usize> = BTreeMap::new();
    for reading in readings {
        let name = reading.cell.unwrap_or_default();
        let place = *places.entry(name.clone()).or_insert(cells.len());
        if place == cells.len() {
            let (group, batch) = (reading.group.clone(), reading.batch.clone());
            cells.push(Cell {
                name,
                group,
                batch,
                cause: None,
                points: vec![],
                lines: vec![],
                values: vec![],
            });
        }
        let cell = &mut cells[place];
        for (kind, first, now) in
            [("group", &cell.group, &reading.group), ("batch", &cell.batch, &reading.batch)]
        {
            if first != now {
                let message = format!("cell {} stands under the {kind}s {first:?} and {now:?}", cell.name);
                let place = Place::named(format!("{origin}:{}", reading.line));
                faults.push(
                    Fault::new("cell_moves", message, place)
                        .with_hint("A cell belongs to one; correct the line."),
                );
            }
        }
        cell.cause = cell.cause.take().or(reading.cause);
        cell.points.extend(reading.time.zip(reading.value));
        if let Some(value) = reading.value {
            cell.values.push(value);
            cell.lines.push(reading.line);
        }
    }
    faults.or(cells)
}

impl Cell {
    fn value(&self, origin: &str, metric: &Metric) -> Result<Option<f64>, Fault> {
        match metric {
            Metric::Slope { .. } => Ok(line_through(&self.points).map(|line| line.slope_without_rounding())),
            Metric::At { time, .. } => Ok(interpolate(&self.points, *time)),
            Metric::Value => match self.lines.as_slice() {
                [_, second, ..] => {
                    let message = format!("cell {} has {} readings", self.name, self.values.len());
                    let place = Place::named(format!("{origin}:{second}"));
                    Err(Fault::new("repeated_readings", message, place).with_hint(
                        "Readings of one cell are not independent: give --time COLUMN for the slope of each cell, or \
                         --at-day too for its value at a day.",
                    ))
                }
                _ => Ok(self.values.first().copied()),
            },
        }
    }
}
