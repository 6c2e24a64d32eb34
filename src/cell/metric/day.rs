//! Values at a day: between the readings around it, or by the nearest set of readings.

use super::Metric;
use super::cell_record::{CellRecord, shown_day};
use crate::cell::resistance::{Found, Method, Pairing, contradictions, resistances};
use crate::cell::shot::{Shot, Shown};
use crate::record::reading::{ReadingKind, ReadingValue, SETTLING, disturbed};
use crate::statistics::interpolate::interpolate;

/// A voltage or a current on the straight line between the readings around the day.
pub(super) fn at_day(record: &CellRecord, metric: &Metric, day: f64) -> Result<f64, String> {
    let readings: Vec<_> =
        record.in_use().into_iter().filter(|(reading, _)| fits(metric, &reading.taken.value)).collect();
    let left_out = readings.iter().filter(|(_, disturbed)| *disturbed).count();
    let points: Vec<(f64, f64)> = readings
        .iter()
        .filter(|(_, disturbed)| !disturbed)
        .map(|(reading, _)| (record.age_d(reading.taken.at), shown(&reading.taken.value)))
        .collect();
    let value = interpolate(&points, day).or_else(|| on_the_day(&points, day));
    value.ok_or_else(|| no_value(metric, &points, left_out, day))
}

/// A reading so near to a day is of that day where there is none on its other side: readings are taken at whatever
/// hour, and the last of them a little before or after the same hour as the building (a decision of this project).
pub(super) const SAME_DAY_D: f64 = 0.5;

fn on_the_day(points: &[(f64, f64)], day: f64) -> Option<f64> {
    let near = points.iter().filter(|point| (point.0 - day).abs() <= SAME_DAY_D);
    near.min_by(|a, b| (a.0 - day).abs().total_cmp(&(b.0 - day).abs())).map(|point| point.1)
}

/// True for a reading that the metric is about.
pub(super) fn fits(metric: &Metric, value: &ReadingValue) -> bool {
    match (metric, value) {
        (Metric::Loaded { load_ohms, .. }, ReadingValue::UnderLoad { ohms, .. }) => same(*ohms, *load_ohms),
        (Metric::Loaded { .. }, _) => false,
        _ => metric.kind() == Some(value.kind()),
    }
}

/// Loads are the same if their numbers are, but for what is lost between ohms and kilohms.
fn same(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-9 * one.abs().max(other.abs())
}

/// In the unit of the metric: volts, milliamperes.
fn shown(value: &ReadingValue) -> f64 {
    if value.kind() == ReadingKind::ShortCircuit { value.number() * 1000.0 } else { value.number() }
}

fn no_value(metric: &Metric, points: &[(f64, f64)], disturbed: usize, day: f64) -> String {
    let what = match metric.kind() {
        Some(ReadingKind::UnderLoad) => "reading on this load",
        Some(ReadingKind::ShortCircuit) => "short-circuit reading",
        _ => "open-circuit reading",
    };
    let days = points.iter().map(|point| point.0);
    let (first, last) = (days.clone().reduce(f64::min), days.reduce(f64::max));
    let words = match (first, last) {
        (Some(first), _) if day < first => {
            format!("no {what} before day {}, the first that counts", shown_day(first))
        }
        (_, Some(last)) => format!("no {what} after day {}, the last that counts", shown_day(last)),
        _ => format!("no {what} that counts"),
    };
    if disturbed == 0 { words } else { format!("{words}; {disturbed} disturbed by a short circuit left out") }
}

/// Which resistance is wanted.
pub(super) struct Wanted {
    pub(super) day: f64,
    pub(super) method: Method,
    pub(super) within_d: f64,
    pub(super) load_ohms: Option<f64>,
}

/// The resistance by the set of readings that is nearest to the day.
pub(super) fn resistance(record: &CellRecord, wanted: &Wanted, pairing: &Pairing) -> Result<f64, String> {
    let since = disturbed(&record.readings, SETTLING);
    let end = record.cell.retired.as_ref().map(|(at, _, _)| *at);
    let shots: Vec<Shot> = record
        .readings
        .iter()
        .zip(since)
        .filter(|(reading, _)| end.is_none_or(|end| reading.taken.at <= end))
        .map(|(reading, since)| Shot::of_reading(reading, since))
        .collect();
    let nearest = |list: Vec<Found>| nearest(record, list, wanted);
    match (nearest(resistances(&shots, pairing)), nearest(contradictions(&shots, pairing))) {
        (Some((_, found)), _) => Ok(found.ohms),
        (None, Some(_)) => {
            Err("its readings contradict each other: the loaded one is not the lower".to_owned())
        }
        (None, None) => Err(format!(
            "no undisturbed set of readings for {} within {} d of day {}",
            wanted.method.words(),
            wanted.within_d,
            wanted.day
        )),
    }
}

/// The nearest of a method; of two that are equally near, the earlier.
fn nearest(record: &CellRecord, list: Vec<Found>, wanted: &Wanted) -> Option<(f64, Found)> {
    let distance = |found: &Found| Some((record.age_d(found.heavy.at?) - wanted.day).abs());
    list.into_iter()
        .filter(|found| found.method == wanted.method && !found.light.disturbed && !found.heavy.disturbed)
        .filter(|found| wanted.load_ohms.is_none_or(|ohms| is_on(&found.heavy, ohms)))
        .filter_map(|found| Some((distance(&found)?, found)))
        .filter(|(distance, _)| *distance <= wanted.within_d)
        .reduce(|best, next| if next.0 < best.0 { next } else { best })
}

fn is_on(shot: &Shot, ohms: f64) -> bool {
    match shot.shown {
        Shown::Loaded { load_ohms, .. } => same(load_ohms, ohms),
        Shown::Current { meter_ohms, .. } => meter_ohms.is_some_and(|meter| same(meter, ohms)),
        Shown::Open { .. } => false,
    }
}
