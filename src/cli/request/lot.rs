//! The electrolyte of a cell: what it is called, its lot, and what stands against the lot.

use std::collections::BTreeMap;

use super::surroundings::failure;
use crate::book::{Book, batch};
use crate::cli::outcome::Failure;
use crate::input::Warning;
use crate::record::cell::Cell;
use crate::record::life::{BatchLife, BatchStatus};
use crate::record::limit::LimitOf;
use crate::record::{Code, CodeKind};
use crate::report::view::code_range;

const SECONDS_PER_DAY: f64 = 86_400.0;

/// The electrolytes of the cells that are looked at.
pub(in crate::cli) struct Lots {
    lives: BTreeMap<Code, BatchLife>,
}

impl Lots {
    /// Reads the lots that these cells hold.
    pub(in crate::cli) fn of(book: &Book, cells: &[Cell]) -> Result<Self, Failure> {
        let mut lives = BTreeMap::new();
        for code in cells.iter().flat_map(electrolytes) {
            if !lives.contains_key(code) {
                lives.insert(code.clone(), batch(book, code).map_err(|error| failure(&error))?);
            }
        }
        Ok(Self { lives })
    }

    /// What the electrolyte of a cell is called: by its recipe, or a blend by its own name.
    pub(in crate::cli) fn name(&self, cell: &Cell) -> String {
        let names: Vec<&str> = electrolytes(cell)
            .map(|code| {
                self.lives.get(code).map_or("", |life| life.plan().map_or(&life.name, |plan| &plan.recipe))
            })
            .collect();
        if names.is_empty() { "no electrolyte".to_owned() } else { names.join(" + ") }
    }

    /// Its lot code; of several in one cell all.
    pub(in crate::cli) fn code(cell: &Cell) -> String {
        let codes: Vec<String> = electrolytes(cell).map(ToString::to_string).collect();
        if codes.is_empty() { "no lot".to_owned() } else { codes.join("+") }
    }

    /// What stands against the lots: not released, rejected, released in spite of a limit, too old when the cells
    /// were built; and two lots of one name that were made by different recipes.
    pub(super) fn warnings(&self, cells: &[Cell]) -> Vec<Warning> {
        let judged = self.lives.values().filter_map(against);
        let old = self.lives.values().filter_map(|life| too_old(life, cells));
        judged.chain(old).chain(self.differing()).collect()
    }

    fn differing(&self) -> Vec<Warning> {
        let mut texts: BTreeMap<&str, BTreeMap<&str, Vec<Code>>> = BTreeMap::new();
        for (code, life) in &self.lives {
            if let Some(plan) = life.plan() {
                texts
                    .entry(&plan.recipe)
                    .or_default()
                    .entry(&plan.recipe_text)
                    .or_default()
                    .push(code.clone());
            }
        }
        let several = texts.into_iter().filter(|(_, texts)| 1 < texts.len());
        several
            .map(|(name, texts)| {
                let lots: Vec<String> = texts.values().map(|codes| code_range(codes)).collect();
                let message = format!(
                    "{name:?}: its lots were planned from recipes that differ ({}); --by batch keeps them apart",
                    lots.join(" against ")
                );
                Warning::new("recipes_differ", message)
            })
            .collect()
    }
}

/// The electrolytes in a cell.
pub(super) fn electrolytes(cell: &Cell) -> impl Iterator<Item = &Code> {
    let batches = cell.contents.iter().map(|content| &content.batch);
    batches.filter(|code| code.kind() == CodeKind::Electrolyte)
}

fn against(life: &BatchLife) -> Option<Warning> {
    let code = &life.code;
    match life.status {
        BatchStatus::Rejected => {
            let reason = life.rejected.as_ref().map_or("", |rejected| &rejected.what.reason);
            Some(Warning::new(
                "lot_rejected",
                format!("{code} was rejected ({reason}), and its cells are counted"),
            ))
        }
        BatchStatus::Started | BatchStatus::Finished => {
            let message = format!("{code} is not released: nobody compared it with its recipe's limits");
            Some(Warning::new("lot_not_released", message))
        }
        BatchStatus::Released => {
            let because = life.released.as_ref()?.what.because.as_ref()?;
            let message = format!("{code} was released in spite of a limit: {because}");
            Some(Warning::new("lot_in_doubt", message))
        }
    }
}

/// Cells that were built when their lot was older than its recipe allows.
fn too_old(life: &BatchLife, cells: &[Cell]) -> Option<Warning> {
    let most = life.plan()?.limits.iter().find(|limit| limit.of == LimitOf::Age)?.high?;
    let finished = life.finished.as_ref()?.what.at;
    let late: Vec<Code> = cells
        .iter()
        .filter(|cell| electrolytes(cell).any(|code| *code == life.code))
        .filter(|cell| most < cell.set.built.duration_since(finished).as_secs_f64())
        .map(|cell| cell.code.clone())
        .collect();
    (!late.is_empty()).then(|| {
        let message = format!(
            "{} was older than the {} d that its recipe allows when {} were built",
            life.code,
            most / SECONDS_PER_DAY,
            code_range(&late)
        );
        Warning::new("lot_expired", message)
    })
}
