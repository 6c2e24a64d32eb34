//! A table from a spreadsheet: columns found by their names, numbers and words taken out of them.

use std::ops::Range;
use std::sync::Arc;

use super::bench_table::{BenchCell, lines};
use super::fault::{Fault, Faults, Place};
use super::nearest::did_you_mean;
use crate::quantity::parse_number;

/// More faults of one column than this are only counted.
const MOST_FAULTS: usize = 8;

/// A table that was read: a line of names, and rows of cells below.
#[derive(Debug, Clone, PartialEq)]
pub struct NumberTable {
    origin: String,
    text: Arc<str>,
    heads: Vec<BenchCell>,
    rows: Vec<Vec<BenchCell>>,
}

/// A column of it.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedColumn {
    /// The name without its unit.
    pub name: String,
    /// The unit in brackets behind the name.
    pub unit: Option<String>,
    place: usize,
}

impl NumberTable {
    /// Takes a text apart, separated by tabs, semicolons or commas, whichever the first line has.
    ///
    /// # Errors
    /// If there is no row of values, a name stands twice, or a row is longer than the line of names.
    pub fn read(origin: &str, text: &str) -> Result<Self, Faults> {
        let mut lines = lines(text).into_iter();
        let heads = lines.next().unwrap_or_default();
        let table = Self { origin: origin.to_owned(), text: Arc::from(text), heads, rows: lines.collect() };
        let mut faults = Faults::none();
        if table.rows.is_empty() {
            let fault = Fault::new("no_rows", "the table holds no row of values", Place::named(origin));
            faults.push(fault.with_hint("Put the names of the columns into the first line, values below."));
        }
        for (at, head) in table.heads.iter().enumerate() {
            if !head.text.is_empty() && table.heads[..at].iter().any(|before| before.text == head.text) {
                let message = format!("the column {:?} stands twice", head.text);
                let fault = Fault::new("column_twice", message, table.place(head));
                faults.push(fault.with_hint("Give each column a name of its own."));
            }
        }
        table.report_long_rows(&mut faults);
        faults.or(table)
    }

    fn report_long_rows(&self, faults: &mut Faults) {
        let extra = |row: &Vec<BenchCell>| {
            row.iter().skip(self.heads.len()).find(|cell| !cell.text.is_empty()).cloned()
        };
        for cell in self.rows.iter().filter_map(extra).take(MOST_FAULTS) {
            let message = format!("{:?} stands under no name", cell.text);
            let fault = Fault::new("ragged_row", message, self.place(&cell));
            faults.push(fault.with_hint(
                "Check the separators of this line; a decimal comma needs semicolons or tabs between cells.",
            ));
        }
    }

    /// The column of this name, with or without the unit that stands in brackets behind it.
    ///
    /// # Errors
    /// If there is none, or several could be meant.
    pub fn column(&self, flag: &str, name: &str) -> Result<NamedColumn, Fault> {
        let matching = |same: &dyn Fn(&str) -> bool| -> Vec<usize> {
            (0..self.heads.len()).filter(|at| same(&self.heads[*at].text)).collect()
        };
        let wanted = name.trim();
        let found = [
            matching(&|head| head == wanted),
            matching(&|head| name_and_unit(head).0 == wanted),
            matching(&|head| name_and_unit(head).0.eq_ignore_ascii_case(wanted)),
        ];
        match found.into_iter().find(|places| !places.is_empty()).unwrap_or_default()[..] {
            [place] => {
                let (name, unit) = name_and_unit(&self.heads[place].text);
                Ok(NamedColumn { name: name.to_owned(), unit: unit.map(str::to_owned), place })
            }
            [] => Err(self.no_column(flag, wanted)),
            _ => {
                let message = format!("{wanted:?} could be several columns");
                let fault = Fault::new("unknown_column", message, flag_place(flag, name));
                Err(fault.with_hint("Write the name with its unit, as it stands in the file."))
            }
        }
    }

    fn no_column(&self, flag: &str, name: &str) -> Fault {
        let names: Vec<&str> = self.heads.iter().map(|head| name_and_unit(&head.text).0).collect();
        let all = format!("The columns are {}.", names.join(", "));
        let message = format!("{} has no column {name:?}", self.origin);
        Fault::new("unknown_column", message, flag_place(flag, name))
            .with_hint(did_you_mean(name, names, &all))
    }

    /// The numbers of a column, one for each row; `None` where the cell is empty.
    ///
    /// # Errors
    /// If a cell holds something else; each with its line.
    pub fn numbers(&self, column: &NamedColumn) -> Result<Vec<Option<f64>>, Faults> {
        let mut faults = Faults::none();
        let mut numbers = Vec::with_capacity(self.rows.len());
        let mut bad = 0;
        for row in &self.rows {
            let cell = row.get(column.place).filter(|cell| !cell.text.is_empty());
            let number =
                cell.map(|cell| parse_number(&cell.text).map_err(|problem| (cell, problem))).transpose();
            match number {
                Ok(number) => numbers.push(number.map(|number| number.value)),
                Err((cell, problem)) => {
                    bad += 1;
                    if bad <= MOST_FAULTS {
                        let message = format!("{:?} is no number: {problem}", cell.text);
                        let fault = Fault::new("bad_cell", message, self.place(cell));
                        faults.push(fault.with_hint("Leave the cell empty where nothing was read."));
                    }
                }
            }
        }
        if MOST_FAULTS < bad {
            let message = format!("{} more cells of {:?} are no numbers", bad - MOST_FAULTS, column.name);
            let fault = Fault::new("bad_cell", message, Place::named(&self.origin));
            faults.push(fault.with_hint("Check that this is the column that you mean."));
        }
        faults.or(numbers)
    }

    /// The words of a column, one for each row; empty where the cell is.
    pub fn words(&self, column: &NamedColumn) -> Vec<String> {
        let word =
            |row: &Vec<BenchCell>| row.get(column.place).map_or(String::new(), |cell| cell.text.clone());
        self.rows.iter().map(word).collect()
    }

    /// How many rows there are.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// True if there is no row.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// Where the cell of a row, from 0, in a column stands.
    pub fn place_of(&self, row: usize, column: &NamedColumn) -> Place {
        match self.rows.get(row).and_then(|row| row.get(column.place)) {
            Some(cell) => self.place(cell),
            None => Place::named(&self.origin),
        }
    }

    fn place(&self, cell: &BenchCell) -> Place {
        Place::in_text(&self.origin, Arc::clone(&self.text), cell.span())
    }
}

fn flag_place(flag: &str, name: &str) -> Place {
    Place::in_text(flag, name, 0..name.len())
}

/// A name and the unit in brackets behind it: `voltage (V)`, `time [d]`.
pub fn name_and_unit(text: &str) -> (&str, Option<&str>) {
    let bracket = |open: char, close: char| -> Option<Range<usize>> {
        let start = text.rfind(open)?;
        text.trim_end().ends_with(close).then(|| start..text.trim_end().len())
    };
    match bracket('(', ')').or_else(|| bracket('[', ']')) {
        Some(span) => (text[..span.start].trim(), Some(text[span.start + 1..span.end - 1].trim())),
        None => (text.trim(), None),
    }
}
