//! The studentized range: Tukey's and Games and Howell's comparisons of several means.

use super::common::{normal_cdf, normal_density, student_t_quantile};
use super::scale::mean_over_scale;
use crate::statistics::root;

/// Where the normal density is negligible.
const FAR: f64 = 8.6;
/// Where it is no double any more.
const UNDERFLOW: f64 = 38.0;

/// Probability that the range of `groups` standard normal values, divided by an independent estimate of
/// their standard deviation with `df` degrees of freedom, is at most `q`.
///
/// The mean over that estimate (see `mean_over_scale`) of the probability of a range (H. O. Hartley, Biometrika
/// 32 (1942) 334): k ∫ φ(z) (Φ(z) − Φ(z − w))ᵏ⁻¹ dz, also by the trapezoidal rule, which converges
/// exponentially here too. The groups must be 2 or more.
pub fn studentized_range_cdf(q: f64, groups: usize, df: f64) -> f64 {
    over_range(q, groups, df, 0.0, |m, inside, below| (inside - below).max(0.0).powi(m as i32))
}

/// Probability of more than `q`, with its own integral: Φᵏ⁻¹ − (Φ(z) − Φ(z − w))ᵏ⁻¹ under the same weights,
/// so that small probabilities keep their digits.
pub fn studentized_range_upper(q: f64, groups: usize, df: f64) -> f64 {
    if q <= 0.0 && 1 < groups && 0.0 < df {
        return 1.0;
    }
    over_range(q, groups, df, q * q / 2.0, difference_of_powers)
}

/// aᵐ − (a − b)ᵐ as b times the sum of aᵐ⁻¹⁻ⁱ (a − b)ⁱ: no digit is lost however small b is.
fn difference_of_powers(m: usize, a: f64, b: f64) -> f64 {
    let (mut sum, mut power) = (0.0, 1.0);
    for _ in 0..m {
        sum = a * sum + power;
        power *= a - b;
    }
    b * sum
}

/// The value that the studentized range exceeds with the probability 1 − `p`.
pub fn studentized_range_quantile(p: f64, groups: usize, df: f64) -> f64 {
    if !(0.0 < p && p < 1.0) || groups < 2 || df.is_nan() || df <= 0.0 {
        return f64::NAN;
    }
    // Bonferroni's bound for all pairs lies close by.
    let pairs = (groups * (groups - 1)) as f64;
    let start = std::f64::consts::SQRT_2 * student_t_quantile(1.0 - (1.0 - p) / pairs, df);
    let excess = |q: f64| {
        if p <= 0.5 {
            (studentized_range_cdf(q, groups, df) / p).ln()
        } else {
            ((1.0 - p) / studentized_range_upper(q, groups, df)).ln()
        }
    };
    root::of_increasing(excess, 0.0, f64::INFINITY, start.max(1e-3))
}

/// k ∫ φ(z) integrand(k − 1, Φ(z), Φ(z − w)) dz with w = qs, averaged over s.
fn over_range(q: f64, groups: usize, df: f64, tail: f64, integrand: impl Fn(usize, f64, f64) -> f64) -> f64 {
    if q.is_nan() || groups < 2 {
        return f64::NAN;
    }
    let (k, m) = (groups as f64, groups - 1);
    // Φᵏ⁻¹ sharpens with k.
    let step = 0.8 / k.sqrt();
    let places = (0..((FAR + UNDERFLOW) / step) as usize).map(|at| at as f64 * step - FAR);
    let table: Vec<(f64, f64, f64)> = places.map(|z| (z, normal_density(z), normal_cdf(z))).collect();
    mean_over_scale(df, tail, 0.0, |s| {
        let w = (q * s).max(0.0);
        let counted = table.iter().take_while(|(z, ..)| *z < FAR + w / 2.0);
        let sum: f64 = counted.map(|(z, density, cdf)| density * integrand(m, *cdf, normal_cdf(z - w))).sum();
        k * sum * step
    })
}
