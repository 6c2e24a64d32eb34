//! Dunnett's distribution: several electrolytes against one baseline.

use super::common::{normal_cdf, normal_density, student_t_quantile};
use super::scale::mean_over_scale;
use crate::statistics::root;

/// Where the normal density is negligible.
const FAR: f64 = 8.6;

/// Whether differences count in both directions or in one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// The greatest absolute difference.
    Two,
    /// The greatest difference upward.
    One,
}

/// Probability that none of the t statistics of several groups against one common baseline exceeds `t`,
/// with a common spread estimated with `df` degrees of freedom. `correlations` has λ of each group:
/// √(n / (n + n₀)) for a group of n and a baseline of n₀, each below 1.
///
/// The statistics share the baseline's mean: with that given they are independent, so the probability is
/// ∫ φ(z) Π [Φ((λz + ts)/√(1 − λ²)) − Φ((λz − ts)/√(1 − λ²))] dz, averaged over the estimate s of the spread
/// (C. W. Dunnett, J. Am. Stat. Assoc. 50 (1955) 1096, for product correlations). Trapezoidal rule in both.
pub fn dunnett_cdf(t: f64, correlations: &[f64], df: f64, sides: Sides) -> f64 {
    over_baseline(t, correlations, df, 0.0, |given| {
        each(correlations, given, sides)
            .into_iter()
            .map(|(outside, count)| (1.0 - outside).powf(count))
            .product()
    })
}

/// Probability that at least one of them exceeds `t`, by its own integral.
pub fn dunnett_upper(t: f64, correlations: &[f64], df: f64, sides: Sides) -> f64 {
    over_baseline(t, correlations, df, if 0.0 < t { t * t } else { 0.0 }, |given| {
        let inside = each(correlations, given, sides).into_iter();
        let log: f64 = inside.map(|(outside, count)| count * (-outside).ln_1p()).sum();
        -log.exp_m1()
    })
}

/// The value that the greatest of the statistics exceeds with the probability 1 − `p`.
pub fn dunnett_quantile(p: f64, correlations: &[f64], df: f64, sides: Sides) -> f64 {
    let possible = 0.0 < p && p < 1.0 && 0.0 < df;
    if !possible || !defined(correlations) {
        return f64::NAN;
    }
    let share = match sides {
        Sides::Two => (1.0 - p) / (2 * correlations.len()) as f64,
        Sides::One => (1.0 - p) / correlations.len() as f64,
    };
    let low = if sides == Sides::Two { 0.0 } else { f64::NEG_INFINITY };
    let excess = |t: f64| {
        if p <= 0.5 {
            (dunnett_cdf(t, correlations, df, sides) / p).ln()
        } else {
            ((1.0 - p) / dunnett_upper(t, correlations, df, sides)).ln()
        }
    };
    root::of_increasing(excess, low, f64::INFINITY, student_t_quantile(1.0 - share, df))
}

fn defined(correlations: &[f64]) -> bool {
    !correlations.is_empty() && correlations.iter().all(|lambda| (0.0..1.0).contains(lambda))
}

/// The baseline's standardised mean and the limit on the scale of the true spread.
struct Given {
    z: f64,
    limit: f64,
}

/// The probability of each group to exceed the limit, with the number of neighbours that share it: groups are
/// mostly of one size, and need it once.
fn each(correlations: &[f64], given: &Given, sides: Sides) -> Vec<(f64, f64)> {
    let alike = correlations.chunk_by(|one, next| one == next);
    alike.map(|chunk| (outside(chunk[0], given, sides), chunk.len() as f64)).collect()
}

/// Probability that one group exceeds the limit, the baseline's mean given.
fn outside(lambda: f64, given: &Given, sides: Sides) -> f64 {
    let scale = (1.0 - lambda * lambda).sqrt();
    let above = normal_cdf((lambda * given.z - given.limit) / scale);
    match sides {
        Sides::One => above,
        Sides::Two if given.limit <= 0.0 => 1.0,
        Sides::Two => above + normal_cdf((-lambda * given.z - given.limit) / scale),
    }
}

/// ∫ φ(z) function(z, ts) dz, averaged over s.
fn over_baseline(t: f64, correlations: &[f64], df: f64, tail: f64, function: impl Fn(&Given) -> f64) -> f64 {
    if t.is_nan() || !defined(correlations) {
        return f64::NAN;
    }
    let sharpness: f64 = correlations.iter().map(|lambda| lambda * lambda / (1.0 - lambda * lambda)).sum();
    let step = 0.8 / (1.0 + sharpness).sqrt();
    mean_over_scale(df, tail, 0.0, |s| {
        let limit = t * s;
        let end = FAR + limit.abs();
        let (mut z, mut sum) = (-end, 0.0);
        while z < end {
            sum += normal_density(z) * function(&Given { z, limit });
            z += step;
        }
        sum * step
    })
}
