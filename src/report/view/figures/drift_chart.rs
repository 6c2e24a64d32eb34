//! The open-circuit voltage of a cell over time, with the line and the settling that were fitted.

use crate::cell::{Drift, Point};
use crate::report::document::{Axis, Chart, Mark, Shape, Stroke};

/// Steps of a drawn curve.
const STEPS: usize = 60;
/// Days in a week.
const DAYS: f64 = 7.0;
/// The confidence of the bands.
const CONFIDENCE: f64 = 0.95;

/// What the axis of voltages shows: the readings, and half as much again to both sides.
fn span(all: &[Point]) -> (f64, f64) {
    let low = all.iter().map(|point| point.volts).fold(f64::INFINITY, f64::min);
    let high = all.iter().map(|point| point.volts).fold(f64::NEG_INFINITY, f64::max);
    let room = (0.5 * (high - low)).max(2e-3);
    (low - room, high + room)
}

/// Readings as points, those that were set apart hollow; the line with its band, the settling as a dashed curve.
pub(super) fn chart(cell: &str, drift: &Drift) -> Chart {
    let all = drift.all();
    let (bottom, top) = span(&all);
    let mut chart = Chart::new(
        Axis::new("days after building").from(0.0),
        Axis::new("open circuit (V)").within(bottom, top),
        format!(
            "open-circuit voltage of {cell} against days after building, with the fitted line and settling"
        ),
    );
    let (first, last) = (all.first().map_or(0.0, |p| p.weeks), all.last().map_or(0.0, |p| p.weeks));
    let steps = |from: f64| (0..=STEPS).map(move |at| from + (last - from) * at as f64 / STEPS as f64);
    let begin = drift.settled.first().map_or(last, |point| point.weeks);
    if let Some(line) = &drift.line {
        let band = steps(begin).filter_map(|weeks| {
            let (low, high) = line.interval_at(weeks, CONFIDENCE)?;
            // A band that says next to nothing must not press the readings flat.
            Some((weeks * DAYS, low.clamp(bottom, top), high.clamp(bottom, top)))
        });
        chart = chart.with(Mark::band(band.collect(), ""));
        let ends = [begin, last].map(|weeks| (weeks * DAYS, line.intercept + line.slope * weeks));
        chart = chart.with(Mark::line(ends.to_vec(), Stroke::Strong, "line"));
    }
    if let Some(fit) = drift.decay().filter(|fit| fit.is_identifiable()) {
        let curve = steps(first).map(|weeks| (weeks * DAYS, fit.at(weeks)));
        chart = chart.with(Mark::line(curve.collect(), Stroke::Dashed, "settling"));
    }
    let points = |list: &[Point]| list.iter().map(|point| (point.weeks * DAYS, point.volts)).collect();
    chart
        .with(Mark::points(points(&drift.unsettled), Shape::Hollow, ""))
        .with(Mark::points(points(&drift.settled), Shape::Filled, ""))
        .caption(format!(
            "{cell}: ● settled, ○ set apart; the line with its 95 % band, the exponential settling dashed."
        ))
}
