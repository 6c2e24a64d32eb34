//! Which cells of the book are meant, and what it holds of them.

use std::collections::BTreeSet;

use clap::Args;

use super::lot::{Lots, electrolytes};
use super::number::whole_number;
use super::record::{code, codes};
use super::surroundings::failure;
use crate::book::{Book, batch, cell, cells};
use crate::cli::outcome::Failure;
use crate::input::{Fault, Faults, Place, did_you_mean};
use crate::record::Code;
use crate::record::cell::Cell;

/// Which cells of the book.
#[derive(Debug, Default, Args)]
pub(in crate::cli) struct CellSelection {
    /// Only these cells; a run of them as C1-C12; repeatable
    #[arg(long, value_name = "CELL", help_heading = "Values of the book")]
    cells: Vec<String>,
    /// Only cells that hold this batch; repeatable
    #[arg(long, value_name = "BATCH", help_heading = "Values of the book")]
    of: Vec<String>,
    /// Only cells with an electrolyte of this recipe, by its name; repeatable
    #[arg(long, value_name = "NAME", help_heading = "Values of the book")]
    recipe: Vec<String>,
    /// Only cells of this design, by its name; repeatable
    #[arg(long, value_name = "NAME", help_heading = "Values of the book")]
    design: Vec<String>,
    /// Only cells that were built in this entry of the book; repeatable
    #[arg(long, value_name = "ENTRY", help_heading = "Values of the book", allow_hyphen_values = true)]
    built_in: Vec<String>,
}

impl CellSelection {
    /// The cells of an electrolyte, by its recipe's name or its lot.
    pub(super) fn of_electrolyte(name: &str) -> Self {
        match name.parse::<Code>() {
            Ok(_) => Self { of: vec![name.to_owned()], ..Self::default() },
            Err(_) => Self { recipe: vec![name.to_owned()], ..Self::default() },
        }
    }

    /// The flags that are given.
    pub(super) fn given(&self) -> Vec<&'static str> {
        let flags = [
            ("--cells", &self.cells),
            ("--of", &self.of),
            ("--recipe", &self.recipe),
            ("--design", &self.design),
            ("--built-in", &self.built_in),
        ];
        flags.into_iter().filter(|(_, list)| !list.is_empty()).map(|(flag, _)| flag).collect()
    }

    /// The cells that are meant, in order of their codes; retired ones too.
    pub(in crate::cli) fn cells(&self, book: &Book) -> Result<Vec<Cell>, Failure> {
        let mut faults = Faults::none();
        let named = faults.collect(codes("--cells", &self.cells)).unwrap_or_default();
        let of: Vec<Code> = self.of.iter().filter_map(|text| faults.collect(code("--of", text))).collect();
        let built: Vec<u64> = self
            .built_in
            .iter()
            .filter_map(|text| faults.collect(whole_number("--built-in", text)))
            .collect();
        faults.or(())?;
        for code in &of {
            batch(book, code).map_err(|error| failure(&error))?;
        }
        let mut list = if named.is_empty() {
            cells(book).map_err(|error| failure(&error))?
        } else {
            let list: Result<_, _> = named.iter().map(|code| cell(book, code)).collect();
            list.map_err(|error| failure(&error))?
        };
        list.sort_by(|a, b| a.code.cmp(&b.code));
        list.retain(|cell| of.is_empty() || cell.contents.iter().any(|content| of.contains(&content.batch)));
        self.retain_named(book, &mut list)?;
        list.retain(|cell| built.is_empty() || built.contains(&cell.set.entry));
        if list.is_empty() { Err(self.none().into()) } else { Ok(list) }
    }

    fn retain_named(&self, book: &Book, list: &mut Vec<Cell>) -> Result<(), Failure> {
        if !self.recipe.is_empty() {
            let lots = Lots::of(book, list)?;
            let known: BTreeSet<String> = list
                .iter()
                .filter(|cell| electrolytes(cell).next().is_some())
                .map(|cell| lots.name(cell))
                .collect();
            let wanted = wanted("--recipe", &self.recipe, &known)?;
            list.retain(|cell| wanted.contains(&lots.name(cell)));
        }
        if !self.design.is_empty() {
            let known: BTreeSet<String> = list.iter().map(|cell| cell.set.design.name.clone()).collect();
            let wanted = wanted("--design", &self.design, &known)?;
            list.retain(|cell| wanted.contains(&cell.set.design.name));
        }
        Ok(())
    }

    fn none(&self) -> Fault {
        let given = self.given();
        let (message, hint) = if given.is_empty() {
            ("the book has no cell".to_owned(), "Build some with: meltbook cell build.")
        } else {
            (
                format!("no cell fits {} together", given.join(" and ")),
                "See which there are with: meltbook cell list --all.",
            )
        };
        Fault::new("no_cells", message, Place::named("the book")).with_hint(hint)
    }
}

/// The known names that are meant, whatever their letters' case.
fn wanted(flag: &str, given: &[String], known: &BTreeSet<String>) -> Result<BTreeSet<String>, Faults> {
    let mut faults = Faults::none();
    let mut found = BTreeSet::new();
    for name in given {
        let same = known.iter().find(|own| own.to_lowercase() == name.trim().to_lowercase());
        match same {
            Some(own) => {
                found.insert(own.clone());
            }
            None => {
                let place = Place::in_text(flag, name.as_str(), 0..name.len());
                let all: Vec<String> = known.iter().map(|own| format!("{own:?}")).collect();
                let all = format!("There are {}.", all.join(", "));
                let message = format!("no cell is of {name:?}");
                let hint = did_you_mean(name, known.iter().map(String::as_str), &all);
                faults.push(Fault::new("unknown_of_cells", message, place).with_hint(hint));
            }
        }
    }
    faults.or(found)
}
