//! Where the axes begin and end, and where their numbers stand.

use super::ticks::{named, scientific, steps};
use crate::report::document::{Axis, Chart};

/// An axis as it is drawn, in even steps: of logarithms where it is logarithmic.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Scale {
    pub(super) low: f64,
    pub(super) high: f64,
    pub(super) ticks: Vec<(f64, String)>,
    logarithmic: bool,
}

impl Scale {
    /// The two scales of a chart; about so many numbers on each.
    pub(super) fn of(chart: &Chart, across: usize, up: usize) -> (Self, Self) {
        let extent: Vec<_> = chart.marks.iter().flat_map(|mark| mark.extent()).collect();
        let x = extent.iter().filter_map(|(x, _)| *x).collect();
        let y = extent.iter().filter_map(|(_, y)| *y).collect();
        (Self::axis(&chart.across, x, across), Self::axis(&chart.up, y, up))
    }

    fn axis(axis: &Axis, mut values: Vec<f64>, count: usize) -> Self {
        if !axis.names.is_empty() {
            return Self::named(&axis.names);
        }
        if axis.held {
            values.clear();
        }
        values.extend([axis.least, axis.most].into_iter().flatten());
        values.retain(|value| !axis.logarithmic || 0.0 < *value);
        let inner = |value: f64| if axis.logarithmic { value.log10() } else { value };
        let low = values.iter().copied().map(inner).fold(f64::INFINITY, f64::min);
        let high = values.iter().copied().map(inner).fold(f64::NEG_INFINITY, f64::max);
        let (mut low, mut high) = if low <= high { (low, high) } else { (0.0, 1.0) };
        if high - low <= 1e-12 * low.abs().max(high.abs()) {
            let room = if low == 0.0 { 0.5 } else { 0.05 * low.abs() };
            (low, high) = (low - room, high + room);
        }
        // A little room, but not beyond a bound that was asked for.
        let room = 0.05 * (high - low);
        low -= if axis.least.map(inner) == Some(low) { 0.0 } else { room };
        high += if axis.most.map(inner) == Some(high) { 0.0 } else { room };
        let ticks = if axis.logarithmic { ratios(low, high) } else { None };
        let ticks = ticks.unwrap_or_else(|| match axis.logarithmic {
            true => named(steps(10f64.powf(low), 10f64.powf(high), count), f64::log10),
            false => named(steps(low, high, count), |value| value),
        });
        Self { low, high, ticks, logarithmic: axis.logarithmic }
    }

    fn named(names: &[String]) -> Self {
        let ticks = names.iter().enumerate().map(|(at, name)| (at as f64, name.clone())).collect();
        Self { low: -0.5, high: names.len() as f64 - 0.5, ticks, logarithmic: false }
    }

    /// A value in the steps of the axis; `None` where it has no place on it.
    pub(super) fn inner(&self, value: f64) -> Option<f64> {
        let inner = if self.logarithmic { value.log10() } else { value };
        let room = 1e-9 * (self.high - self.low);
        (inner.is_finite() && self.low - room <= inner && inner <= self.high + room).then_some(inner)
    }

    /// A value in the steps of the axis, on it or beyond; `None` where it is no number there.
    pub(super) fn beyond(&self, value: f64) -> Option<f64> {
        let inner = if self.logarithmic { value.log10() } else { value };
        inner.is_finite().then_some(inner)
    }

    /// The place on the axis that is nearest to a value.
    pub(super) fn nearest(&self, value: f64) -> Option<f64> {
        self.beyond(value).map(|inner| inner.clamp(self.low, self.high))
    }

    /// The share of the axis before a value.
    pub(super) fn share(&self, value: f64) -> Option<f64> {
        Some((self.inner(value)? - self.low) / (self.high - self.low))
    }
}

/// The powers of ten on a logarithmic axis, with 2 and 5 times them where they are few; none if even these
/// are fewer than three.
fn ratios(low: f64, high: f64) -> Option<Vec<(f64, String)>> {
    let parts: &[f64] = if 3.0 < high - low { &[1.0] } else { &[1.0, 2.0, 5.0] };
    let decades = low.floor() as i32..=high.ceil() as i32;
    let values = decades.flat_map(|decade| parts.iter().map(move |part| part * 10f64.powi(decade)));
    let shown: Vec<f64> = values.filter(|value| (low..=high).contains(&value.log10())).collect();
    let text = |value: f64| {
        if (1e-4..1e6).contains(&value) {
            format!("{}", (value * 1e6).round() / 1e6)
        } else {
            scientific(value, value)
        }
    };
    (3 <= shown.len()).then(|| shown.into_iter().map(|value| (value.log10(), text(value))).collect())
}
