//! The mean of a function over the estimate of a standard deviation: what turns a probability for a known
//! spread into one for an estimated spread.

use std::cell::RefCell;
use std::collections::HashMap;

/// What is below this share of a sum is left out of it.
const NEGLIGIBLE: f64 = 1e-17;
/// The widest step in ln s: few degrees of freedom spread the weights out, and would allow wider ones than the
/// function does.
const WIDEST: f64 = 0.075;

/// Whether a function of s rises or falls as s grows.
#[derive(Debug, Clone, Copy)]
pub(super) enum Course {
    Rises,
    /// As exp(−tail·s²/2): for a probability far out in a tail most of the mean comes from an s well below 1, and
    /// the sum starts there. A tail of 0 says nothing of how fast.
    Falls {
        tail: f64,
    },
}

impl Course {
    fn tail(self) -> f64 {
        match self {
            Self::Rises => 0.0,
            Self::Falls { tail } => tail,
        }
    }

    /// What the function does not exceed below and above a place with this value.
    fn bounds(self, value: f64) -> [f64; 2] {
        match self {
            Self::Rises => [value, 1.0],
            Self::Falls { .. } => [1.0, value],
        }
    }
}

/// The mean of `function(s)` for s = √(χ²/ν), the ratio of an estimated to the true standard deviation with
/// `df` = ν degrees of freedom; at infinity it is `function(1)`.
///
/// With u = ln s the density is proportional to exp(ν(u − e²ᵘ/2)), smooth and vanishing to both sides, so
/// that the trapezoidal rule converges exponentially (L. N. Trefethen and J. A. C. Weideman, SIAM Review 56
/// (2014) 385). The weights are divided by their own sum, so no gamma function loses digits for a large ν.
///
/// The function lies between 0 and 1; its course tells how far out it counts.
/// `sharpness` is 1/s² of the width over which the function changes, relative to s.
pub(super) fn mean_over_scale(df: f64, course: Course, sharpness: f64, function: impl Fn(f64) -> f64) -> f64 {
    if df.is_nan() || df <= 0.0 || course.tail().is_nan() || sharpness.is_nan() {
        return f64::NAN;
    }
    if df == f64::INFINITY {
        return function(1.0);
    }
    let step = step(df, sharpness);
    sum_over(df, course, step, 0.0, |_, s| function(s))
}

fn step(df: f64, sharpness: f64) -> f64 {
    (0.6 / (2.0 * df + sharpness).sqrt()).min(WIDEST)
}

/// The mean over s of a function of q·s alone, for many q and ν.
///
/// With few degrees of freedom the sum has some 500 places. They are laid where ln(q·s) is a multiple of the
/// step, whatever q is (where the places begin does not matter to the trapezoidal rule), so that the function is
/// called once for each place, and not again for every q on the way to a quantile.
pub(super) struct OverScale<F> {
    function: F,
    /// Values of the function by the sign of q and the place.
    known: RefCell<HashMap<(bool, i64), f64>>,
}

impl<F: Fn(f64) -> f64> OverScale<F> {
    pub(super) fn of(function: F) -> Self {
        Self { function, known: RefCell::default() }
    }

    /// The mean of the function at `q`·s; `df` and `course` as in `mean_over_scale`.
    pub(super) fn mean(&self, q: f64, df: f64, course: Course) -> f64 {
        // With many degrees of freedom the places lie close to s = 1 and are few; ln q would cost digits there.
        if q == 0.0 || !q.is_finite() || df.is_nan() || df <= 0.0 || step(df, 0.0) < WIDEST {
            return mean_over_scale(df, course, 0.0, |s| (self.function)(q * s));
        }
        sum_over(df, course, WIDEST, -q.abs().ln(), |place, _| self.at(0.0 < q, place))
    }

    fn at(&self, positive: bool, place: i64) -> f64 {
        let size = (place as f64 * WIDEST).exp();
        let value = || (self.function)(if positive { size } else { -size });
        *self.known.borrow_mut().entry((positive, place)).or_insert_with(value)
    }
}

/// The weighted mean over the places where ln s is `shift` plus a multiple of `step`; the function is told the
/// multiple and s.
fn sum_over(df: f64, course: Course, step: f64, shift: f64, function: impl Fn(i64, f64) -> f64) -> f64 {
    let log = |index: i64| index as f64 * step + shift;
    let weight = |index: i64| (df * (log(index) - square_less_one(log(index)) / 2.0)).exp();
    let value = |index: i64| function(index, log(index).exp());
    // The greatest term lies about here, or above; that of the weights alone at ln s = 0.
    let middle = ((-0.5 * (course.tail() / df).ln_1p() - shift) / step).round() as i64;
    let top = (-shift / step).round() as i64;
    let mut sum = 0.0;
    for index in (0..).map(|below| middle - below) {
        let (own, value) = (weight(index), value(index));
        sum += own * value;
        let rest = own * course.bounds(value)[0];
        if rest <= NEGLIGIBLE * sum || own == 0.0 || value.is_nan() {
            break;
        }
    }
    for index in middle + 1.. {
        let (own, value) = (weight(index), value(index));
        sum += own * value;
        // Beyond the top the weights fall.
        let rest = course.bounds(value)[1] * if top < index { own } else { 1.0 };
        if rest <= NEGLIGIBLE * sum || (top < index && own == 0.0) || value.is_nan() {
            break;
        }
    }
    sum / (weights(top, -1, weight) + weights(top + 1, 1, weight))
}

/// s² − 1 from ln s. Most places of a sum with few degrees of freedom lie where it is −1 to the last digit.
fn square_less_one(log: f64) -> f64 {
    if log < -20.0 { -1.0 } else { (2.0 * log).exp_m1() }
}

/// The sum of the weights to one side, as far as they count.
fn weights(start: i64, step: i64, weight: impl Fn(i64) -> f64) -> f64 {
    let (mut index, mut sum) = (start, 0.0);
    loop {
        let own = weight(index);
        if own <= NEGLIGIBLE * sum || own == 0.0 {
            return sum;
        }
        sum += own;
        index += step;
    }
}
