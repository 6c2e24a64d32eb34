//! What a study's cells are built from: its batches, and its build list over them.

use super::surroundings::failure;
use crate::book::{Book, batch, batch_codes, study};
use crate::cli::outcome::Failure;
use crate::input::{Fault, Place};
use crate::quantity::{Mass, Typed};
use crate::record::cell::CellUse;
use crate::record::life::{BatchLife, BatchStatus};
use crate::record::study::{Planned, Studied, build_list};
use crate::record::{BuildPlace, Code};
use crate::report::view::code_range;

/// Cells to be built.
pub(in crate::cli) struct Building {
    /// What each cell of each set takes.
    pub(in crate::cli) sets: Vec<Vec<CellUse>>,
    /// The cells in their order.
    pub(in crate::cli) order: Vec<BuildPlace>,
    /// The blocks by their names.
    pub(in crate::cli) blocks: Vec<String>,
    /// Seed of the order.
    pub(in crate::cli) seed: u64,
    /// The study that they are built for.
    pub(in crate::cli) study: Option<Code>,
}

/// Every batch of the book, in the order of the codes.
pub(in crate::cli) fn all_batches(book: &Book) -> Result<Vec<BatchLife>, Failure> {
    let codes = batch_codes(book).map_err(|error| failure(&error))?;
    codes.iter().map(|code| batch(book, code)).collect::<Result<_, _>>().map_err(|error| failure(&error))
}

/// The batches of each electrolyte: those that the study names, or all of its recipe that are released and not used
/// up.
pub(in crate::cli) fn batches_of<'l>(planned: &Planned, lives: &'l [BatchLife]) -> Vec<Vec<&'l BatchLife>> {
    let usable = |life: &&BatchLife| life.status == BatchStatus::Released && 0.0 < life.left_g();
    let of = |studied: &Studied| -> Vec<&'l BatchLife> {
        match &studied.recipe {
            Some(recipe) => lives.iter().filter(|life| life.name == *recipe).filter(usable).collect(),
            None => lives.iter().filter(|life| studied.batches.contains(&life.code)).collect(),
        }
    };
    planned.electrolytes.iter().map(of).collect()
}

/// The cells of a study that has none yet: each takes what all share, and a dose of its electrolyte.
pub(in crate::cli) fn study_building(
    book: &Book,
    code: &Code,
    shared: &[CellUse],
    dose: &Typed<Mass>,
) -> Result<Building, Failure> {
    let study = study(book, code).map_err(|error| failure(&error))?;
    if !study.cells.is_empty() {
        let cells: Vec<Code> = study.cells.iter().map(|(cell, _)| cell.clone()).collect();
        let fault = Fault::new(
            "study_built",
            format!("{code} has its cells already: {}", code_range(&cells)),
            Place::named("--study"),
        );
        let hint = format!(
            "Build further cells without --study, and take them in with: meltbook study assign {code} CELLS."
        );
        return Err(fault.with_hint(hint).into());
    }
    let planned = study.planned;
    let lives = all_batches(book)?;
    let batches = batches_of(&planned, &lives);
    if let Some(at) = batches.iter().position(Vec::is_empty) {
        let studied = &planned.electrolytes[at];
        let recipe = studied.recipe.as_deref().unwrap_or(&studied.name);
        let message = format!("there is no released batch of {recipe}, which {code} compares");
        let hint = "Make and release one; see the batches with: meltbook batch list --all.";
        return Err(Fault::new("no_batch_of_it", message, Place::named("--study")).with_hint(hint).into());
    }
    let counts: Vec<usize> = batches.iter().map(Vec::len).collect();
    let firsts: Vec<usize> =
        counts.iter().scan(0, |sum, &count| Some(std::mem::replace(sum, *sum + count))).collect();
    let mut built: Vec<usize> = vec![0; counts.iter().sum()];
    let place = |listed: &crate::record::study::ListedCell| {
        let set = firsts[listed.electrolyte] + listed.batch;
        built[set] += 1;
        BuildPlace { set, cell: built[set] - 1, block: listed.block }
    };
    let order: Vec<BuildPlace> = build_list(&planned, &counts).iter().map(place).collect();
    let uses = |life: &&BatchLife| {
        let own = CellUse { batch: life.code.clone(), dose: dose.clone() };
        shared.iter().cloned().chain([own]).collect::<Vec<_>>()
    };
    let sets = batches.iter().flatten().map(uses).collect();
    Ok(Building { sets, order, blocks: planned.blocks, seed: planned.seed, study: Some(code.clone()) })
}
