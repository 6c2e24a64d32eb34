//! What a report compares if nobody says what.

use super::figure_rules::usual_rules;
use crate::cell::metric::{CellRecord, Metric, taken};
use crate::cell::{Method, ShotPairing};

/// Methods of internal resistance, the one that disturbs a cell least first.
const METHODS: [Method; 4] =
    [Method::OpenToLoaded, Method::TwoLoads, Method::VoltageDrop, Method::ShortCircuit];
/// The readings for a resistance or a current are at most so many days from its day.
const WITHIN_DAYS: f64 = 3.0;
const SECONDS_PER_DAY: f64 = 86_400.0;

/// Of these cells: the voltage at the last day that every cell in use was read up to, its slope from settling up to then, the
/// resistance by the first method for which there are readings, and the short-circuit current; each only if at least two
/// cells have it.
pub(in crate::cli) fn usual_metrics(cells: &[CellRecord]) -> Vec<Metric> {
    let rules = usual_rules();
    let Some(day) = last_common_day(cells) else { return Vec::new() };
    let settled = rules.settling.until.as_secs_f64() / SECONDS_PER_DAY;
    let mut metrics = vec![Metric::Voltage { day }];
    if settled < day {
        metrics.push(Metric::Slope { from: settled, to: day });
    }
    let resistance =
        |method: Method| Metric::Resistance { day, method, within_d: WITHIN_DAYS, load_ohms: None };
    let held = |metric: &Metric| has_values(metric, cells, &rules.pairing);
    metrics.extend(METHODS.into_iter().map(resistance).find(held));
    metrics.push(Metric::Current { day });
    metrics.retain(held);
    metrics
}

fn has_values(metric: &Metric, cells: &[CellRecord], pairing: &ShotPairing) -> bool {
    1 < taken(metric, cells, pairing).values.iter().filter(|value| value.value.is_some()).count()
}

/// The last whole day up to which every cell that has not failed and was read at all was read, with no load.
fn last_common_day(cells: &[CellRecord]) -> Option<f64> {
    let courses = cells.iter().map(CellRecord::course);
    let last = courses
        .filter(|course| course.failed.is_none())
        .filter_map(|course| course.points.last().map(|(day, _)| *day))
        .reduce(f64::min)?;
    // A reading a little before noon of a day still is one of that day.
    let day = (last + 0.01).floor();
    (1.0 <= day).then_some(day.min(last))
}
