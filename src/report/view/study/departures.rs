//! Departures in words.

use jiff::tz::TimeZone;

use crate::record::study::Departure;
use crate::report::view::amount::short;
use crate::report::view::event_words::cause_words;
use crate::report::view::moment::{moment, span};
use crate::report::view::ranges::code_range;

/// One departure as a sentence.
pub fn departure_words(departure: &Departure, zone: &TimeZone) -> String {
    match departure {
        Departure::WrittenLate { written, first } => format!(
            "The study was written on {}, {} after the first reading of its cells, {} on {}: what it says was not fixed \
             before the data were there.",
            moment(*written, zone),
            span(written.duration_since(first.at)),
            first.cell,
            moment(first.at, zone)
        ),
        Departure::PlanChanged { by, fields, after_first_reading } => {
            let entries = by.iter().map(|(entry, at, reason)| {
                let at = at.map_or_else(String::new, |at| format!(" on {}", moment(at, zone)));
                format!("entry {entry}{at}: {reason}")
            });
            let fields =
                fields.iter().map(|(field, before, after)| format!("{field} was {before}, is {after}"));
            let when =
                if *after_first_reading { "after the first reading" } else { "before the first reading" };
            let (fields, entries) =
                (fields.collect::<Vec<_>>().join("; "), entries.collect::<Vec<_>>().join("; "));
            format!("The plan was changed {when}: {fields} ({entries}).")
        }
        Departure::CellCount { electrolyte, planned, cells } => match cells.as_slice() {
            [] => format!("{electrolyte}: no cell is in the study, {planned} were planned."),
            cells => {
                let fewer = if cells.len() < *planned { "fewer" } else { "more" };
                let is = if cells.len() == 1 { "cell is" } else { "cells are" };
                format!(
                    "{electrolyte}: {} {is} in the study, {fewer} than the {planned} planned.",
                    cells.len()
                )
            }
        },
        Departure::NoElectrolyte { cells } => {
            let hold = if cells.len() == 1 { "holds" } else { "hold" };
            format!(
                "{} {hold} none of the electrolytes as the records stand, or more than one.",
                code_range(cells)
            )
        }
        Departure::OfAnotherStudy { cells, study } => {
            let were = if cells.len() == 1 { "was" } else { "were" };
            format!(
                "{} {were} in study {study} before: what was seen there was known when they were taken in here.",
                code_range(cells)
            )
        }
        Departure::OutOfOrder { cells } => {
            let were = if cells.len() == 1 { "was" } else { "were" };
            format!("{} {were} not built in the place that the build list gives.", code_range(cells))
        }
        Departure::TakenOut { cells, entry, reason } => {
            format!(
                "{} taken out of the study again: entry {entry} was struck ({reason}).",
                code_range(cells)
            )
        }
        Departure::UnnamedCause { cell, cause } => format!(
            "{cell} failed by a cause that was not named beforehand, {}: its value counts where it has one.",
            cause_words(cause)
        ),
        Departure::NotRead { what, day, cells } => {
            format!("No {} reading for {} of {}.", what.replace('-', " "), age(*day), code_range(cells))
        }
        Departure::ReadLate { what, day, cells, by } => format!(
            "The {} reading for {} came up to {} late: {}.",
            what.replace('-', " "),
            age(*day),
            span(*by),
            code_range(cells)
        ),
        Departure::Asked { what, planned, asked } => {
            format!("Another {what} than planned was asked for: {asked}, planned was {planned}.")
        }
        Departure::EarlyLooks { looks: 1, first_days_before } => {
            format!("The data were looked at once before the planned end, {first_days_before} d before it.")
        }
        Departure::EarlyLooks { looks, first_days_before } => format!(
            "The data were looked at {looks} times before the planned end, first {first_days_before} d before it: p and \
             limits take no account of that."
        ),
    }
}

/// "day 14", or "hour 1" on the first day.
fn age(day: f64) -> String {
    if day < 1.0 { format!("hour {}", short(day * 24.0, 3)) } else { format!("day {}", short(day, 4)) }
}
