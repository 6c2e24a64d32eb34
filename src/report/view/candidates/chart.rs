//! Where the shown candidates are liquid, one below the other.

use super::model::{Candidate, CandidatesView};
use super::words;
use crate::quantity::Temperature;
use crate::report::document::{Axis, Chart, Mark, Shape, Stroke};

/// More lines than this are no picture any more.
const MOST: usize = 12;

/// The chart; none where fewer than two candidates have anything to show.
pub(super) fn chart(view: &CandidatesView, shown: &[&Candidate]) -> Option<Chart> {
    let drawn: Vec<&Candidate> =
        shown.iter().copied().filter(|own| own.facts.liquid.deciding().is_some()).take(MOST).collect();
    if drawn.len() < 2 {
        return None;
    }
    // The axis grows upward: the first candidate stands at the top.
    let names: Vec<String> = drawn.iter().rev().map(|own| words::short_recipe(&own.combination)).collect();
    let description = "where each candidate is liquid: ideal predictions as open circles joined by a line, measured \
                       melting points as dots, what was seen as a liquid as crosses";
    let mut chart = Chart::new(Axis::new("liquid from (°C)"), Axis::new("").names(names), description);
    if let Some(limit) = view.limits.liquid_at_k {
        chart = chart.with(Mark::place(celsius(limit), view.texts.liquid_at.clone().unwrap_or_default()));
    }
    let height = |at: usize| (drawn.len() - 1 - at) as f64;
    for (at, own) in drawn.iter().enumerate() {
        let points = |kelvins: &[f64]| -> Vec<(f64, f64)> {
            let mut points: Vec<(f64, f64)> =
                kelvins.iter().map(|kelvin| (celsius(*kelvin), height(at))).collect();
            points.sort_by(|one, other| one.0.total_cmp(&other.0));
            points
        };
        let liquid = &own.facts.liquid;
        let seen: Vec<f64> = liquid.seen_liquid_k.into_iter().collect();
        chart = chart
            .with(Mark::line(points(&liquid.ideal_k), Stroke::Thin, ""))
            .with(Mark::points(points(&liquid.ideal_k), Shape::Hollow, ""))
            .with(Mark::points(points(&seen), Shape::Cross, ""))
            .with(Mark::points(
                points(&[&liquid.measured_k[..], &liquid.least_k].concat()),
                Shape::Filled,
                "",
            ));
    }
    Some(chart.caption(
        "○ ideal liquid, joined where published fusion data disagree; ● measured melting point, or eutectic of the pair; × seen as a liquid here.",
    ))
}

fn celsius(kelvin: f64) -> f64 {
    Temperature::from_kelvin(kelvin).celsius()
}
