//! Where the axes begin and end, and where their numbers stand.

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

    /// The share of the axis before a value.
    pub(super) fn share(&self, value: f64) -> Option<f64> {
        Some((self.inner(value)? - self.low) / (self.high - self.low))
    }
}

/// About `count` round numbers with steps of 1, 2 or 5 times a power of ten.
fn steps(low: f64, high: f64, count: usize) -> (Vec<f64>, f64) {
    let rough = (high - low) / count.max(1) as f64;
    let power = 10f64.powf(rough.log10().floor());
    let step =
        [1.0, 2.0, 5.0, 10.0].map(|part| part * power).into_iter().find(|step| rough <= *step * 1.000_001);
    let step = step.unwrap_or(10.0 * power);
    let first = (low / step - 1e-9).ceil() as i64;
    let last = (high / step + 1e-9).floor() as i64;
    ((first..=last).take(200).map(|at| at as f64 * step).collect(), step)
}

fn named((values, step): (Vec<f64>, f64), inner: impl Fn(f64) -> f64) -> Vec<(f64, String)> {
    let exponent = step.log10().floor();
    let largest = values.iter().fold(0.0f64, |most, value| most.max(value.abs()));
    let text = |value: f64| {
        if 1e6 <= largest || (0.0 < largest && largest < 1e-4) {
            return scientific(value, step);
        }
        format!("{value:.*}", (-exponent).max(0.0) as usize)
    };
    let positive = |value: &&f64| inner(**value).is_finite();
    values.iter().filter(positive).map(|value| (inner(*value), text(*value))).collect()
}

/// 2.5×10⁶, with the digits of the step.
fn scientific(value: f64, step: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let exponent = value.abs().log10().floor();
    let digits = (exponent - step.log10().floor()).max(0.0) as usize;
    let raised: String = format!("{exponent}").chars().map(superscript).collect();
    format!("{:.digits$}×10{raised}", value / 10f64.powf(exponent))
}

fn superscript(digit: char) -> char {
    match digit {
        '-' => '⁻',
        '1' => '¹',
        '2' => '²',
        '3' => '³',
        digit => digit.to_digit(10).and_then(|digit| char::from_u32(0x2070 + digit)).unwrap_or(digit),
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
