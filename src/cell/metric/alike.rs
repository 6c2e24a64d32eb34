//! Readings that one metric takes together though they were taken differently.

use std::collections::BTreeSet;

use super::Metric;
use super::cell_record::CellRecord;
use super::day::fits;
use crate::input::Warning;
use crate::record::reading::ReadingValue;

/// What differs among the readings of all cells that the metric takes: the time after closing the circuit, the
/// meter's resistance.
pub(super) fn mixed_conditions(metric: &Metric, cells: &[CellRecord]) -> Option<Warning> {
    if !matches!(metric, Metric::Loaded { .. } | Metric::Current { .. }) {
        return None;
    }
    let conditions: BTreeSet<String> = cells
        .iter()
        .flat_map(|record| &record.readings)
        .filter(|reading| fits(metric, &reading.taken.value))
        .map(|reading| condition(&reading.taken.value))
        .collect();
    (1 < conditions.len()).then(|| {
        let all: Vec<String> = conditions.into_iter().collect();
        let message =
            format!("these were not all read in one way, and the way changes the value: {}", all.join("; "));
        Warning::new("mixed_conditions", message)
    })
}

fn condition(value: &ReadingValue) -> String {
    match value {
        ReadingValue::UnderLoad { after_s, .. } => format!("{after_s} s after closing"),
        ReadingValue::ShortCircuit { meter_ohms, after_s, .. } => {
            let meter =
                meter_ohms.map_or("a meter of unknown resistance".to_owned(), |ohms| format!("{ohms} Ω"));
            let after =
                after_s.map_or("at a time not noted".to_owned(), |after| format!("{after} s after closing"));
            format!("through {meter}, {after}")
        }
        ReadingValue::OpenCircuit { .. } => "without a load".to_owned(),
    }
}
