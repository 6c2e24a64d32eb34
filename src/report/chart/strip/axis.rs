//! Where the marks of an axis stand.

use crate::report::chart::ticks::{signed, steps};

/// An axis over a range, with marks at round numbers.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Axis {
    /// Where it begins.
    pub(in crate::report) low: f64,
    /// Where it ends.
    pub(in crate::report) high: f64,
    /// The marks, from low to high.
    pub(in crate::report) marks: Vec<f64>,
    decimals: usize,
}

impl Axis {
    /// An axis that holds a range, with about so many marks: 1, 2 or 5 times a power of ten apart.
    pub(in crate::report) fn over(low: f64, high: f64, about: usize) -> Self {
        let (low, high) = widened(low, high);
        let (marks, step) = steps(low, high, about);
        Self { low, high, marks, decimals: (-step.log10().floor()).clamp(0.0, 12.0) as usize }
    }

    /// The share of the axis that lies below a value, 0 to 1 on it.
    pub(in crate::report) fn share(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }

    /// A mark as text, with as many decimals as all of them need.
    pub(in crate::report) fn text(&self, mark: f64) -> String {
        signed(mark, self.decimals)
    }
}

/// A little room to both sides; around a single value as much as it takes to have a range.
fn widened(low: f64, high: f64) -> (f64, f64) {
    let span = high - low;
    let least = 1e-9 * low.abs().max(high.abs()).max(1e-300);
    let room = if least < span { 0.04 * span } else { (0.01 * high.abs()).max(1e-3) };
    (low - room, high + room)
}
