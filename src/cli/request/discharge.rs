//! Discharges out of logs: the kept files streamed once, each row to the cell that it is about.

use std::path::{Path, PathBuf};

use clap::Args;

use super::log_source::{open_log, unreadable};
use super::shelf::quantity;
use crate::book::Book;
use crate::cell::log::{LogRows, Next};
use crate::cell::{Discharge, DischargeRule, Discharged, Sample, Work};
use crate::cli::outcome::Failure;
use crate::cli::progress::Progress;
use crate::input::{Fault, Faults, Place};
use crate::quantity::{Current, Quantity, Resistance, TimeSpan, Typed, Voltage};
use crate::record::Code;
use crate::record::log::{Log, LogImported, LogLayout};

/// How a discharge is read.
#[derive(Debug, Args)]
pub(in crate::cli) struct DischargeOptions {
    /// The voltage at which a cell counts as discharged
    #[arg(long, value_name = "VOLTAGE", help_heading = "Discharge")]
    pub(in crate::cli) cut_off: Option<String>,
    /// The load, for logs without a current; a current that was logged comes first
    #[arg(long, value_name = "RESISTANCE", help_heading = "Discharge", conflicts_with = "constant_current")]
    load: Option<String>,
    /// The constant current, for logs without one; a current that was logged comes first
    #[arg(long, value_name = "CURRENT", help_heading = "Discharge")]
    constant_current: Option<String>,
    /// Less current than this is a rest [default: 1 % of the greatest that was logged]
    #[arg(long, value_name = "CURRENT", help_heading = "Discharge")]
    rest_below: Option<String>,
    /// Rows farther apart than this have a rest between them [default: ten times their mean interval]
    #[arg(long, value_name = "TIME", help_heading = "Discharge")]
    longest_gap: Option<String>,
}

/// The options, understood.
#[derive(Debug, Clone, Copy)]
pub(in crate::cli) struct DischargeWish {
    cut_off_volts: Option<f64>,
    work: Option<Work>,
    rest_below_amperes: Option<f64>,
    longest_gap_s: Option<f64>,
}

/// The part of the greatest current below which a cell rests, unless a person says otherwise.
const REST: f64 = 0.01;
/// So many mean intervals make a gap, unless a person says otherwise.
const GAP: f64 = 10.0;

impl DischargeOptions {
    pub(in crate::cli) fn wish(&self) -> Result<DischargeWish, Faults> {
        let mut faults = Faults::none();
        let cut_off = above_zero::<Voltage>("--cut-off", self.cut_off.as_ref(), Voltage::get, &mut faults);
        let load = above_zero::<Resistance>("--load", self.load.as_ref(), Resistance::get, &mut faults);
        let constant = self.constant_current.as_ref();
        let constant = above_zero::<Current>("--constant-current", constant, Current::get, &mut faults);
        let rest = above_zero::<Current>("--rest-below", self.rest_below.as_ref(), Current::get, &mut faults);
        let gap =
            above_zero::<TimeSpan>("--longest-gap", self.longest_gap.as_ref(), TimeSpan::get, &mut faults);
        faults.or(DischargeWish {
            cut_off_volts: cut_off,
            work: load.map(Work::Resistance).or(constant.map(Work::Current)),
            rest_below_amperes: rest,
            longest_gap_s: gap,
        })
    }
}

impl DischargeWish {
    /// What the cells are said to have worked on.
    pub(in crate::cli) fn work(&self) -> Option<Work> {
        self.work
    }

    /// True if a discharge down to a voltage is asked for.
    pub(in crate::cli) fn is_to_cut_off(&self) -> bool {
        self.cut_off_volts.is_some()
    }

    /// Down to a cut-off, with rests and gaps as usual.
    pub(in crate::cli) fn to_cut_off(cut_off_volts: f64, work: Work) -> Self {
        let work = (work != Work::Measured).then_some(work);
        Self { cut_off_volts: Some(cut_off_volts), work, rest_below_amperes: None, longest_gap_s: None }
    }
}

fn above_zero<T: Quantity>(
    flag: &str,
    text: Option<&String>,
    get: impl Fn(T) -> f64,
    faults: &mut Faults,
) -> Option<f64> {
    let text = text?;
    let typed: Typed<T> = faults.collect(quantity::<T>(flag, text))?;
    let value = get(typed.value);
    if value <= 0.0 {
        let place = Place::in_text(flag, text.as_str(), 0..text.len());
        let fault = Fault::new("not_above_zero", format!("{text:?} is not above 0"), place);
        faults.push(fault.with_hint(format!("Write it like {flag} {:?}.", T::EXAMPLE)));
        return None;
    }
    Some(value)
}

/// A discharge of one cell over one log or several, one after the other.
pub(in crate::cli) struct Series {
    pub(in crate::cli) cell: Code,
    /// Entries of its logs in order.
    pub(in crate::cli) entries: Vec<u64>,
    discharge: Discharge,
}

impl Series {
    /// What it came to; `None` without samples of it.
    pub(in crate::cli) fn finish(self) -> (Code, Vec<u64>, Option<Discharged>) {
        (self.cell, self.entries, self.discharge.finish())
    }
}

/// A file with its layout, and the entry that keeps it.
struct Source {
    entry: Option<u64>,
    path: PathBuf,
    bytes: u64,
    layout: LogLayout,
}

/// The discharges of cells out of the logs of a book. Logs of a cell that overlap are taken each by itself, others
/// one after the other. Where neither a current was logged nor a load is named, there is none.
pub(in crate::cli) fn discharges(
    book: &Book,
    logs: &[Log],
    cells: &[Code],
    wish: &DischargeWish,
) -> Result<Vec<Series>, Failure> {
    let mut logs: Vec<&Log> =
        logs.iter().filter(|log| cells.iter().any(|cell| log.imported.of(cell).is_some())).collect();
    logs.sort_by_key(|log| log.imported.cells.iter().map(|logged| logged.first).min());
    let mut series: Vec<Series> = cells.iter().flat_map(|cell| of_cell(&logs, cell, wish)).collect();
    for log in &logs {
        let needed = series.iter().any(|one| one.entries.contains(&log.entry));
        if needed {
            let source = Source {
                entry: Some(log.entry),
                path: book.file_path(&log.imported.file),
                bytes: log.imported.bytes,
                layout: log.imported.layout.clone(),
            };
            stream(&source, &mut series)?;
        }
    }
    Ok(series)
}

/// The discharges in a file that is in no book, after a first look that found what is in it.
pub(in crate::cli) fn discharges_of_file(
    path: &str,
    imported: &LogImported,
    wish: &DischargeWish,
) -> Result<Vec<Series>, Failure> {
    let of = |logged: &crate::record::log::LoggedCell| {
        let rule = rule(&[(imported, logged)], wish)?;
        Some(Series { cell: logged.cell.clone(), entries: Vec::new(), discharge: Discharge::new(rule) })
    };
    let mut series: Vec<Series> = imported.cells.iter().filter_map(of).collect();
    let layout = imported.layout.clone();
    let source = Source { entry: None, path: PathBuf::from(path), bytes: imported.bytes, layout };
    if !series.is_empty() {
        stream(&source, &mut series)?;
    }
    Ok(series)
}

type Part<'l> = (&'l LogImported, &'l crate::record::log::LoggedCell);

fn of_cell(logs: &[&Log], cell: &Code, wish: &DischargeWish) -> Vec<Series> {
    let parts: Vec<(u64, Part<'_>)> = logs
        .iter()
        .filter_map(|log| Some((log.entry, (&log.imported, log.imported.of(cell)?))))
        .filter(|(_, (imported, _))| rule_is_possible(imported, wish))
        .collect();
    // A log with a current and one without are read by two rules, and are none that goes on.
    let in_turn = parts.windows(2).all(|pair| {
        let (one, next) = (pair[0].1, pair[1].1);
        one.1.last <= next.1.first && has_current(one.0) == has_current(next.0)
    });
    let groups: Vec<&[(u64, Part<'_>)]> =
        if in_turn && !parts.is_empty() { vec![&parts] } else { parts.chunks(1).collect() };
    let series = |group: &[(u64, Part<'_>)]| {
        let parts: Vec<Part<'_>> = group.iter().map(|(_, part)| *part).collect();
        let entries = group.iter().map(|(entry, _)| *entry).collect();
        Some(Series { cell: cell.clone(), entries, discharge: Discharge::new(rule(&parts, wish)?) })
    };
    groups.into_iter().filter_map(series).collect()
}

fn rule_is_possible(imported: &LogImported, wish: &DischargeWish) -> bool {
    imported.layout.voltage.is_some() && (wish.work.is_some() || has_current(imported))
}

fn has_current(imported: &LogImported) -> bool {
    imported.layout.current.is_some()
}

/// The rule, with defaults from what was logged.
fn rule(parts: &[Part<'_>], wish: &DischargeWish) -> Option<DischargeRule> {
    parts.iter().all(|(imported, _)| rule_is_possible(imported, wish)).then_some(())?;
    let currents = parts.iter().filter_map(|(_, logged)| logged.amperes);
    let greatest = currents.map(|amperes| amperes.least.abs().max(amperes.most.abs())).fold(0.0, f64::max);
    let interval = parts.iter().map(|(_, logged)| logged.mean_interval_s()).fold(0.0, f64::max);
    Some(DischargeRule {
        work: match wish.work {
            Some(work) if !parts.iter().all(|(imported, _)| has_current(imported)) => work,
            _ => Work::Measured,
        },
        cut_off_volts: wish.cut_off_volts,
        rest_below_amperes: wish.rest_below_amperes.unwrap_or(REST * greatest),
        longest_gap_s: wish.longest_gap_s.unwrap_or(GAP * interval),
    })
}

fn stream(source: &Source, series: &mut [Series]) -> Result<(), Failure> {
    let path: &Path = &source.path;
    let failed = |error: std::io::Error| unreadable(&path.display().to_string(), &error);
    let file = Progress::new(open_log(path)?, source.bytes, "reading");
    let mut rows = LogRows::new(file, &source.layout).map_err(failed)?;
    // Which series a cell of the file feeds, by the cell's place in it.
    let mut places: Vec<Option<usize>> = Vec::new();
    loop {
        let row = match rows.next().map_err(failed)? {
            Next::Row(row) => row,
            Next::Bad(_) => continue,
            Next::End => return Ok(()),
        };
        while places.len() <= row.cell {
            let code = &rows.cells()[places.len()];
            let feeds = |one: &Series| {
                one.cell == *code && source.entry.is_none_or(|entry| one.entries.contains(&entry))
            };
            places.push(series.iter().position(feeds));
        }
        if let (Some(place), Some(volts)) = (places[row.cell], row.volts) {
            series[place].discharge.push(Sample { at_ns: row.at_ns, volts, amperes: row.amperes });
        }
    }
}
