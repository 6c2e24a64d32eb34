//! A file of columns: names in the first line, one thing in each line below. Separated by tabs, semicolons or commas,
//! whichever the first line has, so that decimal commas can stand in it. Read line by line, however long it is.

use std::io::{BufRead as _, BufReader, Chain, Cursor, Read};
use std::sync::Arc;

use csv::{ErrorKind, Reader, ReaderBuilder, StringRecord};

use super::column_head::ColumnHead;
use super::fault::{Fault, Faults, Place};
use super::nearest::did_you_mean;
use crate::quantity::parse_number;

/// A file that is being read.
pub struct ColumnFile<R> {
    source: Arc<Source>,
    columns: Vec<ColumnHead>,
    /// How many lines the reader's count is behind: where lines end with CR LF it has not yet seen the LF.
    lag: u64,
    reader: Reader<Chain<Cursor<Vec<u8>>, BufReader<R>>>,
}

/// A line of the file. It knows where it stands, so that what is found out later has a place as well.
#[derive(Debug, Clone, PartialEq)]
pub struct ColumnRow {
    /// Its number in the file, from 1.
    pub line: u64,
    cells: StringRecord,
    source: Arc<Source>,
}

/// Where lines come from.
#[derive(Debug, PartialEq)]
struct Source {
    origin: String,
    separator: char,
}

/// After so many faults only their number grows.
const MOST_FAULTS: usize = 20;

/// What people write where there is no value.
const MISSING: [&str; 11] = ["", "-", "–", "—", ".", "?", "na", "n/a", "nan", "null", "none"];

impl<R: Read> ColumnFile<R> {
    /// Reads the first line.
    ///
    /// # Errors
    /// If there is none, it names no column or one twice, or the file is no text.
    pub fn open(origin: &str, source: R) -> Result<Self, Faults> {
        let mut source = BufReader::with_capacity(1 << 16, source);
        let unreadable = |error: std::io::Error| {
            Fault::new("not_readable", format!("{origin} can't be read: {error}"), Place::named(origin))
        };
        // Blank lines above the names are passed over, and spreadsheets put a mark before the first letter.
        let mut first = Vec::new();
        let mut lines_above = 0;
        while first.trim_ascii().is_empty() {
            lines_above += u64::from(!first.is_empty());
            first.clear();
            if source.read_until(b'\n', &mut first).map_err(unreadable)? == 0 {
                break;
            }
        }
        let first = first.strip_prefix(b"\xef\xbb\xbf").map(<[u8]>::to_vec).unwrap_or(first);
        let lag = u64::from(first.ends_with(b"\r\n"));
        let separator = ['\t', ';'].into_iter().find(|&sign| first.contains(&(sign as u8))).unwrap_or(',');
        let above = vec![b'\n'; lines_above as usize];
        let reader = ReaderBuilder::new()
            .delimiter(separator as u8)
            .flexible(true)
            .from_reader(Cursor::new([above, first].concat()).chain(source));
        let source = Arc::new(Source { origin: origin.to_owned(), separator });
        let mut file = Self { source, columns: Vec::new(), lag, reader };
        let heads = file.reader.headers().map_err(|error| of_csv(origin, &error, 0))?.clone();
        file.columns = heads.iter().map(ColumnHead::of).collect();
        file.checked()
    }

    fn checked(self) -> Result<Self, Faults> {
        let mut faults = Faults::none();
        let named: Vec<&str> =
            self.columns.iter().map(|column| column.text.as_str()).filter(|text| !text.is_empty()).collect();
        if named.is_empty() {
            let fault = Fault::new(
                "empty_table",
                "the first line names no column",
                Place::named(&self.source.origin),
            );
            faults.push(fault.with_hint("Put the names of the columns into the first line."));
        }
        for (at, text) in named.iter().enumerate() {
            if named[..at].contains(text) {
                let message = format!("two columns are called {text:?}");
                let fault =
                    Fault::new("column_twice", message, Place::named(format!("{}:1", self.source.origin)));
                faults.push(fault.with_hint("Rename one of the two."));
            }
        }
        faults.or(self)
    }

    /// What stands above a column.
    pub fn head(&self, column: usize) -> &ColumnHead {
        &self.columns[column]
    }

    /// The column that a flag names, by its whole head or its name without the unit, whatever the case.
    ///
    /// # Errors
    /// If there is none, or more than one.
    pub fn column(&self, flag: &str, name: &str) -> Result<usize, Fault> {
        let place = || Place::in_text(flag, name, 0..name.len());
        let folded = name.trim().to_lowercase();
        let places = |matches: &dyn Fn(&ColumnHead) -> bool| -> Vec<usize> {
            (0..self.columns.len()).filter(|&column| matches(&self.columns[column])).collect()
        };
        let mut found = places(&|head| head.text.to_lowercase() == folded);
        if found.is_empty() {
            found = places(&|head| head.name.to_lowercase() == folded);
        }
        let known = || self.columns.iter().map(|head| head.text.as_str()).filter(|text| !text.is_empty());
        match found.as_slice() {
            [column] => Ok(*column),
            [] => {
                let message = format!("{} has no column {name:?}", self.source.origin);
                let all = format!("Its columns are {}.", known().collect::<Vec<_>>().join(", "));
                Err(Fault::new("unknown_column", message, place()).with_hint(did_you_mean(
                    name,
                    known(),
                    &all,
                )))
            }
            [one, other, ..] => {
                let (one, other) = (&self.columns[*one].text, &self.columns[*other].text);
                let message = format!("{name:?} may be {one:?} or {other:?}");
                Err(Fault::new("ambiguous_column", message, place())
                    .with_hint("Give the whole head, unit included."))
            }
        }
    }

    /// The next line that holds anything, or `None` at the end.
    ///
    /// # Errors
    /// If it has more cells than there are columns or fewer, or is no text.
    fn next_row(&mut self) -> Option<Result<ColumnRow, Fault>> {
        loop {
            let mut cells = StringRecord::new();
            match self.reader.read_record(&mut cells) {
                Ok(false) => return None,
                Err(error) => return Some(Err(of_csv(&self.source.origin, &error, self.lag))),
                Ok(true) if cells.iter().all(|cell| cell.trim().is_empty()) => {}
                Ok(true) => {
                    let line = cells.position().map_or(0, csv::Position::line) + self.lag;
                    return Some(self.fitting(ColumnRow { line, cells, source: Arc::clone(&self.source) }));
                }
            }
        }
    }

    /// Hands on every line that holds anything; all faults come together, the last of them with how many more
    /// there are.
    ///
    /// # Errors
    /// If a line has more cells than there are columns or fewer, or is no text, and whatever `take` finds.
    pub fn each_row(&mut self, mut take: impl FnMut(&Self, ColumnRow, &mut Faults)) -> Result<(), Faults> {
        let mut kept: Vec<Fault> = Vec::new();
        let mut more = 0;
        while let Some(row) = self.next_row() {
            let mut faults = Faults::none();
            if let Some(row) = faults.collect(row) {
                take(self, row, &mut faults);
            }
            for fault in &faults {
                if kept.len() < MOST_FAULTS { kept.push(fault.clone()) } else { more += 1 }
            }
        }
        if let (Some(last), true) = (kept.last_mut(), 0 < more) {
            last.message.push_str(&format!("; {more} more lines have such faults"));
        }
        let mut faults = Faults::none();
        kept.into_iter().for_each(|fault| faults.push(fault));
        faults.or(())
    }

    fn fitting(&self, row: ColumnRow) -> Result<ColumnRow, Fault> {
        let (cells, columns) = (row.cells.len(), self.columns.len());
        if cells == columns
            || row.cells.iter().skip(columns).all(|cell| cell.trim().is_empty()) && columns < cells
        {
            return Ok(row);
        }
        let message = format!("this line has {cells} cells, the first line {columns}");
        Err(Fault::new("ragged_row", message, row.place(cells.min(columns).saturating_sub(1))).with_hint(
            "Check the separators of this line; a decimal comma needs semicolons or tabs between cells.",
        ))
    }

    /// The number in a cell; `None` where there is none. The unit of the column may stand behind it.
    ///
    /// # Errors
    /// If it is something else.
    pub fn number(&self, row: &ColumnRow, column: usize) -> Result<Option<f64>, Fault> {
        let text = row.text(column);
        if MISSING.contains(&text.to_lowercase().as_str()) {
            return Ok(None);
        }
        let unit = self.columns[column].unit.as_deref();
        let bare = unit.and_then(|unit| text.strip_suffix(unit)).unwrap_or(text);
        parse_number(bare).map(|number| Some(number.value)).map_err(|problem| {
            let message = format!("{text:?} is not a number: {problem}");
            Fault::new("bad_number", message, row.place(column))
                .with_hint("Write a plain number; leave the cell empty, or write NA, where there is none.")
        })
    }
}

impl ColumnRow {
    /// Where a cell stands: the line by its number, and the cell in it.
    pub fn place(&self, column: usize) -> Place {
        let mut text = String::new();
        let mut span = 0..0;
        for (at, cell) in self.cells.iter().enumerate() {
            if 0 < at {
                text.push(self.source.separator);
            }
            let start = text.len();
            text.push_str(&cell.replace(['\n', '\r', '\t'], " "));
            if at == column {
                span = start..text.len();
            }
        }
        let text = if self.source.separator == '\t' { text.replace('\t', " ") } else { text };
        Place::in_text(format!("{}:{}", self.source.origin, self.line), text, span)
    }

    /// The text of a cell without the space around it; empty if there is none.
    pub fn text(&self, column: usize) -> &str {
        self.cells.get(column).unwrap_or_default().trim()
    }
}

fn of_csv(origin: &str, error: &csv::Error, lag: u64) -> Fault {
    match error.kind() {
        ErrorKind::Utf8 { pos, .. } => {
            let line = pos.as_ref().map_or(1, csv::Position::line) + lag;
            let place = Place::named(format!("{origin}:{line}"));
            Fault::new("not_text", format!("{origin} is no UTF-8 text"), place)
                .with_hint("Save the file as UTF-8.")
        }
        _ => Fault::new("not_readable", format!("{origin} can't be read: {error}"), Place::named(origin)),
    }
}
