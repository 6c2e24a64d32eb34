//! Cells: in a list, and one with all that is known of it.

use jiff::tz::TimeZone;

use super::amount::short;
use super::event_words::cause_words;
use super::moment::{day, moment};
use super::reading::readings_long;
use crate::record::cell::{Cell, CellContent};
use crate::record::reading::{Reading, ReadingKind};
use crate::report::document::{Document, Table, Text, column, facts, heading, paragraph};

/// One row for each cell with its last open-circuit voltage. What all cells share is said once, above the table.
pub fn cell_list(cells: &[(Cell, Vec<Reading>)], zone: &TimeZone) -> Document {
    let shared = [
        ("Design", shared(cells, |cell| cell.set.design.name.clone())),
        ("Built", shared(cells, |cell| day(cell.set.built, zone))),
    ];
    let [(_, design), (_, built)] = &shared;
    let table = list_table(cells, (design.is_none(), built.is_none()), zone);
    let above: Vec<(&str, String)> =
        shared.into_iter().filter_map(|(label, value)| Some((label, value?))).collect();
    let mut document = Document::new("Cells").with_data(list_table(cells, (true, true), zone));
    if !above.is_empty() {
        document.push(facts(above));
    }
    document.with(table)
}

/// What is the same of all of several cells.
fn shared(cells: &[(Cell, Vec<Reading>)], what: impl Fn(&Cell) -> String) -> Option<String> {
    let mut all = cells.iter().map(|(cell, _)| what(cell));
    let first = all.next().filter(|_| 1 < cells.len())?;
    all.all(|other| other == first).then_some(first)
}

/// The table, with the columns of design and day or without.
fn list_table(cells: &[(Cell, Vec<Reading>)], shown: (bool, bool), zone: &TimeZone) -> Table {
    let columns = [
        (true, column("Cell").key("code")),
        (shown.0, column("Design").key("design")),
        (true, column("Holds").key("holds")),
        (shown.1, column("Built").key("built")),
        (true, column("Order").key("position").right()),
        (true, column("Block").key("block")),
        (true, column("Readings").key("readings").right()),
        (true, column("Open circuit").unit("V").key("open_circuit_v").decimal()),
        (true, column("State").key("state")),
    ];
    let keep: Vec<bool> = columns.iter().map(|(keep, _)| *keep).collect();
    let mut table = Table::new(columns.into_iter().filter_map(|(keep, column)| keep.then_some(column)));
    for (cell, readings) in cells {
        let last = readings.iter().rfind(|reading| reading.taken.value.kind() == ReadingKind::OpenCircuit);
        let row = [
            cell.code.to_string(),
            cell.set.design.name.clone(),
            cell.contents.iter().map(content).collect::<Vec<_>>().join(", "),
            day(cell.set.built, zone),
            cell.position.to_string(),
            cell.block.clone().unwrap_or_default(),
            readings.len().to_string(),
            last.map_or(String::new(), in_volts),
            cell_state(cell),
        ];
        table.push(row.into_iter().zip(&keep).filter_map(|(cell, keep)| keep.then_some(cell)));
    }
    table
}

/// Volts with the digits that were typed, where it was typed in volts.
fn in_volts(reading: &Reading) -> String {
    let typed = reading.taken.value.text().trim_end_matches('V').trim_end();
    let plain = typed.chars().all(|c| c.is_ascii_digit() || c == '.');
    if plain { typed.to_owned() } else { short(reading.taken.value.number(), 6) }
}

/// In use, or retired with the cause.
pub fn cell_state(cell: &Cell) -> String {
    match &cell.retired {
        Some((_, cause, _)) => format!("retired: {}", cause_words(cause)),
        None => "in use".to_owned(),
    }
}

/// All that is known of a cell.
pub fn cell_document(
    cell: &Cell,
    readings: &[Reading],
    since_short: &[Option<jiff::SignedDuration>],
    zone: &TimeZone,
) -> Document {
    let set = &cell.set;
    let mut lines: Vec<(&str, Text)> = vec![
        ("Design", set.design.name.as_str().into()),
        (
            "Built",
            format!(
                "{}, number {} in the order, entry {}, seed {}",
                moment(set.built, zone),
                cell.position,
                set.entry,
                set.seed
            )
            .into(),
        ),
    ];
    let mut optional = |label, value: Option<String>| lines.extend(value.map(|value| (label, value.into())));
    optional("Block", cell.block.clone());
    optional("Built by", set.operator.clone());
    optional("Deviations", (!set.deviations.is_empty()).then(|| set.deviations.join("; ")));
    let permit = set.permit.as_ref();
    optional(
        "Procedure",
        permit.map(|permit| format!("{}, responsible {}", permit.procedure, permit.person)),
    );
    optional("State", Some(cell_state(cell)));
    if let Some((at, _, note)) = &cell.retired {
        optional("Retired", Some(moment(*at, zone)));
        optional("Seen", note.clone());
    }
    let mut document =
        Document::new(format!("Cell {}", cell.code)).with(facts(lines)).with(contents(&cell.contents));
    document.push(facts(set.design.fields.iter().map(|(name, text)| (capital(name), text.clone()))));
    document.push(heading(2, "Readings"));
    if readings.is_empty() {
        document.push(paragraph("None yet."));
    } else {
        document.push(readings_long(readings, since_short, zone));
    }
    document
}

fn contents(contents: &[CellContent]) -> Table {
    let mut table = Table::new([
        column("Batch").key("batch"),
        column("Planned").unit("g").key("planned_g").decimal(),
        column("Weighed").unit("g").key("weighed_g").decimal(),
    ]);
    for content in contents {
        table.push([
            content.batch.to_string(),
            short(content.planned_g, 7),
            content.weighed_g.map_or(String::new(), |grams| short(grams, 7)),
        ]);
    }
    table
}

fn content(content: &CellContent) -> String {
    match content.weighed_g {
        Some(grams) => format!("{} {} g", content.batch, short(grams, 6)),
        None => format!("{} {} g planned", content.batch, short(content.planned_g, 6)),
    }
}

pub(super) fn capital(name: &str) -> String {
    let mut characters = name.chars();
    characters.next().map(|first| first.to_uppercase().chain(characters).collect()).unwrap_or_default()
}
