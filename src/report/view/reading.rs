//! Readings: as a bench table, and line by line.

use std::collections::BTreeMap;

use jiff::SignedDuration;
use jiff::tz::TimeZone;

use super::event_words::reading_words;
use super::moment::{day, moment, span};
use crate::record::Code;
use crate::record::reading::{Reading, ReadingKind};
use crate::report::document::{Document, Table, Text, column, muted, paragraph, strong, text};

/// The mark of a value read soon after a short circuit.
const MARK: &str = " *";

/// Cells down, days across, a table for each kind; what is disturbed is marked.
pub fn readings_wide(
    readings: &[Reading],
    since_short: &[Option<SignedDuration>],
    settling: SignedDuration,
    zone: &TimeZone,
) -> Document {
    let mut document = Document::new("Readings");
    for kind in ReadingKind::ALL {
        let of_kind: Vec<(&Reading, bool)> = readings
            .iter()
            .zip(since_short)
            .filter(|(reading, _)| reading.taken.value.kind() == kind)
            .map(|(reading, since)| (reading, since.is_some()))
            .collect();
        if !of_kind.is_empty() {
            document.push(wide(kind, &of_kind, zone));
        }
    }
    document.push(footnote(settling));
    document
}

/// No reading: a table without a row, so that a script gets one.
pub fn readings_none() -> Document {
    Document::new("Readings")
        .with(Table::new([column("Cell").key("cell")]))
        .with(paragraph("No reading is like this."))
}

/// What the mark means.
fn footnote(settling: SignedDuration) -> crate::report::document::Block {
    paragraph(muted(format!(
        "* disturbed: read within {} h of a short circuit of the same cell. Values stand as they were typed.",
        settling.as_hours()
    )))
}

fn wide(kind: ReadingKind, readings: &[(&Reading, bool)], zone: &TimeZone) -> Table {
    let unit = unit_of_all(readings);
    // Several readings of a cell on a day take a column each: the first, the second.
    let mut places: BTreeMap<(String, usize), BTreeMap<&Code, String>> = BTreeMap::new();
    let mut count: BTreeMap<(&Code, String), usize> = BTreeMap::new();
    for (reading, disturbed) in readings {
        let on = day(reading.taken.at, zone);
        let nth = count.entry((&reading.taken.cell, on.clone())).or_default();
        *nth += 1;
        let typed = reading.taken.value.text();
        let value = unit.map_or(typed, |unit| typed.trim_end_matches(unit).trim_end());
        let mark = if *disturbed { MARK } else { "" };
        places.entry((on, *nth)).or_default().insert(&reading.taken.cell, format!("{value}{mark}"));
    }
    let year = year_of_all(places.keys().map(|(on, _)| on.as_str()));
    let mut columns = vec![column("Cell").key("cell")];
    columns.extend(places.keys().map(|(on, nth)| {
        let again = if *nth == 1 { String::new() } else { format!(" ({nth})") };
        let short = year.map_or(on.as_str(), |year| on.trim_start_matches(year).trim_start_matches('-'));
        column(format!("{short}{again}")).key(format!("{on}{again}")).decimal()
    }));
    let mut cells: Vec<&Code> = readings.iter().map(|(reading, _)| &reading.taken.cell).collect();
    cells.sort();
    cells.dedup();
    let unit = unit.map(|unit| format!(" ({unit})")).unwrap_or_default();
    let year = year.map(|year| format!(", {year}")).unwrap_or_default();
    let mut table =
        Table::new(columns).caption(format!("{}{unit}{year}", kind.word().replace('-', " "))).in_bands();
    for cell in cells {
        let values = places.values().map(|values| values.get(cell).cloned().unwrap_or_default());
        table.push(std::iter::once(cell.to_string()).chain(values));
    }
    table
}

/// The unit that every one of them was typed in, if it is one.
fn unit_of_all<'r>(readings: &[(&'r Reading, bool)]) -> Option<&'r str> {
    let unit = |reading: &'r Reading| {
        let text = reading.taken.value.text();
        let letters = |c: char| c.is_alphabetic() || c == 'µ';
        text.rfind(|c| !letters(c)).map(|last| text[last..].trim_start_matches(|c| !letters(c)))
    };
    let mut units = readings.iter().map(|(reading, _)| unit(reading));
    let first = units.next()??;
    units.all(|unit| unit == Some(first)).then_some(first)
}

/// The year that all these days are in, if it is one.
fn year_of_all<'d>(mut days: impl Iterator<Item = &'d str>) -> Option<&'d str> {
    let year = |day: &'d str| day.split('-').next();
    let first = year(days.next()?)?;
    days.all(|day| year(day) == Some(first)).then_some(first)
}

/// One line for each reading.
pub fn readings_long(readings: &[Reading], since_short: &[Option<SignedDuration>], zone: &TimeZone) -> Table {
    let mut table = Table::new([
        column("Entry").key("entry").right(),
        column("Cell").key("cell"),
        column("Read").key("at"),
        column("What").key("what"),
        column("Temperature").key("temperature"),
        column("Humidity").key("humidity"),
        column("Instrument").key("instrument"),
        column("Note").key("note"),
    ]);
    for (reading, since) in readings.iter().zip(since_short) {
        let taken = &reading.taken;
        let mut note: Text = text(taken.note.as_deref().unwrap_or_default());
        if let Some(since) = since {
            let space = if note.is_blank() { "" } else { "; " };
            note = note
                .then(text(space))
                .then(strong(format!("disturbed: {} after a short circuit", span(*since))));
        }
        if let Some(because) = &taken.because {
            let space = if note.is_blank() { "" } else { "; " };
            note = note.then(text(format!("{space}because: {because}")));
        }
        table.push([
            text(reading.entry.to_string()),
            text(taken.cell.to_string()),
            text(moment(taken.at, zone)),
            text(reading_words(&taken.value)),
            text(taken.temperature.as_ref().map(|typed| typed.text.as_str()).unwrap_or_default()),
            text(taken.humidity.as_ref().map(|typed| typed.text.as_str()).unwrap_or_default()),
            text(taken.instrument.as_deref().unwrap_or_default()),
            note,
        ]);
    }
    table
}
