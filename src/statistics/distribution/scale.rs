//! The mean of a function over the estimate of a standard deviation: what turns a probability for a known
//! spread into one for an estimated spread.

/// Terms below this share of the greatest weight are left out.
const NEGLIGIBLE: f64 = 1e-25;

/// The mean of `function(s)` for s = √(χ²/ν), the ratio of an estimated to the true standard deviation with
/// `df` = ν degrees of freedom; at infinity it is `function(1)`.
///
/// With u = ln s the density is proportional to exp(ν(u − e²ᵘ/2)), smooth and vanishing to both sides, so
/// that the trapezoidal rule converges exponentially (L. N. Trefethen and J. A. C. Weideman, SIAM Review 56
/// (2014) 385). The weights are divided by their own sum, so no gamma function loses digits for a large ν.
///
/// `tail` says how strongly the function falls as s grows, as exp(−tail·s²/2): for a probability far out in
/// a tail most of the mean comes from an s well below 1, and the sum starts low enough for that.
/// `sharpness` is 1/s² of the width over which the function changes, relative to s.
pub(super) fn mean_over_scale(df: f64, tail: f64, sharpness: f64, function: impl Fn(f64) -> f64) -> f64 {
    if df.is_nan() || df <= 0.0 || tail.is_nan() || sharpness.is_nan() {
        return f64::NAN;
    }
    if df == f64::INFINITY {
        return function(1.0);
    }
    let step = (0.6 / (2.0 * df + sharpness).sqrt()).min(0.075);
    let low = -0.5 * (tail / df).ln_1p() - 45.0 / df - 9.0 / df.sqrt();
    let high = 8.0 / df.sqrt();
    let (mut weights, mut sum) = (0.0, 0.0);
    let steps = ((high - low) / step).ceil();
    let mut index = 0.0;
    while index <= steps {
        let u = low + index * step;
        let weight = (df * (u - (2.0 * u).exp_m1() / 2.0)).exp();
        weights += weight;
        // The weight is 1 at its greatest; the function is at most 1 and falls where the weight rises.
        if NEGLIGIBLE.powf(if 0.0 < tail { 4.0 } else { 1.0 }) < weight {
            sum += weight * function(u.exp());
        }
        index += 1.0;
    }
    sum / weights
}
