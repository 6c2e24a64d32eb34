//! The mean of a function over the estimate of a standard deviation: what turns a probability for a known
//! spread into one for an estimated spread.

/// Terms below this share of the sum so far end it.
const NEGLIGIBLE: f64 = 1e-19;
/// Most terms to one side: the sum ends long before.
const STEPS: u32 = 100_000;

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
    let weight = |u: f64| (df * (u - (2.0 * u).exp_m1() / 2.0)).exp();
    let weights: f64 =
        (0..=((high - low) / step).ceil() as usize).map(|at| weight(low + at as f64 * step)).sum();
    // The terms have one peak, near s² = ν/(ν + tail): from there outward until they no longer count.
    let peak = low + ((-0.5 * (tail / df).ln_1p() - low) / step).round() * step;
    let outward = |direction: f64| {
        let mut sum = 0.0;
        for at in 1..STEPS {
            let u = peak + direction * f64::from(at) * step;
            let term = weight(u) * function(u.exp());
            sum += term;
            if term <= NEGLIGIBLE * sum || u < low || high < u {
                break;
            }
        }
        sum
    };
    let sum = weight(peak) * function(peak.exp()) + outward(1.0) + outward(-1.0);
    sum / weights
}
