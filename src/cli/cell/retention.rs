//! `cell figures --fresh … --stored …`: charge retention, from values or from the discharges of cells.

use std::collections::BTreeSet;

use clap::Args;
use jiff::Timestamp;

use crate::cell::{Figures, Retention, retention};
use crate::cli::outcome::Failure;
use crate::cli::request::{codes, quantity};
use crate::input::{Fault, Faults, Place, Warning};
use crate::quantity::{ElectricCharge, TimeSpan, Typed};
use crate::record::Code;
use crate::record::cell::Cell;

/// Fresh and stored cells.
#[derive(Debug, Args)]
pub(super) struct RetentionOptions {
    /// Fresh cells of the lot (C1-C3), or capacities ("148.0 mAh"); repeatable
    #[arg(long, value_name = "CELL or CHARGE", help_heading = "Self-discharge", requires = "stored")]
    fresh: Vec<String>,
    /// Cells of the same lot that were stored, or their capacities; repeatable
    #[arg(long, value_name = "CELL or CHARGE", help_heading = "Self-discharge", requires = "fresh")]
    stored: Vec<String>,
    /// How long they were stored [default: by the records, from building to discharge, less that of the fresh ones]
    #[arg(long, value_name = "TIME", help_heading = "Self-discharge", requires = "stored")]
    stored_for: Option<String>,
}

/// Retention with what to know beside it.
pub(super) struct Kept {
    pub(super) retention: Retention,
    /// How long the cells were stored, and how that is known.
    pub(super) storage: String,
    pub(super) warnings: Vec<Warning>,
}

/// One set as given.
enum Given {
    Values(Vec<f64>),
    Cells(Vec<Code>),
}

/// Capacities, mean age at the first sample, and the cells.
#[derive(Default)]
struct Known {
    mah: Vec<f64>,
    age_s: Option<f64>,
    cells: Vec<Cell>,
}

type Look<'l> = dyn FnMut(&[Code]) -> Result<(Vec<Cell>, Vec<Figures>), Failure> + 'l;

impl RetentionOptions {
    /// Retention, if it is asked for. `look` gives cells of the book with their figures.
    pub(super) fn kept(&self, look: &mut Look<'_>) -> Result<Option<Kept>, Failure> {
        if self.fresh.is_empty() {
            return Ok(None);
        }
        let mut faults = Faults::none();
        let fresh = faults.collect(given("--fresh", &self.fresh));
        let stored = faults.collect(given("--stored", &self.stored));
        let span = self.stored_for.as_ref();
        let span = span.and_then(|text| faults.collect(quantity::<TimeSpan>("--stored-for", text)));
        let (Some(fresh), Some(stored)) = (fresh, stored) else { return Err(faults.into()) };
        faults.or(())?;
        let (fresh, stored) = (known("--fresh", fresh, look)?, known("--stored", stored, look)?);
        let (stored_s, storage) = storage(span.as_ref(), &fresh, &stored)?;
        let Some(retention) = retention(&fresh.mah, &stored.mah, stored_s) else {
            let message =
                "fresh cells must have given some charge, and stored ones been stored for some time";
            let fault = Fault::new("no_retention", message, Place::named("--fresh"));
            return Err(fault.with_hint("Check the capacities and --stored-for.").into());
        };
        let warnings = not_one_lot(&fresh.cells, &stored.cells);
        Ok(Some(Kept { retention, storage, warnings: warnings.into_iter().collect() }))
    }
}

fn given(flag: &str, texts: &[String]) -> Result<Given, Faults> {
    let values: Vec<Typed<ElectricCharge>> =
        texts.iter().filter_map(|text| Typed::parse(text).ok()).collect();
    if values.len() == texts.len() {
        return Ok(Given::Values(values.iter().map(|typed| typed.value.milliampere_hours()).collect()));
    }
    match values.first() {
        None => codes(flag, texts).map(Given::Cells),
        Some(value) => {
            let message = format!("{:?} is a charge, and others here are cells", value.text);
            let fault = Fault::new("mixed_set", message, Place::named(flag));
            Err(fault.with_hint("Give capacities for all of a set, or cells for all.").into())
        }
    }
}

fn known(flag: &str, given: Given, look: &mut Look<'_>) -> Result<Known, Failure> {
    let codes = match given {
        Given::Values(mah) => return Ok(Known { mah, ..Known::default() }),
        Given::Cells(codes) => codes,
    };
    let (cells, figures) = look(&codes)?;
    let mut faults = Faults::none();
    let (mut mah, mut ages) = (Vec::new(), Vec::new());
    for (cell, figures) in cells.iter().zip(&figures) {
        match charge(cell, figures) {
            Ok((charge, first)) => {
                mah.push(charge);
                ages.push(first.duration_since(cell.set.built).as_secs_f64());
            }
            Err((message, hint)) => {
                faults.push(Fault::new("no_capacity", message, Place::named(flag)).with_hint(hint));
            }
        }
    }
    let age_s = ages.iter().sum::<f64>() / ages.len().max(1) as f64;
    Ok(faults.or(Known { mah, age_s: Some(age_s), cells })?)
}

/// The charge of a cell to its cut-off, and when its discharge began.
fn charge(cell: &Cell, figures: &Figures) -> Result<(f64, Timestamp), (String, &'static str)> {
    let discharge = match figures.discharges.as_slice() {
        [one] => one,
        [] => {
            let hint = "Take in its log; if no current was logged, name the load with --load.";
            return Err((format!("{} has no discharge", cell.code), hint));
        }
        _ => {
            return Err((format!("{} has several discharges", cell.code), "Choose their logs with --entry."));
        }
    };
    let Some(totals) = discharge.discharged.to_cut_off else {
        let message = match discharge.discharged.rule.cut_off_volts {
            Some(cut_off) => format!("the discharge of {} did not reach {cut_off} V", cell.code),
            None => "capacities are compared down to one voltage, and none is named".to_owned(),
        };
        return Err((message, "Give --cut-off, or a cut-off that every cell reached."));
    };
    let first = Timestamp::from_nanosecond(i128::from(discharge.discharged.from_ns));
    Ok((totals.milliampere_hours(), first.unwrap_or(cell.set.built)))
}

fn storage(given: Option<&Typed<TimeSpan>>, fresh: &Known, stored: &Known) -> Result<(f64, String), Failure> {
    if let Some(typed) = given {
        return Ok((typed.value.get(), format!("{} (as given)", typed.text)));
    }
    let Some((fresh, stored)) = fresh.age_s.zip(stored.age_s) else {
        let fault = Fault::new(
            "no_storage",
            "it is not known how long they were stored",
            Place::named("--stored-for"),
        );
        return Err(fault.with_hint("Write it like --stored-for \"6 weeks\".").into());
    };
    let seconds = stored - fresh;
    let words = format!(
        "{:.1} d by the records: building to discharge {:.1} d, of the fresh ones {:.1} d",
        seconds / 86_400.0,
        stored / 86_400.0,
        fresh / 86_400.0
    );
    Ok((seconds, words))
}

/// Cells of other batches or another design are not of one lot.
fn not_one_lot(fresh: &[Cell], stored: &[Cell]) -> Option<Warning> {
    let lot = |cell: &Cell| {
        let batches: BTreeSet<String> =
            cell.contents.iter().map(|content| content.batch.to_string()).collect();
        (cell.set.design.name.clone(), batches)
    };
    let lots: BTreeSet<(String, BTreeSet<String>)> = fresh.iter().chain(stored).map(lot).collect();
    (1 < lots.len()).then(|| {
        let message = "fresh and stored cells are not of one lot: they differ in batches or design, and so may their \
                       capacities have differed from the beginning";
        Warning::new("not_one_lot", message)
    })
}
