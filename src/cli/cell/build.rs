//! `cell build`: a code for each cell, in random building order.

use std::collections::BTreeSet;

use clap::Args;
use serde_json::{Value, json};

use super::answer::{entry_fact, of_cell};
use crate::book::{cell, cells};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, CellReview, PermitArgs, RecordArgs, code, drawn_seed, failure, open_book, quantity, stamp, zone,
};
use crate::input::{Fault, Faults, FlagValue, Place};
use crate::quantity::Mass;
use crate::record::cell::{Built, BuiltCell, CellUse};
use crate::record::{Code, CodeKind, Event, build_order};
use crate::report::answer::cautions_answer;
use crate::report::view::build_sheet;

/// Build cells: each gets a code and its place in a random order, and the build sheet is shown
///
/// The order is drawn from a seed that is recorded, so that it can be drawn again. Print the sheet with
/// --format html --out FILE. Electrolytes are compared fairly only if their cells are built in one order: give
/// what all cells share with --use and what differs with a --set for each.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook cell build --design sealed-vial-zinc-carbon --use \"E1=1.2g M1=0.4g\" --count 12\n  meltbook cell build --design sealed-vial-zinc-carbon --use M1=0.4g \\\n      --set E1=1.2g --set E2=1.2g --count 6 --blocks \"operator AB CD\""
)]
pub(super) struct BuildArgs {
    /// The cell design: a path, a name in the book's designs folder, or a worked one
    #[arg(long, value_name = "DESIGN")]
    design: String,
    /// What each cell takes: BATCH=MASS, one or more; repeatable
    #[arg(long = "use", value_name = "BATCH=MASS", allow_hyphen_values = true)]
    uses: Vec<String>,
    /// What one set of cells takes beside --use; repeatable, a set each
    #[arg(long, value_name = "BATCH=MASS", allow_hyphen_values = true)]
    set: Vec<String>,
    /// How many cells, of each set
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true, value_parser = clap::value_parser!(u32).range(1..=10_000))]
    count: u32,
    /// Build in blocks: "day 2026-11-25 2026-11-26" or "operator AB CD"; each has its share of every set
    #[arg(long, value_name = "BLOCKS")]
    blocks: Option<String>,
    /// Seed of the random order [default: drawn by the computer]
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    seed: Option<u64>,
    /// What these cells differ in from the design, in words; repeatable
    #[arg(long, value_name = "TEXT")]
    deviation: Vec<String>,
    /// Who builds them, if not who records it
    #[arg(long, value_name = "NAME")]
    operator: Option<String>,
    #[command(flatten)]
    permit: PermitArgs,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn run(common: &Common, args: &BuildArgs) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let sets = faults.collect(sets(args));
    let blocks = faults.collect(blocks(args.blocks.as_deref()));
    let (Some(sets), Some(blocks)) = (sets, blocks) else { return Err(faults.into()) };
    let design = request::cell_design(common, &args.design)?;
    let at = args.record.at()?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let table = request::component_table(common)?;
    let mut book = open_book(common)?;
    let batches: Vec<Code> = sets.iter().flatten().map(|used| used.batch.clone()).collect();
    let CellReview { review, warnings, .. } =
        request::cell_review(&book, &table, &batches, &design, request::scheme_of(settings.as_ref()))?;
    let permit = args.permit.permit(&review)?;
    let seed = args.seed.map_or_else(drawn_seed, Ok)?;
    let count = usize::try_from(args.count).unwrap_or(usize::MAX);
    let order = build_order(sets.len(), count, blocks.len(), seed);
    let frozen = design.freeze();
    let codes = book
        .write(&stamp, |writer| {
            let first = writer.next_code(CodeKind::Cell)?.number();
            let code =
                |index: usize| Code::new(CodeKind::Cell, first + u32::try_from(index).unwrap_or(u32::MAX));
            for (number, uses) in sets.iter().enumerate() {
                let places = (1..).zip(&order).filter(|(_, place)| place.set == number);
                let cells = places.map(|(position, place)| BuiltCell {
                    code: code(number * count + place.cell),
                    position,
                    block: blocks.get(place.block).cloned(),
                });
                writer.append(&Event::CellsBuilt(Box::new(Built {
                    cells: cells.collect(),
                    design: frozen.clone(),
                    uses: uses.clone(),
                    seed,
                    deviations: args.deviation.clone(),
                    operator: args.operator.clone(),
                    permit: permit.clone(),
                    because: args.record.because.clone(),
                    at,
                })))?;
            }
            Ok((0..sets.len() * count).map(code).collect::<Vec<_>>())
        })
        .map_err(|error| failure(&error))?;
    let built = codes.iter().map(|code| cell(&book, code)).collect::<Result<Vec<_>, _>>();
    let mut built = built.map_err(|error| failure(&error))?;
    built.sort_by_key(|cell| cell.position);
    let head = book.head().map_err(|error| failure(&error))?;
    let answer = json!({
        "design": design.name,
        "seed": seed,
        "blocks": blocks,
        "cells": built.iter().map(of_cell).collect::<Vec<Value>>(),
        "cautions": cautions_answer(&review),
        "entry": head.0,
        "head": head.1.to_string(),
    });
    let mut document = build_sheet(&built, &review, &warnings, &zone());
    document.push(entry_fact(&head));
    let mut outcome = Outcome::new("cell build", answer, document);
    outcome.warnings = warnings;
    Ok(outcome)
}

/// What each set takes: what all share, then what is its own.
fn sets(args: &BuildArgs) -> Result<Vec<Vec<CellUse>>, Faults> {
    let mut faults = Faults::none();
    let shared: Vec<CellUse> =
        args.uses.iter().filter_map(|text| faults.collect(uses("--use", text))).flatten().collect();
    let own: Vec<Vec<CellUse>> =
        args.set.iter().filter_map(|text| faults.collect(uses("--set", text))).collect();
    let mut sets: Vec<Vec<CellUse>> =
        own.into_iter().map(|own| shared.iter().cloned().chain(own).collect()).collect();
    if args.set.is_empty() {
        sets.push(shared);
    }
    if faults.is_empty() && sets.iter().any(Vec::is_empty) {
        let fault = Fault::new("no_batch", "the cells take nothing", Place::named("--use"));
        faults.push(fault.with_hint("Say what each cell takes, as in --use \"E1=1.2g M1=0.4g\"."));
    }
    for set in &sets {
        let mut seen = BTreeSet::new();
        if let Some(twice) = set.iter().find(|used| !seen.insert(&used.batch)) {
            let message = format!("{} is taken twice by one cell", twice.batch);
            faults.push(
                Fault::new("batch_twice", message, Place::named("--use")).with_hint("Add the two masses up."),
            );
            break;
        }
    }
    faults.or(sets)
}

/// `E1=1.2g M1=0.4g`.
fn uses(flag: &str, text: &str) -> Result<Vec<CellUse>, Faults> {
    let value = FlagValue::parse_any(flag, text)?;
    let mut faults = Faults::none();
    if value.pairs.is_empty() || !value.name.is_empty() {
        let fault = Fault::new("no_mass", format!("{text:?} names no batch with its mass"), value.place());
        return Err(fault.with_hint(format!("Write it like {flag} \"E1=1.2g\".")).into());
    }
    let mut uses = Vec::new();
    for pair in &value.pairs {
        let batch = faults.collect(code(flag, &pair.key));
        let dose = faults.collect(quantity::<Mass>(flag, &pair.value));
        if dose.as_ref().is_some_and(|dose| dose.value <= Mass::ZERO) {
            let fault = Fault::new("no_dose", "a dose must be above 0", value.place_of(pair));
            faults.push(fault.with_hint("Write it like --use E1=1.2g."));
        }
        uses.extend(batch.zip(dose).map(|(batch, dose)| CellUse { batch, dose }));
    }
    faults.or(uses)
}

/// `day 2026-11-25 2026-11-26`: what the blocks are, then their names.
fn blocks(text: Option<&str>) -> Result<Vec<String>, Fault> {
    let Some(text) = text else { return Ok(Vec::new()) };
    let mut words = text.split_whitespace();
    let what = words.next().filter(|what| matches!(*what, "day" | "operator"));
    let names: Vec<&str> = words.collect();
    let distinct: BTreeSet<&&str> = names.iter().collect();
    match what {
        Some(what) if !names.is_empty() && distinct.len() == names.len() => {
            Ok(names.iter().map(|name| format!("{what} {name}")).collect())
        }
        _ => {
            let place = Place::in_text("--blocks", text, 0..text.len());
            let fault = Fault::new("bad_blocks", format!("{text:?} names no blocks"), place);
            Err(fault.with_hint(
                "Write it like --blocks \"day 2026-11-25 2026-11-26\" or --blocks \"operator AB CD\".",
            ))
        }
    }
}

/// Every cell with one of these codes, or all.
pub(super) fn chosen(
    book: &crate::book::Book,
    codes: &[Code],
) -> Result<Vec<crate::record::cell::Cell>, Failure> {
    let list =
        if codes.is_empty() { cells(book) } else { codes.iter().map(|code| cell(book, code)).collect() };
    list.map_err(|error| failure(&error))
}
