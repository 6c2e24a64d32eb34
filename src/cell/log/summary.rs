//! What a log holds of each cell.

use jiff::Timestamp;

use super::row::LogRow;
use crate::record::Code;
use crate::record::log::{LoggedCell, Span};

/// The summary of a log while its rows come in.
#[derive(Debug, Clone, Default)]
pub struct LogSummary {
    cells: Vec<Option<OfCell>>,
    rows: u64,
}

#[derive(Debug, Clone)]
struct OfCell {
    rows: u64,
    first_ns: i64,
    last_ns: i64,
    volts: Option<Span>,
    amperes: Option<Span>,
}

impl LogSummary {
    /// Takes the next row.
    pub fn add(&mut self, row: &LogRow) {
        self.rows += 1;
        if self.cells.len() <= row.cell {
            self.cells.resize(row.cell + 1, None);
        }
        let of_cell = self.cells[row.cell].get_or_insert(OfCell {
            rows: 0,
            first_ns: row.at_ns,
            last_ns: row.at_ns,
            volts: None,
            amperes: None,
        });
        of_cell.rows += 1;
        of_cell.last_ns = row.at_ns;
        widen(&mut of_cell.volts, row.volts);
        widen(&mut of_cell.amperes, row.amperes);
    }

    /// How many rows.
    pub fn rows(&self) -> u64 {
        self.rows
    }

    /// What it holds, cell by cell, in the order in which they were met.
    pub fn cells(&self, codes: &[Code]) -> Vec<LoggedCell> {
        let time = |ns: i64| Timestamp::from_nanosecond(i128::from(ns)).unwrap_or(Timestamp::UNIX_EPOCH);
        let logged = |(code, of_cell): (&Code, &Option<OfCell>)| {
            let of_cell = of_cell.as_ref()?;
            Some(LoggedCell {
                cell: code.clone(),
                rows: of_cell.rows,
                first: time(of_cell.first_ns),
                last: time(of_cell.last_ns),
                volts: of_cell.volts,
                amperes: of_cell.amperes,
            })
        };
        codes.iter().zip(&self.cells).filter_map(logged).collect()
    }
}

fn widen(span: &mut Option<Span>, value: Option<f64>) {
    let Some(value) = value else { return };
    let span = span.get_or_insert(Span { first: value, last: value, least: value, most: value });
    span.last = value;
    span.least = span.least.min(value);
    span.most = span.most.max(value);
}
