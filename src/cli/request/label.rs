//! What is on the label of a code: its records read, and what is known of its hazards.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::civil::Date;

use super::batch::{review_batch, standing};
use super::cell_review::cell_review;
use super::review::{scheme, scheme_of};
use super::shelf::today;
use super::size::parsed;
use super::surroundings::{failure, open_book, settings, zone};
use super::table::component_table;
use crate::book::{Book, BookError, author_of, bottle, cell};
use crate::caution::{Context, Scheme, Subject, review};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::ComponentTable;
use crate::input::{Faults, Warning};
use crate::quantity::Volume;
use crate::record::bottle::Bottle;
use crate::record::cell::{Cell, CellContent};
use crate::record::{Code, CodeKind, read_design};
use crate::report::label::{LabelContent, LabelHazards, Package, batch_label, bottle_label, cell_label};

/// Where labels are read from.
pub(in crate::cli) struct LabelSource {
    book: Book,
    table: ComponentTable,
    today: Date,
    scheme: Scheme,
    laboratory: Option<String>,
    /// What every package holds, as stated and in mL.
    capacity: Option<(String, f64)>,
    /// Hazards of the cells of one set, by its entry.
    of_sets: BTreeMap<u64, LabelHazards>,
    /// What could not be looked at.
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// How much a package holds where nobody says: a vessel is seldom more than half full, and few powders are lighter.
const ML_PER_G: f64 = 2.0;

impl LabelSource {
    /// The book around, by the scheme and for the packages that the flags name.
    pub(in crate::cli) fn open(
        common: &Common,
        scheme_flag: Option<&str>,
        capacity: Option<&str>,
        faults: &mut Faults,
    ) -> Result<Self, Failure> {
        let mut warnings = Vec::new();
        let chosen = scheme_flag.and_then(|word| faults.collect(scheme(word)));
        let capacity = capacity.and_then(|text| parsed::<Volume>("--capacity", text, faults, &mut warnings));
        let settings = settings(common)?;
        let (book, table, today) = (open_book(common)?, component_table(common)?, today()?);
        Ok(Self {
            book,
            table,
            today,
            scheme: chosen.unwrap_or_else(|| scheme_of(settings.as_ref())),
            laboratory: settings.map(|settings| settings.laboratory),
            capacity: capacity.map(|typed| (typed.text, typed.value.get())),
            of_sets: BTreeMap::new(),
            warnings,
        })
    }

    /// The package of what weighs so many grams.
    fn package(&self, holds_g: f64) -> Package {
        match &self.capacity {
            Some((text, capacity_ml)) => {
                Package { capacity_ml: *capacity_ml, from: format!("{text}, as stated") }
            }
            None => Package::of_contents(holds_g, ML_PER_G),
        }
    }

    /// What the label of a code bears.
    pub(in crate::cli) fn content(&mut self, code: &Code) -> Result<LabelContent, Failure> {
        let laboratory = self.laboratory.clone();
        Ok(self.content_of(code)?.laboratory(laboratory))
    }

    fn content_of(&mut self, code: &Code) -> Result<LabelContent, Failure> {
        let who = author_of(&self.book, code).map_err(|error| failure(&error))?;
        match code.kind() {
            CodeKind::Bottle => {
                let bottle = bottle(&self.book, code).map_err(|error| failure(&error))?;
                Ok(bottle_label(&bottle, self.of_bottle(&bottle), &who, self.today))
            }
            CodeKind::Electrolyte | CodeKind::StockSolution | CodeKind::CathodeMix => {
                let standing = standing(&self.book, code)?;
                let hazards = LabelHazards::of(
                    &review_batch(&standing, self.scheme),
                    self.package(standing.life.total_g()),
                );
                Ok(batch_label(&standing, hazards, &who, self.today))
            }
            CodeKind::Cell => {
                let cell = cell(&self.book, code).map_err(|error| failure(&error))?;
                Ok(cell_label(&cell, self.of_cell(&cell)?, &who, &zone()))
            }
            CodeKind::Study => {
                let what = format!("{code} is a study, and nothing to stick a label on");
                let hint = format!("Print labels of its cells; see them with: meltbook study show {code}.");
                Err(failure(&BookError::Refused { what, hint }))
            }
        }
    }

    /// Of the component as the table knows it today. One that it does not know has no known hazard either.
    fn of_bottle(&self, bottle: &Bottle) -> LabelHazards {
        let Some(component) = self.table.get(&bottle.component) else {
            return LabelHazards { not_known: vec![bottle.name.clone()], ..LabelHazards::default() };
        };
        let components = [Arc::clone(component)];
        let subject = Subject { components: &components, ..Subject::default() };
        let context = Context { scheme: self.scheme, ..Context::default() };
        LabelHazards::of(&review(&subject, &context), self.package(bottle.net_g))
    }

    /// Of all that its batches are made of and of its design's materials, once for a set.
    fn of_cell(&mut self, cell: &Cell) -> Result<LabelHazards, Failure> {
        if let Some(hazards) = self.of_sets.get(&cell.set.entry) {
            return Ok(hazards.clone());
        }
        let batches: Vec<Code> = cell.contents.iter().map(|content| content.batch.clone()).collect();
        let design = read_design("the recorded design", &cell.set.design.text)?;
        let found = cell_review(&self.book, &self.table, &batches, &design, self.scheme)?;
        let mut hazards = LabelHazards::of(
            &found.review,
            self.package(cell.contents.iter().map(CellContent::mass_g).sum()),
        );
        hazards.not_known.extend(found.not_known);
        self.warnings.extend(found.warnings);
        self.of_sets.insert(cell.set.entry, hazards.clone());
        Ok(hazards)
    }
}
