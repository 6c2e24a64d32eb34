//! Readings for a spreadsheet: one line each, bare numbers, a column for each kind, so that they can be read again
//! by group, batch and cell.

use crate::record::reading::{Reading, ReadingKind, ReadingValue};
use crate::report::document::{Table, column};

/// A reading with what is known of its cell.
pub struct ReadingRow<'r> {
    /// The reading.
    pub reading: &'r Reading,
    /// True if it was taken soon after a short circuit.
    pub disturbed: bool,
    /// What the electrolyte of its cell is called.
    pub electrolyte: String,
    /// The lot code of that.
    pub batch: String,
    /// What its cell was retired for; empty while it is in use.
    pub cause: String,
    /// Days after building.
    pub age_d: f64,
}

/// One line for each reading; kinds that do not occur have no column.
pub fn readings_columns(rows: &[ReadingRow<'_>]) -> Table {
    let has = |kind: ReadingKind| rows.iter().any(|row| row.reading.taken.value.kind() == kind);
    let kinds: Vec<ReadingKind> = ReadingKind::ALL.into_iter().filter(|kind| has(*kind)).collect();
    let loaded = kinds.iter().any(|kind| *kind != ReadingKind::OpenCircuit);
    let mut heads = vec!["cell", "electrolyte", "batch", "cause", "kind", "age (d)"];
    heads.extend(kinds.iter().map(|kind| head(*kind)));
    if loaded {
        heads.extend(["load (ohm)", "meter (ohm)", "after (s)"]);
    }
    heads.extend(["disturbed", "temperature (C)", "at", "entry"]);
    let mut table = Table::new(heads.into_iter().map(|head| column(head).key(head)));
    for row in rows {
        table.push(line(row, &kinds, loaded));
    }
    table
}

fn head(kind: ReadingKind) -> &'static str {
    match kind {
        ReadingKind::OpenCircuit => "open-circuit (V)",
        ReadingKind::UnderLoad => "under-load (V)",
        ReadingKind::ShortCircuit => "short-circuit (mA)",
    }
}

fn line(row: &ReadingRow<'_>, kinds: &[ReadingKind], loaded: bool) -> Vec<String> {
    let taken = &row.reading.taken;
    let kind = taken.value.kind();
    let number =
        if kind == ReadingKind::ShortCircuit { taken.value.number() * 1000.0 } else { taken.value.number() };
    let mut line = vec![
        taken.cell.to_string(),
        row.electrolyte.clone(),
        row.batch.clone(),
        row.cause.clone(),
        kind.word().to_owned(),
        row.age_d.to_string(),
    ];
    line.extend(kinds.iter().map(|own| if *own == kind { number.to_string() } else { String::new() }));
    if loaded {
        line.extend(
            circuit(&taken.value).map(|value| value.map_or_else(String::new, |value| value.to_string())),
        );
    }
    let temperature = taken.temperature.as_ref().map(|typed| typed.value.celsius().to_string());
    line.extend([
        if row.disturbed { "yes" } else { "" }.to_owned(),
        temperature.unwrap_or_default(),
        taken.at.to_string(),
        row.reading.entry.to_string(),
    ]);
    line
}

/// The load, the meter's resistance, and the time after closing.
fn circuit(value: &ReadingValue) -> [Option<f64>; 3] {
    match value {
        ReadingValue::OpenCircuit { .. } => [None; 3],
        ReadingValue::UnderLoad { ohms, after_s, .. } => [Some(*ohms), None, Some(*after_s)],
        ReadingValue::ShortCircuit { meter_ohms, after_s, .. } => [None, *meter_ohms, *after_s],
    }
}
