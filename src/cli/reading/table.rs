//! Many readings at once: a list of cells with their values, or a bench table.

use jiff::Timestamp;

use super::values::Circuit;
use crate::cli::outcome::Failure;
use crate::cli::request::{code, moment, past, with_unit};
use crate::input::{BenchTable, Fault, Faults, FlagValue, Place, Warning};
use crate::record::reading::{ReadingKind, ReadingValue};
use crate::record::{Code, CodeError};

/// A value of a cell at a time.
pub(super) struct Value {
    pub(super) cell: Code,
    pub(super) value: ReadingValue,
    pub(super) at: Timestamp,
    pub(super) place: Place,
}

/// `C1=1.48 C2=1.47`, all at one time.
pub(super) fn listed(
    text: &str,
    kind: ReadingKind,
    unit: Option<&str>,
    circuit: &Circuit,
    at: Timestamp,
    warnings: &mut Vec<Warning>,
) -> Result<Vec<Value>, Faults> {
    let flag = FlagValue::parse_any("--values", text)?;
    if flag.pairs.is_empty() || !flag.name.is_empty() {
        let fault = Fault::new("no_values", format!("{text:?} gives no cell a value"), flag.place());
        return Err(fault.with_hint("Write it like --values \"C1=1.48 C2=1.47\" --unit V.").into());
    }
    let mut faults = Faults::none();
    let mut values = Vec::new();
    for pair in &flag.pairs {
        let place = flag.place_of(pair);
        let cell = faults.collect(code("--values", &pair.key));
        let text = with_unit(&pair.value, unit);
        let value = faults.collect(circuit.value(kind, &text, place.clone(), warnings));
        values.extend(cell.zip(value).map(|(cell, value)| Value { cell, value, at, place }));
    }
    faults.or(values)
}

/// A table with cells down and times across.
pub(super) fn tabled(
    path: &str,
    text: &str,
    kind: ReadingKind,
    unit: Option<&str>,
    circuit: &Circuit,
    warnings: &mut Vec<Warning>,
) -> Result<Vec<Value>, Failure> {
    let table = BenchTable::read(path, text)?;
    let mut faults = Faults::none();
    let (_, corner) = crate::input::name_and_unit(&table.corner.text);
    let mut heads: Vec<Option<(Timestamp, Option<&str>)>> = Vec::new();
    for head in &table.heads {
        let (name, own) = crate::input::name_and_unit(&head.text);
        let place = table.place(head);
        let at = moment(path, name).map_err(|fault| {
            Fault { place: place.clone(), ..fault }.with_hint(
                "Cells go down and times across: above each column of values stands when they were read, such as 2026-11-25.",
            )
        });
        let at = faults.collect(at).and_then(|at| match past(path, name, at) {
            Ok(at) => Some(at),
            Err(failure) => {
                failure
                    .faults()
                    .iter()
                    .for_each(|fault| faults.push(Fault { place: place.clone(), ..fault.clone() }));
                None
            }
        });
        heads.push(at.map(|at| (at, own)));
    }
    let mut values = Vec::new();
    for row in &table.rows {
        let cell = row.name.text.parse::<Code>().map_err(|error| {
            Fault::new("bad_code", error.to_string(), table.place(&row.name)).with_hint(CodeError::HINT)
        });
        let cell = faults.collect(cell);
        for (entry, head) in row.values.iter().zip(&heads) {
            let (Some((at, own)), false) = (head, entry.text.is_empty()) else { continue };
            let place = table.place(entry);
            let text = with_unit(&entry.text, own.or(corner).or(unit));
            let value = faults.collect(circuit.value(kind, &text, place.clone(), warnings));
            values.extend(cell.clone().zip(value).map(|(cell, value)| Value { cell, value, at: *at, place }));
        }
    }
    Ok(faults.or(values)?)
}
