//! Cells: in a list, and one with all that is known of it.

use jiff::tz::TimeZone;

use super::amount::short;
use super::event_words::cause_words;
use super::moment::{day, moment};
use super::reading::readings_long;
use crate::record::cell::{Cell, CellContent};
use crate::record::reading::{Reading, ReadingKind};
use crate::report::document::{Document, Table, Text, column, facts, heading, paragraph};

/// One row for each cell with its last open-circuit voltage.
pub fn cell_list(cells: &[(Cell, Vec<Reading>)], zone: &TimeZone) -> Document {
    let mut table = Table::new([
        column("Cell").key("code"),
        column("Design").key("design"),
        column("Holds").key("holds"),
        column("Built").key("built"),
        column("Order").key("position").right(),
        column("Block").key("block"),
        column("Readings").key("readings").right(),
        column("Open circuit").unit("V").key("open_circuit_v").decimal(),
        column("State").key("state"),
    ]);
    for (cell, readings) in cells {
        let last = readings.iter().rfind(|reading| reading.taken.value.kind() == ReadingKind::OpenCircuit);
        table.push([
            cell.code.to_string(),
            cell.set.design.name.clone(),
            cell.contents.iter().map(content).collect::<Vec<_>>().join(", "),
            day(cell.set.built, zone),
            cell.position.to_string(),
            cell.block.clone().unwrap_or_default(),
            readings.len().to_string(),
            last.map_or(String::new(), |reading| short(reading.taken.value.number(), 6)),
            cell_state(cell),
        ]);
    }
    Document::new("Cells").with(table)
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
