//! GitHub's tables, padded so that the source reads as a table too.

use std::fmt;

use unicode_width::UnicodeWidthStr;

use super::escape::cell;
use crate::report::document::{ColumnKind, Table, Text, strong};

/// Escaped cells; the first row is the head.
pub(super) struct Grid {
    rows: Vec<Vec<String>>,
    at_end: Vec<bool>,
}

impl Grid {
    pub(super) fn of(table: &Table) -> Self {
        let head = table.columns().iter().map(|column| cell(&column.full_header())).collect();
        let mut rows: Vec<Vec<String>> = vec![head];
        rows.extend(table.rows().iter().map(|row| row.iter().map(cell).collect()));
        if let Some(total) = table.total_row() {
            rows.push(total.iter().map(|sum| cell(&bold(sum))).collect());
        }
        let at_end = |kind| matches!(kind, ColumnKind::Right | ColumnKind::Decimal);
        Self { rows, at_end: table.columns().iter().map(|column| at_end(column.kind)).collect() }
    }

    fn width(&self, index: usize) -> usize {
        self.rows.iter().map(|row| row[index].width()).max().unwrap_or(0).max(3)
    }

    fn rule(&self, index: usize) -> String {
        let width = self.width(index);
        if self.at_end[index] { format!("{}:", "-".repeat(width - 1)) } else { "-".repeat(width) }
    }

    fn padded(&self, index: usize, cell: &str) -> String {
        let space = " ".repeat(self.width(index) - cell.width());
        if self.at_end[index] { format!("{space}{cell}") } else { format!("{cell}{space}") }
    }
}

fn bold(cell: &Text) -> Text {
    strong(cell.to_string())
}

impl fmt::Display for Grid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (number, row) in self.rows.iter().enumerate() {
            if 0 < number {
                f.write_str("\n")?;
            }
            let cells: Vec<String> =
                row.iter().enumerate().map(|(index, cell)| self.padded(index, cell)).collect();
            write!(f, "| {} |", cells.join(" | "))?;
            if number == 0 {
                let rules: Vec<String> = (0..row.len()).map(|index| self.rule(index)).collect();
                write!(f, "\n| {} |", rules.join(" | "))?;
            }
        }
        Ok(())
    }
}
