//! The mean of a function over the estimate of a standard deviation: what turns a probability for a known
//! spread into one for an estimated spread.

/// What is below this share of a sum is left out of it.
const NEGLIGIBLE: f64 = 1e-17;

/// The mean of `function(s)` for s = √(χ²/ν), the ratio of an estimated to the true standard deviation with
/// `df` = ν degrees of freedom; at infinity it is `function(1)`.
///
/// With u = ln s the density is proportional to exp(ν(u − e²ᵘ/2)), smooth and vanishing to both sides, so
/// that the trapezoidal rule converges exponentially (L. N. Trefethen and J. A. C. Weideman, SIAM Review 56
/// (2014) 385). The weights are divided by their own sum, so no gamma function loses digits for a large ν.
///
/// `tail` says how strongly the function falls as s grows, as exp(−tail·s²/2): for a probability far out in
/// a tail most of the mean comes from an s well below 1, and the sum starts there. The function lies between 0
/// and 1, and with a tail above 0 it must fall as s grows.
/// `sharpness` is 1/s² of the width over which the function changes, relative to s.
pub(super) fn mean_over_scale(df: f64, tail: f64, sharpness: f64, function: impl Fn(f64) -> f64) -> f64 {
    if df.is_nan() || df <= 0.0 || tail.is_nan() || sharpness.is_nan() {
        return f64::NAN;
    }
    if df == f64::INFINITY {
        return function(1.0);
    }
    let step = (0.6 / (2.0 * df + sharpness).sqrt()).min(0.075);
    let weight = |index: i64| (df * (index as f64 * step - (2.0 * index as f64 * step).exp_m1() / 2.0)).exp();
    let term = |index: i64| weight(index) * function((index as f64 * step).exp());
    // The greatest term lies about here; that of the weights alone at 0.
    let middle = (-0.5 * (tail / df).ln_1p() / step).round() as i64;
    let mut sum = 0.0;
    for index in (0..).map(|below| middle - below) {
        let rest = weight(index);
        if rest <= NEGLIGIBLE * sum || rest == 0.0 {
            break;
        }
        sum += term(index);
    }
    for index in middle + 1.. {
        let value = function((index as f64 * step).exp());
        sum += weight(index) * value;
        // Beyond 0 the weights fall; where the function falls, what is left is below it.
        let rest = if 0.0 < tail { value } else { 1.0 } * if 0 < index { weight(index) } else { 1.0 };
        if rest <= NEGLIGIBLE * sum || (0 < index && weight(index) == 0.0) || value.is_nan() {
            break;
        }
    }
    sum / (weights(0, -1, weight) + weights(1, 1, weight))
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
