//! Observations out of the book: a metric of each cell, with its electrolyte, its lot and its end.

use std::collections::{BTreeMap, BTreeSet};

use clap::Args;

use super::book_cells::CellSelection;
use super::capacity_request::discharge_basis;
use super::discharge::{DischargeWish, Series, discharges};
use super::figure_rules::usual_rules;
use super::lot::Lots;
use super::observed::{Excluded, Observed};
use super::surroundings::{failure, now, open_book, zone};
use super::table::component_table;
use crate::book::{Book, logs, readings, studies};
use crate::cell::metric::{CellRecord, CellValue, Metric, Per, Taken, ToCutOff, taken};
use crate::cell::{CellDischarge, DischargeBasis};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Place, Warning, did_you_mean};
use crate::record::Code;
use crate::record::cell::Cell;
use crate::record::reading::{Reading, ReadingKind, ReadingValue};
use crate::record::study::Study;
use crate::report::view::{cause_words, code_range};

/// What is taken of the book.
#[derive(Debug, Args)]
pub(in crate::cli) struct BookOptions {
    /// What is taken of each cell: "voltage day=14", "loaded day=14 load=100ohm", "current day=14", "resistance day=14
    /// method=open-to-loaded", "slope from=7 to=42", "capacity cut-off=0.9V per=g", "energy cut-off=0.9V", "retention
    /// cut-off=0.9V fresh=3"; days count from the cell's building
    #[arg(long, value_name = "NAME key=value…", help_heading = "Values of the book")]
    pub(super) metric: Option<String>,
    #[command(flatten)]
    pub(super) selection: CellSelection,
}

/// What makes a group.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::cli) enum GroupBy {
    /// The electrolyte, by the name of its recipe.
    Electrolyte,
    /// The lot of the electrolyte.
    Batch,
    /// The design of the cell.
    Design,
    /// The electrolyte, by its name in a study.
    Study,
}

const GROUPS: [(&str, GroupBy); 3] =
    [("electrolyte", GroupBy::Electrolyte), ("batch", GroupBy::Batch), ("design", GroupBy::Design)];

impl GroupBy {
    fn parse(text: &str) -> Result<Self, Fault> {
        let found = GROUPS.iter().find(|(word, _)| *word == text.trim());
        found.map(|(_, by)| *by).ok_or_else(|| {
            let words = || GROUPS.iter().map(|(word, _)| *word);
            let place = Place::in_text("--by", text, 0..text.len());
            let hint = did_you_mean(text, words(), "Cells of the book go by electrolyte, batch or design.");
            Fault::new("unknown_group_by", format!("cells of the book do not go by {text:?}"), place)
                .with_hint(hint)
        })
    }
}

/// A metric of the cells of the book that are meant.
pub(super) fn observed_in_book(
    common: &Common,
    metric: &str,
    selection: &CellSelection,
    by: Option<&str>,
) -> Result<Observed, Failure> {
    let mut faults = crate::input::Faults::none();
    let metric = faults.collect(Metric::parse(metric));
    let by = faults.collect(by.map_or(Ok(GroupBy::Electrolyte), GroupBy::parse));
    let (Some(metric), Some(by)) = (metric, by) else { return Err(faults.into()) };
    let book = open_book(common)?;
    let cells = selection.cells(&book)?;
    let codes: Vec<Code> = cells.iter().map(|cell| cell.code.clone()).collect();
    let mut observed = observed_cells(common, &book, &metric, cells, by)?;
    observed.warnings.extend(unfinished_studies(&book, &codes)?);
    Ok(observed)
}

/// Studies of these cells that have not come to their planned end: this look is not counted by them.
fn unfinished_studies(book: &Book, codes: &[Code]) -> Result<Vec<Warning>, Failure> {
    let (now, zone) = (now()?, zone());
    let studies = studies(book).map_err(|error| failure(&error))?;
    let unfinished = studies.iter().filter(|study| {
        0 < study.planned.days_before_end(now, &zone)
            && study.cells.iter().any(|(cell, _)| codes.contains(cell))
    });
    let warning = |study: &Study| {
        let (code, ends) = (&study.planned.code, study.planned.ends);
        let message = format!(
            "cells of study {code} are looked at before its planned end, {ends}, and nothing counts it: compare --study {code} does"
        );
        Warning::new("uncounted_look", message)
    };
    Ok(unfinished.map(warning).collect())
}

/// A metric of these cells, in groups.
///
/// # Errors
/// If the book can't be read, or holds nothing of them that the metric could be taken from.
pub(in crate::cli) fn observed_cells(
    common: &Common,
    book: &Book,
    metric: &Metric,
    cells: Vec<Cell>,
    by: GroupBy,
) -> Result<Observed, Failure> {
    observed_as(common, book, metric, cells, by, &|_| {})
}

/// The same with something to be said of each value before it is put into its group.
///
/// # Errors
/// As [`observed_cells`].
pub(super) fn observed_as(
    common: &Common,
    book: &Book,
    metric: &Metric,
    cells: Vec<Cell>,
    by: GroupBy,
    say: &dyn Fn(&mut CellValue),
) -> Result<Observed, Failure> {
    let lots = Lots::of(book, &cells)?;
    let mut warnings = lots.warnings(&cells);
    let records = cell_records(common, book, metric.discharge(), cells, &lots)?;
    let pairing = usual_rules().pairing;
    let mut taken = taken(metric, &records, &pairing);
    taken.values.iter_mut().for_each(say);
    if taken.values.iter().all(|value| value.value.is_none()) {
        return Err(nothing(metric, &records, &taken).into());
    }
    warnings.extend(taken.remarks.iter().cloned());
    let mut rule = metric.rule(&pairing);
    rule.push(grouped(by).to_owned());
    if !taken.reference.is_empty() {
        rule.push(format!("Fresh cells to compare with: {}.", code_range(&taken.reference)));
    }
    let mut observed = Observed {
        what: metric.name(),
        unit: Some(metric.unit().to_owned()),
        batched: by != GroupBy::Batch,
        groups_are_batches: by == GroupBy::Batch,
        rule,
        warnings,
        ..Observed::default()
    };
    let mut places = BTreeMap::new();
    taken.values.into_iter().for_each(|value| observed.take(value, by, &mut places));
    observed.reckoned((metric.unit() == "V").then(|| decimals_read(&records)));
    observed.warn_of_missing();
    observed.warn_of_look_alikes();
    Ok(observed)
}

/// The most decimals with which a voltage was read, in volts.
fn decimals_read(records: &[CellRecord]) -> usize {
    let decimals = |reading: &Reading| match reading.taken.value {
        ReadingValue::OpenCircuit { volts, .. } | ReadingValue::UnderLoad { volts, .. } => {
            // Nine decimals: a unit changed in binary arithmetic adds others.
            let text = format!("{volts:.9}");
            text.trim_end_matches('0').split_once('.').map(|(_, decimals)| decimals.len())
        }
        _ => None,
    };
    records.iter().flat_map(|record| &record.readings).filter_map(decimals).max().unwrap_or_default()
}

fn grouped(by: GroupBy) -> &'static str {
    match by {
        GroupBy::Electrolyte => {
            "Groups are electrolytes, by the names of their recipes; a blend by its own. The lot is the batch."
        }
        GroupBy::Batch => "Groups are lots of electrolyte: what differs here may differ from lot to lot.",
        GroupBy::Design => "Groups are cell designs; the lot of the electrolyte is the batch.",
        GroupBy::Study => "Groups are the electrolytes of the study. The lot is the batch.",
    }
}

impl Observed {
    fn take(&mut self, value: CellValue, by: GroupBy, places: &mut BTreeMap<String, usize>) {
        let name = match by {
            GroupBy::Electrolyte | GroupBy::Study => &value.electrolyte,
            GroupBy::Batch => &value.batch,
            GroupBy::Design => &value.design,
        };
        let (label, words) = (value.cell.to_string(), |cause| cause_words(cause).to_owned());
        let batch = if by == GroupBy::Batch { "" } else { &value.batch };
        let group = self.group(name, places);
        if value.value.is_none() && value.excluded.is_none() {
            group.intact += 1;
        }
        let excluded = value.excluded.as_ref().map(words);
        group.add(label.clone(), batch, value.value, excluded);
        if let Some(cause) = value.failed_later.as_ref().map(words) {
            let batch = group.batch_of.last().copied().unwrap_or_default();
            group.failed_later.push(Excluded { label, batch, cause, value: value.value });
        }
    }
}

/// What the book holds of each cell, with its discharges where it is said how they are read.
pub(in crate::cli) fn cell_records(
    common: &Common,
    book: &Book,
    discharge: Option<ToCutOff>,
    cells: Vec<Cell>,
    lots: &Lots,
) -> Result<Vec<CellRecord>, Failure> {
    let codes: Vec<Code> = cells.iter().map(|cell| cell.code.clone()).collect();
    let mut read: BTreeMap<Code, Vec<Reading>> = BTreeMap::new();
    for reading in readings(book, &codes).map_err(|error| failure(&error))? {
        read.entry(reading.taken.cell.clone()).or_default().push(reading);
    }
    let mut discharged = match discharge {
        Some(to) => discharged(common, book, &cells, to)?,
        None => BTreeMap::new(),
    };
    let record = |cell: Cell| CellRecord {
        electrolyte: lots.name(&cell),
        batch: Lots::code(&cell),
        readings: read.remove(&cell.code).unwrap_or_default(),
        discharges: discharged.remove(&cell.code).unwrap_or_default(),
        cell,
    };
    Ok(cells.into_iter().map(record).collect())
}

fn discharged(
    common: &Common,
    book: &Book,
    cells: &[Cell],
    to: ToCutOff,
) -> Result<BTreeMap<Code, Vec<CellDischarge>>, Failure> {
    let codes: Vec<Code> = cells.iter().map(|cell| cell.code.clone()).collect();
    let logs = logs(book).map_err(|error| failure(&error))?;
    let wish = DischargeWish::to_cut_off(to.cut_off_volts, to.work);
    let mut list: BTreeMap<Code, Vec<CellDischarge>> = BTreeMap::new();
    for (code, entries, discharged) in discharges(book, &logs, &codes, &wish)?.into_iter().map(Series::finish)
    {
        if let Some(discharged) = discharged {
            let basis = DischargeBasis::default();
            list.entry(code).or_default().push(CellDischarge { entries, discharged, basis });
        }
    }
    let table = component_table(common)?;
    for cell in cells {
        let Some(own) = list.get_mut(&cell.code) else { continue };
        let basis = match discharge_basis(common, cell, &table) {
            // Of a whole cell it only serves to check against what its electrodes hold.
            Err(_) if to.per == Per::Cell => DischargeBasis::default(),
            basis => basis?,
        };
        own.iter_mut().for_each(|discharge| discharge.basis = basis);
    }
    Ok(list)
}

/// So many reasons are told.
const MOST_REASONS: usize = 4;

/// No cell has a value: what there is instead.
fn nothing(metric: &Metric, records: &[CellRecord], taken: &Taken) -> Fault {
    let codes: Vec<Code> = records.iter().map(|record| record.cell.code.clone()).collect();
    let mut reasons: BTreeMap<&str, usize> = BTreeMap::new();
    for reason in taken.values.iter().filter_map(|value| value.missing.as_deref()) {
        *reasons.entry(reason).or_default() += 1;
    }
    let message = format!("no cell of {} gives its {}", code_range(&codes), metric.name());
    let place = Place::named(format!("--metric {:?}", metric.to_string()));
    // The most frequent first.
    let mut reasons: Vec<(&str, usize)> = reasons.into_iter().collect();
    reasons.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let words = reasons.iter().take(MOST_REASONS).map(|(reason, count)| match reasons.len() {
        1 => (*reason).to_owned(),
        _ => format!("{reason} ({count} of {})", taken.values.len()),
    });
    let why = words.collect::<Vec<_>>().join("; ");
    let why = if why.is_empty() { why } else { format!(": {why}") };
    Fault::new("no_such_readings", format!("{message}{why}"), place).with_hint(there_is(records))
}

/// Which readings there are, in a sentence.
fn there_is(records: &[CellRecord]) -> String {
    let all =
        || records.iter().flat_map(|record| record.readings.iter().map(move |reading| (record, reading)));
    let mut kinds: Vec<String> = Vec::new();
    for kind in ReadingKind::ALL {
        let own = || all().filter(|(_, reading)| reading.taken.value.kind() == kind);
        let days = own().map(|(record, reading)| age_d(record, reading));
        let (Some(first), Some(last)) = (days.clone().reduce(f64::min), days.reduce(f64::max)) else {
            continue;
        };
        let loads: BTreeSet<String> = own().filter_map(|(_, reading)| load(&reading.taken.value)).collect();
        let on = if loads.is_empty() {
            String::new()
        } else {
            format!(" on {}", loads.into_iter().collect::<Vec<_>>().join(", "))
        };
        let (first, last) = (format!("{first:.0}"), format!("{last:.0}"));
        let days =
            if first == last { format!("on day {first}") } else { format!("from day {first} to day {last}") };
        kinds.push(format!("{} {}{on} {days}", own().count(), kind.word()));
    }
    let logs = records.iter().filter(|record| !record.discharges.is_empty()).count();
    if 0 < logs {
        kinds.push(format!("discharges of {logs} cells"));
    }
    if kinds.is_empty() {
        return "These cells have no reading yet: meltbook reading add, or reading import for a log."
            .to_owned();
    }
    format!("The book holds of these cells: {}.", kinds.join("; "))
}

fn age_d(record: &CellRecord, reading: &Reading) -> f64 {
    reading.taken.at.duration_since(record.cell.set.built).as_secs_f64() / 86_400.0
}

fn load(value: &ReadingValue) -> Option<String> {
    match value {
        ReadingValue::UnderLoad { ohms, .. } => Some(format!("{ohms} Ω")),
        ReadingValue::OpenCircuit { .. } | ReadingValue::ShortCircuit { .. } => None,
    }
}
