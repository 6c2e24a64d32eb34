//! Bench tables with quantities: a value with its unit, or with that of its head, the corner or a flag.

use crate::input::{BenchCell, BenchTable, Fault, Faults, name_and_unit};
use crate::quantity::{Quantity, Typed};

/// A value of a bench table.
pub(in crate::cli) struct BenchValue<R, H, T> {
    /// What the row's name means.
    pub(in crate::cli) row: R,
    /// What the head means.
    pub(in crate::cli) head: H,
    /// The value.
    pub(in crate::cli) value: Typed<T>,
}

/// Every value that stands in the table; all faults together.
pub(in crate::cli) fn bench_values<R: Clone, H: Clone, T: Quantity>(
    table: &BenchTable,
    unit: Option<&str>,
    row: impl Fn(&str, &BenchCell) -> Result<R, Faults>,
    head: impl Fn(&str, &BenchCell) -> Result<H, Faults>,
) -> Result<Vec<BenchValue<R, H, T>>, Faults> {
    let mut faults = Faults::none();
    let (_, corner) = name_and_unit(&table.corner.text);
    let heads: Vec<Option<(H, Option<&str>)>> = table
        .heads
        .iter()
        .map(|cell| {
            let (name, unit) = name_and_unit(&cell.text);
            Some((faults.collect(head(name, cell))?, unit))
        })
        .collect();
    let mut values = Vec::new();
    for line in &table.rows {
        let named = faults.collect(row(&line.name.text, &line.name));
        for (cell, head) in line.values.iter().zip(&heads) {
            let (Some((head, own)), false) = (head, cell.text.is_empty()) else { continue };
            let value = faults.collect(value(table, cell, own.or(corner).or(unit)));
            if let (Some(row), Some(value)) = (named.clone(), value) {
                values.push(BenchValue { row, head: head.clone(), value });
            }
        }
    }
    faults.or(values)
}

fn value<T: Quantity>(table: &BenchTable, cell: &BenchCell, unit: Option<&str>) -> Result<Typed<T>, Fault> {
    let text = with_unit(&cell.text, unit);
    Typed::parse(&text).map_err(|error| Fault::of_quantity(&error, table.place(cell)))
}

/// A bare number with the unit that goes for all.
pub(in crate::cli) fn with_unit(text: &str, unit: Option<&str>) -> String {
    let bare = !text.contains(|c: char| !(c.is_ascii_digit() || " .,+-−eE".contains(c)));
    match unit {
        Some(unit) if bare => format!("{} {unit}", text.trim()),
        _ => text.to_owned(),
    }
}
