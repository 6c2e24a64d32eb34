//! Logs: long series of an instrument. The file is kept as it came; the entry says what it is and how it is read.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::code::Code;
use super::entry::Hash;

/// A log was taken in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LogImported {
    /// Hash of the file's bytes; it is kept under this name.
    pub file: Hash,
    /// What the file was called.
    pub name: String,
    /// Its size.
    pub bytes: u64,
    /// How it is read.
    pub layout: LogLayout,
    /// What is in it, cell by cell.
    pub cells: Vec<LoggedCell>,
    /// Rows that were read.
    pub rows: u64,
    /// Rows that were left out, as was asked for.
    pub skipped: u64,
    /// The first of those, with their lines in the kept file.
    pub skipped_rows: Vec<SkippedRow>,
    /// The meter.
    pub instrument: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// Why, in spite of a limit.
    pub because: Option<String>,
    /// When it was taken in.
    pub at: Timestamp,
}

/// A row that was left out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SkippedRow {
    /// Its line in the file, from 1.
    pub line: u64,
    /// What is wrong with it.
    pub why: String,
}

/// What a log holds of one cell.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LoggedCell {
    /// The cell.
    pub cell: Code,
    /// Rows of it.
    pub rows: u64,
    /// Time of the first.
    pub first: Timestamp,
    /// Time of the last.
    pub last: Timestamp,
    /// Volts.
    pub volts: Option<Span>,
    /// Amperes.
    pub amperes: Option<Span>,
}

/// First, last and extreme values of a series.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Span {
    /// The first.
    pub first: f64,
    /// The last.
    pub last: f64,
    /// The least.
    pub least: f64,
    /// The greatest.
    pub most: f64,
}

/// How a file is read: complete, so that it is read the same way for ever.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LogLayout {
    /// Line of the head, from 1; rows follow below it.
    pub head_line: u64,
    /// How many columns the head has; a row with more is bad, since its decimal comma may be cut.
    pub columns: usize,
    /// What stands between the columns.
    pub separator: char,
    /// True if the decimal sign is a comma.
    pub decimal_comma: bool,
    /// The times.
    pub time: LogTime,
    /// Voltages.
    pub voltage: Option<LogColumn>,
    /// Currents.
    pub current: Option<LogColumn>,
    /// Which cell a row is about.
    pub cell: LogCell,
}

/// A column of numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LogColumn {
    /// Its number, from 1.
    pub number: usize,
    /// Its head.
    pub name: String,
    /// The unit.
    pub unit: String,
    /// The unit in volts, amperes or seconds.
    pub factor: f64,
}

/// How times are written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LogTime {
    /// Since the start; a number in the column's unit, or hours, minutes and seconds with colons.
    Since {
        /// The column.
        column: LogColumn,
        /// The start.
        start: Timestamp,
    },
    /// Date and time of day.
    Moment {
        /// Number of the column, from 1.
        number: usize,
        /// Its head.
        name: String,
        /// The zone of times that name none.
        zone: String,
    },
}

/// Which cell a row is about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LogCell {
    /// All rows are about one.
    One(Code),
    /// A column says it.
    Column {
        /// Number of the column, from 1.
        number: usize,
        /// Its head.
        name: String,
        /// What the column calls cells that it does not call by their codes.
        names: Vec<(String, Code)>,
    },
}

/// A log as it stands in the book.
#[derive(Debug, Clone, PartialEq)]
pub struct Log {
    /// Sequence of its entry.
    pub entry: u64,
    /// What was recorded.
    pub imported: LogImported,
}

/// A stretch of time that two logs share for one cell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Overlap {
    /// The cell.
    pub cell: Code,
    /// Sequence of the entry of the earlier log.
    pub entry: u64,
    /// From when.
    pub from: Timestamp,
    /// Until when.
    pub to: Timestamp,
}

impl LogImported {
    /// What it holds of a cell.
    pub fn of(&self, cell: &Code) -> Option<&LoggedCell> {
        self.cells.iter().find(|logged| logged.cell == *cell)
    }

    /// Where it overlaps with logs that stand in the book. Logs that only touch do not.
    pub fn overlaps(&self, others: &[Log]) -> Vec<Overlap> {
        let mut list = Vec::new();
        for own in &self.cells {
            for other in others {
                let Some(there) = other.imported.of(&own.cell) else { continue };
                let (from, to) = (own.first.max(there.first), own.last.min(there.last));
                if from < to {
                    list.push(Overlap { cell: own.cell.clone(), entry: other.entry, from, to });
                }
            }
        }
        list
    }
}

impl LoggedCell {
    /// Mean seconds from one row to the next; 0 for a single row.
    pub fn mean_interval_s(&self) -> f64 {
        let steps = self.rows.saturating_sub(1).max(1) as f64;
        self.last.duration_since(self.first).as_secs_f64() / steps
    }
}
