//! `cell figures`: what readings and logs come to.

use std::path::Path;

use clap::Args;

use super::build::chosen;
use super::retention::{Kept, RetentionOptions};
use crate::book::{Book, logs, readings};
use crate::cell::{CellDischarge, DischargeBasis, FigureRules, Figures, Work, figures, figures_of_shots};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{
    self, DischargeOptions, DischargeWish, LogOptions, RuleOptions, codes, discharge_basis, discharges,
    discharges_of_file, failure, log_scan, log_source, open_book,
};
use crate::component::ComponentTable;
use crate::input::{Fault, Faults, Place, Warning};
use crate::record::Code;
use crate::record::log::LogImported;
use crate::record::reading::{SETTLING, disturbed};
use crate::report::answer::figures_answer;
use crate::report::view::{FiguresView, figures_document, figures_warnings};

/// What readings and logs come to: internal resistance by method, voltage drift, discharges, charge retention
///
/// Computed anew from the raw values each time. Internal resistance is never given without its method, its load
/// and the time after closing. A fall of open-circuit voltage and a loss of charge are two things and are kept
/// apart: no current is derived from a voltage that falls. Discharges come from logs that were taken in, or from
/// any file with --log.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook cell figures C1-C3\n  meltbook cell figures C3 --cut-off \"0.9 V\" --load \"47 ohm\"\n  meltbook cell figures --open-circuit \"1.33 V\" --short-circuit 8.25mA --loaded \"2.4mA load=375ohm\"\n  meltbook cell figures --fresh \"148.0 mAh\" --stored \"136.9 mAh\" --stored-for \"6 weeks\""
)]
pub(super) struct FiguresArgs {
    /// The cells; a run of them as C1-C12
    #[arg(value_name = "CELL")]
    cells: Vec<String>,
    #[command(flatten)]
    rules: RuleOptions,
    #[command(flatten)]
    discharge: DischargeOptions,
    /// Only logs of these entries; repeatable
    #[arg(long, value_name = "ENTRY", help_heading = "Discharge")]
    entry: Vec<u64>,
    /// A log in no book
    #[arg(long, value_name = "FILE", help_heading = "Discharge", conflicts_with = "cells")]
    log: Option<String>,
    #[command(flatten)]
    columns: LogOptions,
    #[command(flatten)]
    retention: RetentionOptions,
}

pub(super) fn run(common: &Common, args: &FiguresArgs) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let rules = faults.collect(args.rules.rules());
    let wish = faults.collect(args.discharge.wish());
    let cells = faults.collect(codes("CELL", &args.cells)).unwrap_or_default();
    let shots = faults.collect(args.rules.shots());
    let (Some(rules), Some(wish), Some(shots)) = (rules, wish, shots) else { return Err(faults.into()) };
    faults.or(())?;
    let mut beside: Vec<Warning> = Vec::new();
    let mut list: Vec<Figures> = Vec::new();
    if args.rules.has_shots() {
        list.push(figures_of_shots(&shots, &rules.pairing));
    }
    if let Some(path) = &args.log {
        list.extend(of_file(path, &args.columns, &wish)?);
    }
    if !cells.is_empty() {
        let (book, table) = (open_book(common)?, request::component_table(common)?);
        list.extend(of_cells(common, &book, &cells, &rules, &wish, &args.entry, &table)?);
        beside.extend(not_discharged(&book, &list, &wish)?);
    }
    let kept = args.retention.kept(&mut |codes| {
        let (book, table) = (open_book(common)?, request::component_table(common)?);
        let figures = of_cells(common, &book, codes, &rules, &wish, &args.entry, &table)?;
        Ok((chosen(&book, codes)?, figures))
    })?;
    if list.is_empty() && kept.is_none() {
        let fault = Fault::new("no_figures", "it is not said of what", Place::named("cell figures"));
        let hint = "Name cells, give readings by flags, a file with --log, or --fresh and --stored.";
        return Err(fault.with_hint(hint).into());
    }
    beside.extend(logged_current_taken(&list, &wish));
    Ok(answer(&list, &rules, kept.as_ref(), beside))
}

/// Cells with logs that hold no current, where a discharge is asked for and no load is named.
fn not_discharged(book: &Book, list: &[Figures], wish: &DischargeWish) -> Result<Vec<Warning>, Failure> {
    if !wish.is_to_cut_off() {
        return Ok(Vec::new());
    }
    let logs = logs(book).map_err(|error| failure(&error))?;
    let cells = list
        .iter()
        .filter(|figures| figures.discharges.is_empty())
        .filter_map(|figures| figures.cell.as_ref());
    let warning = |cell: &Code| {
        let own: Vec<String> = logs
            .iter()
            .filter(|log| log.imported.of(cell).is_some())
            .map(|log| log.entry.to_string())
            .collect();
        if own.is_empty() {
            return Warning::new(
                "no_log",
                format!("{cell} has no log, so no discharge: reading import takes one in"),
            );
        }
        let message = format!(
            "{cell} has no discharge: no current stands in its log of entry {}, and no load is named; say what it worked on \
             with --load or --constant-current",
            own.join(", ")
        );
        Warning::new("no_current", message)
    };
    Ok(cells.map(warning).collect())
}

/// What was said of the work, where a current was logged and counts instead.
fn logged_current_taken(list: &[Figures], wish: &DischargeWish) -> Option<Warning> {
    wish.work()?;
    let measured =
        |figures: &&Figures| figures.discharges.iter().any(|one| one.discharged.rule.work == Work::Measured);
    let cells: Vec<String> = list
        .iter()
        .filter(measured)
        .map(|figures| figures.name().unwrap_or_else(|| "the log".to_owned()))
        .collect();
    (!cells.is_empty()).then(|| {
        let message = format!(
            "{}: a current was logged, and is taken instead of --load or --constant-current",
            cells.join(", ")
        );
        Warning::new("logged_current_taken", message)
    })
}

fn answer(list: &[Figures], rules: &FigureRules, kept: Option<&Kept>, beside: Vec<Warning>) -> Outcome {
    let zone = request::zone();
    let view = FiguresView {
        zone: &zone,
        figures: list,
        rules,
        retention: kept.map(|kept| &kept.retention),
        storage: kept.map(|kept| kept.storage.as_str()),
    };
    let mut warnings = figures_warnings(&view);
    warnings.extend(beside);
    warnings.extend(kept.iter().flat_map(|kept| kept.warnings.clone()));
    let document = figures_document(&view, &warnings);
    let mut outcome =
        Outcome::new("cell figures", figures_answer(list, rules, kept.map(|kept| &kept.retention)), document);
    outcome.warnings = warnings;
    outcome
}

fn of_file(path: &str, columns: &LogOptions, wish: &DischargeWish) -> Result<Vec<Figures>, Failure> {
    let source = log_source(path, columns, false)?;
    let scan = log_scan(&source)?;
    scan.sound(&source, false)?;
    let imported = LogImported {
        file: scan.hash,
        name: Path::new(path).file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default(),
        bytes: scan.bytes,
        layout: source.layout.clone(),
        cells: scan.summary.cells(&scan.cells),
        rows: scan.summary.rows(),
        skipped: 0,
        skipped_rows: Vec::new(),
        instrument: None,
        note: None,
        because: None,
        at: jiff::Timestamp::UNIX_EPOCH,
    };
    let series = discharges_of_file(path, &imported, wish)?;
    if series.is_empty() {
        return Err(no_current(path).into());
    }
    let figures = series.into_iter().filter_map(|series| {
        let (cell, entries, discharged) = series.finish();
        let discharge = CellDischarge { entries, discharged: discharged?, basis: DischargeBasis::default() };
        // A file that names no cell is about C0.
        let cell = (0 < cell.number()).then_some(cell);
        let label = columns.cell.clone().filter(|_| cell.is_none());
        Some(Figures { cell, label, discharges: vec![discharge], ..empty() })
    });
    Ok(figures.collect())
}

fn empty() -> Figures {
    Figures {
        cell: None,
        label: None,
        resistances: Vec::new(),
        contradictions: Vec::new(),
        predictions: Vec::new(),
        drift: None,
        discharges: Vec::new(),
    }
}

fn no_current(path: &str) -> Fault {
    let message = "no current was logged, and no load is named";
    let hint = "Say what the cell worked on: --load \"10 ohm\" or --constant-current \"5 mA\".";
    Fault::new("no_current", message, Place::named(path)).with_hint(hint)
}

fn of_cells(
    common: &Common,
    book: &Book,
    codes: &[Code],
    rules: &FigureRules,
    wish: &DischargeWish,
    entries: &[u64],
    table: &ComponentTable,
) -> Result<Vec<Figures>, Failure> {
    let mut logs = logs(book).map_err(|error| failure(&error))?;
    logs.retain(|log| entries.is_empty() || entries.contains(&log.entry));
    let mut series = discharges(book, &logs, codes, wish)?;
    let mut list = Vec::new();
    for cell in chosen(book, codes)? {
        let readings = readings(book, std::slice::from_ref(&cell.code)).map_err(|error| failure(&error))?;
        let since = disturbed(&readings, SETTLING);
        let retired = cell.retired.as_ref().map(|(at, _, _)| *at);
        let mut figures = figures(&cell.code, &readings, &since, (cell.set.built, retired), rules);
        let (own, others) = series.into_iter().partition(|one| one.cell == cell.code);
        series = others;
        let own: Vec<request::Series> = own;
        if !own.is_empty() {
            let basis = discharge_basis(common, &cell, table)?;
            let discharge = |one: request::Series| {
                let (_, entries, discharged) = one.finish();
                Some(CellDischarge { entries, discharged: discharged?, basis })
            };
            figures.discharges = own.into_iter().filter_map(discharge).collect();
        }
        list.push(figures);
    }
    Ok(list)
}
