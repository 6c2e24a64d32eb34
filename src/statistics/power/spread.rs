//! A standard deviation to within so much.

use super::size::least_enough;
use crate::statistics::distribution::chi_squared_quantile;

/// By what factor the true standard deviation may exceed the one found from `n` values, at the one-sided
/// `confidence`: √((n − 1)/χ²(1 − confidence; n − 1)).
pub fn spread_ratio(n: usize, confidence: f64) -> f64 {
    if n < 2 {
        return f64::NAN;
    }
    let df = (n - 1) as f64;
    (df / chi_squared_quantile(1.0 - confidence, df)).sqrt()
}

/// The least number, 2 or more, with at most this factor, which must be above 1.
pub fn spread_size(most: f64, confidence: f64) -> Option<usize> {
    least_enough(2, |n| spread_ratio(n, confidence) <= most)
}
