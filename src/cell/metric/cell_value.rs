//! One value of each cell, or why there is none, or why it does not count.

use std::collections::BTreeMap;

use super::alike::mixed_conditions;
use super::built_otherwise::built_otherwise;
use super::cell_record::{CellRecord, shown_day};
use super::found::Found;
use super::{Metric, day, discharge, retention, slope};
use crate::cell::resistance::Pairing;
use crate::input::Warning;
use crate::record::Code;
use crate::record::cell::Cause;

/// What is taken of one cell.
#[derive(Debug, Clone, PartialEq)]
pub struct CellValue {
    /// The cell.
    pub cell: Code,
    /// What its electrolyte is called.
    pub electrolyte: String,
    /// The lot code of its electrolyte.
    pub batch: String,
    /// What the cell is like, by the name of its design.
    pub design: String,
    /// The value in the unit of the metric.
    pub value: Option<f64>,
    /// Why there is none.
    pub missing: Option<String>,
    /// The physical cause for which the cell does not count.
    pub excluded: Option<Cause>,
    /// The physical cause for which it failed after what the metric looks at: it counts, and it failed.
    pub failed_later: Option<Cause>,
}

/// What is taken of all cells.
#[derive(Debug, Clone, PartialEq)]
pub struct Taken {
    /// One for each cell, in the order given; without the cells that are the reference.
    pub values: Vec<CellValue>,
    /// Fresh cells that stored ones are compared with.
    pub reference: Vec<Code>,
    /// What to know beside it.
    pub remarks: Vec<Warning>,
}

/// Takes a metric of each cell. `pairing` says which readings belong together for a resistance.
pub fn taken(metric: &Metric, cells: &[CellRecord], pairing: &Pairing) -> Taken {
    let mut remarks: Vec<Warning> = mixed_conditions(metric, cells).into_iter().collect();
    let (found, reference) = match metric {
        Metric::Retention { fresh, discharge } => retention::found(cells, *fresh, *discharge),
        _ => (cells.iter().map(|record| (record, record.found(metric, pairing))).collect(), Vec::new()),
    };
    if let Metric::Slope { from, to } = *metric {
        remarks.extend(slope::cut_short(cells, from, to));
    }
    let values: Vec<CellValue> =
        found.into_iter().map(|(record, found)| record.judged(metric, found)).collect();
    if let Some(to) = metric.discharge() {
        remarks.extend(discharge::remarks(cells, to));
    }
    remarks.extend(cells.iter().filter_map(CellRecord::not_physical));
    remarks.extend(built_otherwise(cells));
    remarks.extend(missing_words(&values));
    Taken { values, reference, remarks }
}

impl CellRecord {
    fn found(&self, metric: &Metric, pairing: &Pairing) -> Found {
        match *metric {
            Metric::Voltage { day } | Metric::Loaded { day, .. } | Metric::Current { day } => {
                Found { value: day::at_day(self, metric, day), until_d: day }
            }
            Metric::Resistance { day, method, within_d, load_ohms } => {
                let wanted = day::Wanted { day, method, within_d, load_ohms };
                Found { value: day::resistance(self, &wanted, pairing), until_d: day }
            }
            Metric::Slope { from, to } => Found { value: slope::slope(self, from, to), until_d: to },
            Metric::Capacity(to) => discharge::found(self, to, discharge::Sum::Charge),
            Metric::Energy(to) => discharge::found(self, to, discharge::Sum::Energy),
            Metric::Retention { discharge, .. } => discharge::found(self, discharge, discharge::Sum::Charge),
        }
    }

    /// Whether a value counts. A cell that failed by then does not; one that failed later counts and failed. What
    /// was wrong from the building on excludes whenever it was found.
    fn judged(&self, metric: &Metric, found: Found) -> CellValue {
        let failed = self.cell.retired.as_ref().filter(|(_, cause, _)| cause.is_physical());
        let (mut excluded, mut later) = (None, None);
        if let Some((at, cause, _)) = failed {
            let by_then =
                self.age_d(*at) <= found.until_d || cause.is_from_building() || found.value.is_err();
            let place = if by_then { &mut excluded } else { &mut later };
            *place = Some(cause.clone());
        }
        let missing = found.value.as_ref().err().cloned().map(|reason| self.ended(metric).unwrap_or(reason));
        CellValue {
            cell: self.cell.code.clone(),
            electrolyte: self.electrolyte.clone(),
            batch: self.batch.clone(),
            design: self.cell.set.design.name.clone(),
            value: found.value.ok(),
            missing,
            excluded,
            failed_later: later,
        }
    }

    /// A value that the end of the test explains.
    fn ended(&self, metric: &Metric) -> Option<String> {
        let day = match *metric {
            Metric::Voltage { day }
            | Metric::Loaded { day, .. }
            | Metric::Current { day }
            | Metric::Resistance { day, .. } => day,
            Metric::Slope { from, .. } => from,
            Metric::Capacity(_) | Metric::Energy(_) | Metric::Retention { .. } => return None,
        };
        let (at, cause, _) = self.cell.retired.as_ref()?;
        let age = self.age_d(*at);
        (*cause == Cause::EndOfTest && age < day).then(|| format!("its test ended on day {}", shown_day(age)))
    }

    fn not_physical(&self) -> Option<Warning> {
        let (_, cause, _) = self.cell.retired.as_ref()?;
        match cause {
            Cause::Other(words) if !cause.is_physical() => {
                let code = &self.cell.code;
                let message =
                    format!("{code} was retired as {words:?}, which is no physical cause: it counts");
                Some(Warning::new("not_physical", message))
            }
            _ => None,
        }
    }
}

/// The cells without a value that counts, by their reason.
fn missing_words(values: &[CellValue]) -> Vec<Warning> {
    let mut reasons: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for value in values.iter().filter(|value| value.excluded.is_none()) {
        if let Some(reason) = &value.missing {
            reasons.entry(reason).or_default().push(value.cell.to_string());
        }
    }
    let warning = |(reason, cells): (&str, Vec<String>)| {
        Warning::new("no_value_of_cell", format!("{}: {reason}", cells.join(", ")))
    };
    reasons.into_iter().map(warning).collect()
}
