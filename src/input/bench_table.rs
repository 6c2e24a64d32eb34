//! A small table as it is kept at a bench: names down, names across, a value where they meet. Separated by
//! tabs, semicolons or commas, whichever the first line has, so that decimal commas can stand in it.

use std::ops::Range;
use std::sync::Arc;

use super::fault::{Fault, Faults, Place};

/// A table that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchTable {
    origin: String,
    text: Arc<str>,
    /// What stands above the names of the rows.
    pub corner: BenchCell,
    /// The names across.
    pub heads: Vec<BenchCell>,
    /// The rows.
    pub rows: Vec<BenchRow>,
}

/// A row: its name, and the cells under each head, some of them empty.
#[derive(Debug, Clone, PartialEq)]
pub struct BenchRow {
    /// The name.
    pub name: BenchCell,
    /// As many as there are heads.
    pub values: Vec<BenchCell>,
}

/// A cell of the table and where it stands.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BenchCell {
    /// Without the space and quotes around it.
    pub text: String,
    span: Range<usize>,
}

impl BenchTable {
    /// Takes a text apart; all faults come together, each with its line.
    ///
    /// # Errors
    /// If there is no row, a row is longer than the head, or a name stands twice.
    pub fn read(origin: &str, text: &str) -> Result<Self, Faults> {
        let mut lines = lines(text).into_iter();
        let mut faults = Faults::none();
        let head = lines.next().unwrap_or_default();
        let mut head = head.into_iter();
        let mut table = Self {
            origin: origin.to_owned(),
            text: Arc::from(text),
            corner: head.next().unwrap_or_default(),
            heads: head.collect(),
            rows: Vec::new(),
        };
        while table.heads.last().is_some_and(|cell| cell.text.is_empty()) {
            table.heads.pop();
        }
        for cells in lines {
            if let Some(row) = faults.collect(table.row(cells)) {
                table.rows.push(row);
            }
        }
        if table.heads.is_empty() || (table.rows.is_empty() && faults.is_empty()) {
            let fault = Fault::new("empty_table", "the table holds no value", table.place(&table.corner));
            faults.push(
                fault.with_hint("Put the names across into the first line, and a row for each name below."),
            );
        }
        table.report_twice(table.heads.iter(), &mut faults);
        table.report_twice(table.rows.iter().map(|row| &row.name), &mut faults);
        faults.or(table)
    }

    /// Where a cell stands.
    pub fn place(&self, cell: &BenchCell) -> Place {
        Place::in_text(&self.origin, Arc::clone(&self.text), cell.span.clone())
    }

    fn row(&self, cells: Vec<BenchCell>) -> Result<BenchRow, Fault> {
        let mut cells = cells.into_iter();
        let name = cells.next().unwrap_or_default();
        let mut values: Vec<BenchCell> = cells.collect();
        if let Some(extra) = values.iter().skip(self.heads.len()).find(|cell| !cell.text.is_empty()) {
            let message = format!("{:?} stands under no head", extra.text);
            return Err(Fault::new("ragged_row", message, self.place(extra)).with_hint(
                "Check the separators of this line; a decimal comma needs semicolons or tabs between cells.",
            ));
        }
        if name.text.is_empty() {
            let filled = values.iter().find(|cell| !cell.text.is_empty());
            let place = self.place(filled.unwrap_or(&name));
            return Err(Fault::new("ragged_row", "a row has no name", place)
                .with_hint("Begin each row with the code that it is about."));
        }
        values.resize(self.heads.len(), BenchCell::default());
        Ok(BenchRow { name, values })
    }

    fn report_twice<'c>(&self, cells: impl Iterator<Item = &'c BenchCell>, faults: &mut Faults) {
        let mut seen: Vec<&str> = Vec::new();
        for cell in cells {
            if seen.contains(&cell.text.as_str()) {
                let fault = Fault::new(
                    "name_twice_in_table",
                    format!("{:?} stands twice", cell.text),
                    self.place(cell),
                );
                faults.push(fault.with_hint("Keep one of the two."));
            }
            seen.push(&cell.text);
        }
    }
}

/// The lines that hold anything, each cut into cells.
fn lines(text: &str) -> Vec<Vec<BenchCell>> {
    // Spreadsheets put a mark before the first letter.
    let start = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    let first = text[start..].lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let separator = ['\t', ';'].into_iter().find(|separator| first.contains(*separator)).unwrap_or(',');
    let (mut lines, mut line) = (Vec::new(), Vec::new());
    let (mut from, mut quoted) = (start, false);
    let end = |line: &mut Vec<BenchCell>, lines: &mut Vec<Vec<BenchCell>>| {
        let line = std::mem::take(line);
        if line.iter().any(|cell: &BenchCell| !cell.text.is_empty()) {
            lines.push(line);
        }
    };
    for (at, c) in text.char_indices().skip_while(|(at, _)| *at < start) {
        match c {
            '"' => quoted = !quoted,
            '\n' if !quoted => {
                line.push(cell(text, from..at));
                end(&mut line, &mut lines);
                from = at + 1;
            }
            _ if c == separator && !quoted => {
                line.push(cell(text, from..at));
                from = at + c.len_utf8();
            }
            _ => {}
        }
    }
    line.push(cell(text, from..text.len()));
    end(&mut line, &mut lines);
    lines
}

fn cell(text: &str, range: Range<usize>) -> BenchCell {
    let raw = &text[range.clone()];
    let start = range.start + (raw.len() - raw.trim_start().len());
    let trimmed = raw.trim();
    let inner = trimmed.strip_prefix('"').and_then(|inner| inner.strip_suffix('"'));
    let clean =
        inner.map_or_else(|| trimmed.to_owned(), |inner| inner.replace("\"\"", "\"").trim().to_owned());
    BenchCell { text: clean, span: start..start + trimmed.len() }
}
