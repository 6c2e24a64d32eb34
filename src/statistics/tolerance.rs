//! Tolerance intervals: mean ± k standard deviations, where a stated share of all further cells lies with a
//! stated confidence.

use super::distribution::{
    chi_squared_quantile, chi_squared_upper, noncentral_t_quantile, normal_cdf, normal_density,
    normal_quantile,
};
use super::root;

/// Step of the sum over the sample mean, in its standard deviations.
const STEP: f64 = 0.2;
/// Steps to where the normal density is negligible.
const STEPS: i32 = 43;

/// The exact factor k for a two-sided tolerance interval of a normal population with unknown mean and
/// spread, from `n` values: mean ± k·s holds a share `coverage` with the probability `confidence`. NaN for n
/// below 2 or a share not between 0 and 1.
///
/// With the sample mean z/√n away from the true one, the interval must reach r, where
/// Φ(z/√n + r) − Φ(z/√n − r) = coverage; k solves E[P(χ²_{n−1} > (n − 1) r²/k²)] = confidence, the mean being
/// taken over z (A. Wald and J. Wolfowitz, Ann. Math. Stat. 17 (1946) 208; the definition of ISO 16269-6). The
/// integral is a trapezoidal sum, which converges exponentially.
pub fn two_sided_factor(n: usize, coverage: f64, confidence: f64) -> f64 {
    if n < 2 || !is_share(coverage) || !is_share(confidence) {
        return f64::NAN;
    }
    let df = (n - 1) as f64;
    let offsets = (0..=STEPS).map(|index| {
        let z = f64::from(index) * STEP;
        let weight = if index == 0 { STEP } else { 2.0 * STEP } * normal_density(z);
        (weight, half_width(z / (n as f64).sqrt(), coverage))
    });
    let reaches: Vec<(f64, f64)> = offsets.collect();
    let missed = |k: f64| {
        let hit = |&(weight, r): &(f64, f64)| weight * chi_squared_upper(df * (r / k).powi(2), df);
        reaches.iter().map(hit).sum::<f64>() - confidence
    };
    root::of_increasing(missed, 0.0, f64::INFINITY, howe_factor(n, coverage, confidence))
}

/// Howe's approximation to the two-sided factor: z((1 + coverage)/2) √((n − 1)(1 + 1/n)/χ²(1 − confidence))
/// (W. G. Howe, J. Am. Stat. Assoc. 64 (1969) 610).
pub fn howe_factor(n: usize, coverage: f64, confidence: f64) -> f64 {
    if n < 2 {
        return f64::NAN;
    }
    let (count, df) = (n as f64, (n - 1) as f64);
    let spread = df * (1.0 + 1.0 / count) / chi_squared_quantile(1.0 - confidence, df);
    normal_quantile((1.0 + coverage) / 2.0) * spread.sqrt()
}

/// The exact factor for a one-sided tolerance limit: mean − k·s lies below a share `coverage` of the
/// population with the probability `confidence`. The quantile of noncentral t with noncentrality
/// z(coverage)·√n, divided by √n (D. B. Owen, SCR-607, Sandia 1963).
pub fn one_sided_factor(n: usize, coverage: f64, confidence: f64) -> f64 {
    if n < 2 || !is_share(coverage) || !is_share(confidence) {
        return f64::NAN;
    }
    let root_n = (n as f64).sqrt();
    noncentral_t_quantile(confidence, (n - 1) as f64, normal_quantile(coverage) * root_n) / root_n
}

fn is_share(share: f64) -> bool {
    0.0 < share && share < 1.0
}

/// r with Φ(x + r) − Φ(x − r) = coverage, by Newton's method on what lies outside, from above, where it
/// converges monotonically.
fn half_width(x: f64, coverage: f64) -> f64 {
    let outside = 1.0 - coverage;
    let mut r = x + normal_quantile((1.0 + coverage) / 2.0);
    for _ in 0..60 {
        let excess = normal_cdf(-x - r) + normal_cdf(x - r) - outside;
        let step = excess / (normal_density(x + r) + normal_density(x - r));
        r += step;
        if step.abs() <= 4.0 * f64::EPSILON * r.abs() {
            break;
        }
    }
    r
}
