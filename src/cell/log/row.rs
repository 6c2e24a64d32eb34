//! The rows of a log, one by one. What can't be is told with its line and what is wrong.

use std::collections::HashMap;
use std::io::{self, BufRead, BufReader, Read};
use std::ops::Range;

use jiff::tz::TimeZone;

use super::fields::{cut, number};
use super::moment::{Moments, zone};
use super::since::nanoseconds;
use crate::record::log::{LogCell, LogColumn, LogLayout, LogTime};
use crate::record::{Code, CodeKind};

/// A good row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LogRow {
    /// Place of its cell in [`LogRows::cells`].
    pub cell: usize,
    /// Nanoseconds since 1970, UTC.
    pub at_ns: i64,
    /// Volts.
    pub volts: Option<f64>,
    /// Amperes.
    pub amperes: Option<f64>,
}

/// A row that is not like its layout.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadRow {
    /// Its line, from 1.
    pub line: u64,
    /// What is wrong.
    pub why: String,
}

/// What comes next in a log.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// A row.
    Row(LogRow),
    /// A bad one.
    Bad(BadRow),
    /// The end.
    End,
}

/// No single galvanic cell reads more volts (from memory: lithium against fluorine, about 6 V).
const MOST_VOLTS: f64 = 10.0;
/// No home-built cell delivers more amperes.
const MOST_AMPERES: f64 = 1000.0;
/// A line longer than this is none of a log.
const LONGEST_LINE: u64 = 1 << 16;
const BUFFER: usize = 1 << 18;

/// A log as it is read.
pub struct LogRows<R> {
    reader: BufReader<R>,
    line: u64,
    buffer: Vec<u8>,
    fields: Vec<Range<usize>>,
    layout: LogLayout,
    moments: Moments,
    cells: Vec<Code>,
    places: HashMap<Vec<u8>, usize>,
    /// Time of the last row of each cell.
    last_ns: Vec<i64>,
}

impl<R: Read> LogRows<R> {
    /// Reads on from the beginning of a file, past its head.
    ///
    /// # Errors
    /// If it can't be read.
    pub fn new(source: R, layout: &LogLayout) -> io::Result<Self> {
        let zone = match &layout.time {
            LogTime::Moment { zone: name, .. } => zone(name)
                .ok_or_else(|| io::Error::other(format!("the time zone {name:?} is not known here")))?,
            LogTime::Since { .. } => TimeZone::UTC,
        };
        let mut rows = Self {
            reader: BufReader::with_capacity(BUFFER, source),
            line: 0,
            buffer: Vec::new(),
            fields: Vec::new(),
            layout: layout.clone(),
            moments: Moments::new(zone),
            cells: Vec::new(),
            places: HashMap::new(),
            last_ns: Vec::new(),
        };
        while rows.line < layout.head_line && rows.read_line()? != 0 {}
        if let LogCell::One(code) = &layout.cell {
            rows.place_of(code.clone());
        }
        Ok(rows)
    }

    /// The cells that were met so far.
    pub fn cells(&self) -> &[Code] {
        &self.cells
    }

    /// The reader, when all is read.
    pub fn into_inner(self) -> R {
        self.reader.into_inner()
    }

    /// The next row. Empty lines are passed over.
    ///
    /// # Errors
    /// If the file can't be read.
    #[allow(clippy::should_implement_trait, reason = "reading may fail, and a bad row is no end")]
    pub fn next(&mut self) -> io::Result<Next> {
        loop {
            let read = self.read_line()?;
            if read == 0 {
                return Ok(Next::End);
            }
            if LONGEST_LINE <= read {
                self.skip_line()?;
                return Ok(self.bad(format!("the line is longer than {LONGEST_LINE} bytes")));
            }
            if self.buffer.iter().all(u8::is_ascii_whitespace) {
                continue;
            }
            cut(&self.buffer, self.layout.separator as u8, &mut self.fields);
            return Ok(match self.row() {
                Ok(row) => Next::Row(row),
                Err(why) => self.bad(why),
            });
        }
    }

    fn bad(&self, why: String) -> Next {
        Next::Bad(BadRow { line: self.line, why })
    }

    fn read_line(&mut self) -> io::Result<u64> {
        self.buffer.clear();
        let read = (&mut self.reader).take(LONGEST_LINE).read_until(b'\n', &mut self.buffer)?;
        self.line += u64::from(read != 0);
        Ok(read as u64)
    }

    fn skip_line(&mut self) -> io::Result<()> {
        while self.buffer.last() != Some(&b'\n') {
            self.buffer.clear();
            if (&mut self.reader).take(LONGEST_LINE).read_until(b'\n', &mut self.buffer)? == 0 {
                break;
            }
        }
        Ok(())
    }

    fn row(&mut self) -> Result<LogRow, String> {
        if self.fields.iter().skip(self.layout.columns).any(|field| !field.is_empty()) {
            return Err(format!(
                "it has {} columns, and the head has {}: check the decimal sign",
                self.fields.len(),
                self.layout.columns
            ));
        }
        let at_ns = self.time()?;
        let cell = self.cell()?;
        let (volts, amperes) = (
            self.value(self.layout.voltage.as_ref(), MOST_VOLTS, "V")?,
            self.value(self.layout.current.as_ref(), MOST_AMPERES, "A")?,
        );
        if at_ns < self.last_ns[cell] {
            return Err(format!("its time is before that of the row above it of {}", self.cells[cell]));
        }
        self.last_ns[cell] = at_ns;
        Ok(LogRow { cell, at_ns, volts, amperes })
    }

    fn field(&self, number: usize) -> Result<&[u8], String> {
        field(&self.buffer, &self.fields, number)
    }

    fn time(&mut self) -> Result<i64, String> {
        match &self.layout.time {
            LogTime::Since { column, start } => {
                let field = self.field(column.number)?;
                let since = nanoseconds(field, column.factor, self.layout.decimal_comma);
                let start_ns = i64::try_from(start.as_nanosecond()).ok();
                let at = since.zip(start_ns).and_then(|(since, start)| start.checked_add(since));
                at.ok_or_else(|| format!("{:?} in {:?} is no time", shown(field), column.name))
            }
            LogTime::Moment { number, name, zone } => {
                let field = field(&self.buffer, &self.fields, *number)?;
                let no_time =
                    || format!("{:?} in {name:?} is no time, or none in the zone {zone}", shown(field));
                self.moments.read(field).ok_or_else(no_time)
            }
        }
    }

    fn value(&self, column: Option<&LogColumn>, most: f64, unit: &str) -> Result<Option<f64>, String> {
        let Some(column) = column else { return Ok(None) };
        let field = self.field(column.number)?;
        let value = number(field, self.layout.decimal_comma).map(|value| value * column.factor);
        match value {
            Some(value) if value.abs() <= most => Ok(Some(value)),
            Some(_) => Err(format!("{:?} in {:?} is more than {most} {unit}", shown(field), column.name)),
            None => Err(format!("{:?} in {:?} is no number", shown(field), column.name)),
        }
    }

    fn cell(&mut self) -> Result<usize, String> {
        let LogCell::Column { number, names, .. } = &self.layout.cell else { return Ok(0) };
        let field = self.field(*number)?;
        if let Some(place) = self.places.get(field) {
            return Ok(*place);
        }
        let text = shown(field);
        let named = names.iter().find(|(name, _)| *name == text).map(|(_, code)| code.clone());
        let code = named.or_else(|| text.parse::<Code>().ok().filter(|code| code.kind() == CodeKind::Cell));
        let Some(code) = code else { return Err(format!("{text:?} is no cell")) };
        let field = field.to_vec();
        let place = self.place_of(code);
        self.places.insert(field, place);
        Ok(place)
    }

    fn place_of(&mut self, code: Code) -> usize {
        if let Some(place) = self.cells.iter().position(|cell| *cell == code) {
            return place;
        }
        self.cells.push(code);
        self.last_ns.push(i64::MIN);
        self.cells.len() - 1
    }
}

/// A field by its number, from 1.
fn field<'b>(buffer: &'b [u8], fields: &[Range<usize>], number: usize) -> Result<&'b [u8], String> {
    match fields.get(number - 1).map(|range| &buffer[range.clone()]) {
        Some([]) => Err(format!("column {number} is empty")),
        Some(field) => Ok(field),
        None => Err(format!("it has {} columns, and column {number} is needed", fields.len())),
    }
}

fn shown(field: &[u8]) -> String {
    const MOST: usize = 60;
    let text = String::from_utf8_lossy(field);
    if text.chars().count() <= MOST {
        return text.into_owned();
    }
    text.chars().take(MOST).chain(['…']).collect()
}
