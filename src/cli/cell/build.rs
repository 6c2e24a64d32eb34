//! `cell build`: a code for each cell, in random building order.

use std::collections::BTreeSet;

use clap::Args;
use serde_json::{Value, json};

use super::answer::{entry_fact, of_cell};
use crate::book::{Book, BookError, Writer, batch, cell, cells};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, Building, CellReview, PermitArgs, RecordArgs, blocks, code, drawn_seed, failure, open_book,
    quantity, stamp, study_building, uses, zone,
};
use crate::input::{Fault, Faults, Place};
use crate::quantity::{Mass, Typed};
use crate::record::cell::{Built, BuiltCell, CellUse};
use crate::record::study::Assigned;
use crate::record::{Code, CodeKind, Event, build_order};
use crate::report::answer::cautions_answer;
use crate::report::view::build_sheet;

/// Build cells: each gets a code and its place in a random order, and the build sheet is shown
///
/// The order is drawn from a seed that is recorded, so that it can be drawn again. Print the sheet with
/// --format html --out FILE. Electrolytes are compared fairly only if their cells are built in one order: give
/// what all cells share with --use and what differs with a --set for each. For a study that was written down, --study
/// takes order, blocks, batches and number from it, and the cells belong to it from then on.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook cell build --design sealed-vial-zinc-carbon --use \"E1=1.2g M1=0.4g\" --count 12\n  meltbook cell build --design sealed-vial-zinc-carbon --use M1=0.4g \\\n      --set E1=1.2g --set E2=1.2g --count 6 --blocks \"operator AB CD\"\n  meltbook cell build --study Q1 --design sealed-vial-zinc-carbon --use M1=0.3g --dose 1g"
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
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true, required_unless_present = "study", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    count: Option<u32>,
    /// Build what this study asks for, by its build list; each cell takes --dose of its electrolyte beside --use
    #[arg(long, value_name = "CODE", requires = "dose", conflicts_with_all = ["set", "count", "blocks", "seed"])]
    study: Option<String>,
    /// How much electrolyte each cell of a study takes
    #[arg(long, value_name = "MASS", requires = "study", allow_hyphen_values = true)]
    dose: Option<String>,
    /// Build in blocks: "day 2026-11-25 2026-11-26" or "operator AB CD"; each has its share of every set
    #[arg(long, value_name = "BLOCKS")]
    blocks: Option<String>,
    /// Seed of the random order [default: drawn by the computer]
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    seed: Option<String>,
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
    let wish = wish(args)?;
    let design = request::cell_design(common, &args.design)?;
    let at = args.record.at()?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let table = request::component_table(common)?;
    let mut book = open_book(common)?;
    let building = building(args, wish, &book)?;
    let batches: Vec<Code> = building.sets.iter().flatten().map(|used| used.batch.clone()).collect();
    let mut named = batches.clone();
    named.sort();
    named.dedup();
    request::all_known(&named, |code| batch(&book, code))?;
    let CellReview { review, warnings, .. } =
        request::cell_review(&book, &table, &batches, &design, request::scheme_of(settings.as_ref()))?;
    let built = Built {
        cells: Vec::new(),
        design: design.freeze(),
        uses: Vec::new(),
        seed: building.seed,
        deviations: args.deviation.clone(),
        operator: args.operator.clone(),
        permit: args.permit.permit(&review)?,
        because: args.record.because.clone(),
        at,
    };
    let codes =
        book.write(&stamp, |writer| write(writer, &building, &built)).map_err(|error| failure(&error))?;
    let built = codes.iter().map(|code| cell(&book, code)).collect::<Result<Vec<_>, _>>();
    let mut built = built.map_err(|error| failure(&error))?;
    built.sort_by_key(|cell| cell.position);
    let head = book.head().map_err(|error| failure(&error))?;
    let answer = json!({
        "design": design.name,
        "study": building.study.as_ref().map(ToString::to_string),
        "seed": building.seed,
        "blocks": building.blocks,
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

/// What is asked for, as far as the flags say it.
enum Wish {
    Sets { sets: Vec<Vec<CellUse>>, blocks: Vec<String>, seed: Option<u64> },
    Study { code: Code, shared: Vec<CellUse>, dose: Typed<Mass> },
}

fn wish(args: &BuildArgs) -> Result<Wish, Faults> {
    let mut faults = Faults::none();
    let (Some(study), Some(dose)) = (&args.study, &args.dose) else {
        let (sets, blocks) = (sets(args), args.blocks.as_deref().map(|text| blocks("--blocks", text)));
        let sets = faults.collect(sets);
        let blocks = faults.collect(blocks.transpose()).map(Option::unwrap_or_default);
        let seed = args.seed.as_ref().and_then(|text| faults.collect(request::whole_number("--seed", text)));
        return match (sets, blocks) {
            (Some(sets), Some(blocks)) if faults.is_empty() => Ok(Wish::Sets { sets, blocks, seed }),
            _ => Err(faults),
        };
    };
    let code = faults.collect(code("--study", study));
    let shared: Vec<CellUse> =
        args.uses.iter().filter_map(|text| faults.collect(uses("--use", text))).flatten().collect();
    let dose = faults.collect(dose_of(dose));
    match (code, dose) {
        (Some(code), Some(dose)) if faults.is_empty() => Ok(Wish::Study { code, shared, dose }),
        _ => Err(faults),
    }
}

fn dose_of(text: &str) -> Result<Typed<Mass>, Fault> {
    let dose = quantity::<Mass>("--dose", text)?;
    if Mass::ZERO < dose.value {
        return Ok(dose);
    }
    let place = Place::in_text("--dose", text, 0..text.len());
    Err(Fault::new("no_dose", "a dose must be above 0", place).with_hint("Write it like --dose 1.2g."))
}

fn building(args: &BuildArgs, wish: Wish, book: &Book) -> Result<Building, Failure> {
    match wish {
        Wish::Study { code, shared, dose } => study_building(book, &code, &shared, &dose),
        Wish::Sets { sets, blocks, seed } => {
            let seed = seed.map_or_else(drawn_seed, Ok)?;
            let count = usize::try_from(args.count.unwrap_or_default()).unwrap_or(usize::MAX);
            let order = build_order(sets.len(), count, blocks.len(), seed);
            Ok(Building { sets, order, blocks, seed, study: None })
        }
    }
}

/// An entry for each set, and one that takes the cells into their study.
fn write(writer: &mut Writer<'_>, building: &Building, built: &Built) -> Result<Vec<Code>, BookError> {
    let first = writer.next_code(CodeKind::Cell)?.number();
    let code = |index: usize| Code::new(CodeKind::Cell, first + u32::try_from(index).unwrap_or(u32::MAX));
    let mut before = 0;
    for (number, uses) in building.sets.iter().enumerate() {
        let places = (1..).zip(&building.order).filter(|(_, place)| place.set == number);
        let cells: Vec<BuiltCell> = places
            .map(|(position, place)| BuiltCell {
                code: code(before + place.cell),
                position,
                block: building.blocks.get(place.block).cloned(),
            })
            .collect();
        before += cells.len();
        writer.append(&Event::CellsBuilt(Box::new(Built { cells, uses: uses.clone(), ..built.clone() })))?;
    }
    let codes: Vec<Code> = (0..before).map(code).collect();
    if let Some(study) = building.study.clone() {
        writer.append(&Event::StudyAssigned(Assigned { study, cells: codes.clone(), at: built.at }))?;
    }
    Ok(codes)
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

/// Every cell with one of these codes, or all.
pub(super) fn chosen(
    book: &crate::book::Book,
    codes: &[Code],
) -> Result<Vec<crate::record::cell::Cell>, Failure> {
    match codes {
        [] => cells(book).map_err(|error| failure(&error)),
        codes => request::all_known(codes, |code| cell(book, code)),
    }
}
