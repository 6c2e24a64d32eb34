//! What a study's number of cells can find, where a spread is given.

use super::measure::factor;
use crate::cell::metric::Metric;
use crate::record::study::{Planned, Size};
use crate::report::view::StudyPower;
use crate::statistics::power::{Aim, Question, Tails};

/// Where nothing else is said. The answer states it.
const POWER: f64 = 0.8;

/// A size in a unit; `None` if it can't be given in it.
pub(in crate::cli) fn in_unit(size: &Size, unit: &str) -> Option<f64> {
    Some(size.value() * times(size.unit(), unit)?)
}

/// Why a size can't be one of a metric, in words.
pub(in crate::cli) fn no_size_of(size: &Size, metric: &Metric) -> String {
    format!("{:?} is no size of {}, which is in {}", size.to_string(), metric.name(), metric.unit())
}

/// How many of one unit make one of another, also for units by day or week.
fn times(from: &str, to: &str) -> Option<f64> {
    if from == to {
        return Some(1.0);
    }
    let Some(((from, from_per), (to, to_per))) = from.split_once('/').zip(to.split_once('/')) else {
        return factor(from, to);
    };
    let days = |per: &str| match per.trim() {
        "d" | "day" => Some(1.0),
        "week" => Some(7.0),
        _ => None,
    };
    let above = if from == to { 1.0 } else { factor(from.trim(), to.trim())? };
    match (days(from_per), days(to_per)) {
        _ if from_per == to_per => Some(above),
        (Some(from_days), Some(to_days)) => Some(above * to_days / from_days),
        _ => None,
    }
}

/// The arithmetic; `None` without a spread.
pub(in crate::cli) fn study_power(planned: &Planned) -> Option<StudyPower> {
    let spread = planned.spread.as_ref()?;
    let (each, electrolytes) = (planned.per_electrolyte as usize, planned.electrolytes.len());
    let question = |aim: Aim, per_group: Option<usize>| Question {
        aim,
        groups: electrolytes,
        per_group,
        power: POWER,
        alpha: 1.0 - planned.confidence,
        tails: Tails::Two,
        confidence: planned.confidence,
        coverage: planned.confidence,
        loss: None,
        sure: POWER,
    };
    let sd = spread.value();
    let smallest = planned.smallest.as_ref().and_then(|size| in_unit(size, spread.unit())).map(|size| {
        let aim = Aim::Difference(size / sd);
        let needed = question(aim, None).answer().map(|enough| enough.per_group);
        (size, question(aim, Some(each)).reached(each), needed)
    });
    Some(StudyPower {
        per_electrolyte: each,
        electrolytes,
        batched: planned.electrolytes.iter().any(|studied| 1 < studied.batches.len()),
        sd,
        unit: spread.unit().to_owned(),
        power: POWER,
        // Without the dust of a subtraction.
        alpha: ((1.0 - planned.confidence) * 1e12).round() / 1e12,
        detectable: question(Aim::Detect, Some(each)).reached(each) * sd,
        smallest,
    })
}
