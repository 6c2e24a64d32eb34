//! What was measured at a temperature that is asked for, of series that have no curve to answer by.

use super::{CurveView, FittedSeries, Liquid};
use crate::quantity::{Temperature, significant};

/// Temperatures that differ by less, in kelvin, are one: rounding between °C and K.
const SAME: f64 = 0.05;

/// The values of a series at a temperature as they were measured; none where it has a curve, which answers instead.
pub fn measured_at(own: &FittedSeries, at: Temperature) -> Vec<f64> {
    if own.is_together || own.told().is_some() {
        return Vec::new();
    }
    let points = own.series.points.iter();
    let there = points.filter(|point| (point.temperature.kelvin() - at.kelvin()).abs() <= SAME);
    there.map(|point| point.value).collect()
}

/// True if a liquid without a curve has a value there all the same.
pub(super) fn is_measured(liquid: &Liquid<'_>, at: Temperature) -> bool {
    liquid.series.iter().any(|own| !measured_at(own, at).is_empty())
}

/// "E1 1.118, E2 1.121", with no more than a headline holds.
pub(super) fn named_values(liquid: &Liquid<'_>, at: Temperature) -> String {
    let of = |own: &&FittedSeries| {
        let values: Vec<String> = measured_at(own, at).iter().map(|value| significant(*value, 5)).collect();
        (!values.is_empty()).then(|| format!("{} {}", own.series.name, values.join(" and ")))
    };
    liquid.series.iter().filter_map(of).collect::<Vec<_>>().join(", ")
}

/// The series without a curve, each with its value at a temperature. Where no other answers either, also those without a
/// value, with what is missing.
pub(super) fn rows(view: &CurveView, at: Temperature) -> Vec<(&str, String, String)> {
    let without = view.series.iter().filter(|own| !own.is_together && own.told().is_none());
    let row = |own: &FittedSeries| {
        let values = measured_at(own, at);
        let count = own.series.points.len();
        if values.is_empty() {
            return ("–".to_owned(), format!("not measured there, and no curve through {}", points(count)));
        }
        let values: Vec<String> = values.iter().map(|value| significant(*value, 6)).collect();
        (values.join("; "), format!("as measured; no curve through {}", points(count)))
    };
    let answered = view.series.iter().any(|own| own.told().is_some() || !measured_at(own, at).is_empty());
    without
        .filter(|own| !answered || !measured_at(own, at).is_empty())
        .map(|own| {
            let (values, why) = row(own);
            (own.series.name.as_str(), values, why)
        })
        .collect()
}

fn points(count: usize) -> String {
    if count == 1 { "1 point".to_owned() } else { format!("{count} points") }
}
