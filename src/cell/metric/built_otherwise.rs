//! Cells that were built otherwise than their design says: they count, and it is told.

use std::collections::BTreeMap;

use super::cell_record::CellRecord;
use crate::input::Warning;

/// The deviations from their design, each with its cells.
pub(super) fn built_otherwise(cells: &[CellRecord]) -> Option<Warning> {
    let mut by_deviation: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for record in cells {
        for deviation in &record.cell.set.deviations {
            by_deviation.entry(deviation).or_default().push(record.cell.code.to_string());
        }
    }
    let words =
        by_deviation.into_iter().map(|(deviation, codes)| format!("{deviation} ({})", codes.join(", ")));
    let words: Vec<String> = words.collect();
    (!words.is_empty()).then(|| {
        let message = format!("built otherwise than the design says, and counted: {}", words.join("; "));
        Warning::new("built_otherwise", message)
    })
}
