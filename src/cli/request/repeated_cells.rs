//! A cell that stands on several lines of a file, each of which is taken as a cell of its own.

use std::collections::HashSet;
use std::io::Read;

use super::observations::{Columns, Reading};
use crate::input::{ColumnFile, ColumnRow, Warning};

/// Names under which cells stand.
const NAMES: [&str; 8] = ["cell", "cells", "cell id", "cell_id", "cell no", "cell number", "vial", "zelle"];

/// Looks for a cell that comes again in its group and batch, until one is found.
pub(super) struct RepeatedCells {
    column: Option<(usize, String)>,
    seen: HashSet<[String; 3]>,
    found: Option<(String, u64)>,
}

impl RepeatedCells {
    /// Where the file has a column of cells that nobody named.
    pub(super) fn of<R: Read>(file: &ColumnFile<R>, columns: &Columns) -> Self {
        let used = [Some(columns.value), columns.by, columns.batch, columns.excluded];
        let named = NAMES.into_iter().filter_map(|name| file.column("--cell", name).ok());
        let column = named.into_iter().find(|column| !used.contains(&Some(*column)));
        let column = column.map(|column| (column, file.head(column).text.clone()));
        Self { column, seen: HashSet::new(), found: None }
    }

    /// Looks at a line.
    pub(super) fn see(&mut self, row: &ColumnRow, reading: &Reading) {
        let (Some((column, _)), None) = (&self.column, &self.found) else { return };
        let cell = row.text(*column);
        if cell.is_empty() || reading.value.is_none() {
            return;
        }
        if !self.seen.insert([reading.group.clone(), reading.batch.clone(), cell.to_owned()]) {
            self.found = Some((cell.to_owned(), reading.line));
        }
    }

    /// What to know if there is one.
    pub(super) fn warning(self) -> Option<Warning> {
        let ((_, head), (cell, line)) = self.column.zip(self.found)?;
        let message = format!(
            "every line was taken as a cell of its own, but cell {cell} comes again in line {line} (column {head:?}): readings \
             of one cell are no further cells, and pooled they make p and intervals far too small; give --cell {head:?} and \
             --time, and --at-day for the value at a day"
        );
        Some(Warning::new("repeated_cells", message))
    }
}
