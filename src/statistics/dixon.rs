//! Dixon's test for one value too far out (W. J. Dixon, Ann. Math. Stat. 21 (1950) 488), two-sided, with the ratio
//! r10 = gap / range for every number of values.

use super::distribution::{normal_cdf, normal_density};
use super::observations::sorted;
use super::root::between;

/// The value with the larger gap to its neighbour.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dixon {
    /// The value: the least or the greatest.
    pub suspect: f64,
    /// Its gap over the range.
    pub r10: f64,
    /// Probability of so large a ratio on either side of a normal sample.
    pub p: f64,
}

/// The test is given up to this many values; for more a gap says little.
pub const DIXON_MOST: usize = 30;

/// The test; `None` for fewer than 3 values, more than [`DIXON_MOST`], or no spread.
pub fn dixon(values: &[f64]) -> Option<Dixon> {
    let n = values.len();
    if !(3..=DIXON_MOST).contains(&n) {
        return None;
    }
    let sorted = sorted(values);
    if sorted.first() == sorted.last() {
        return None;
    }
    let [low, high] = r10(&sorted);
    let (suspect, r10) = if high < low { (sorted[0], low) } else { (sorted[n - 1], high) };
    Some(Dixon { suspect, r10, p: (2.0 * upper(r10, n)).min(1.0) })
}

/// The ratios of the least and the greatest of three or more sorted values that are not all equal.
pub fn r10(sorted: &[f64]) -> [f64; 2] {
    let n = sorted.len();
    let range = sorted[n - 1] - sorted[0];
    [(sorted[1] - sorted[0]) / range, (sorted[n - 1] - sorted[n - 2]) / range]
}

/// What the ratio of `n` normal values exceeds with probability `alpha`, on either side; NaN for fewer than 3 values.
pub fn dixon_critical(n: usize, alpha: f64) -> f64 {
    if n < 3 || !(0.0 < alpha && alpha < 1.0) {
        return f64::NAN;
    }
    between(|ratio| 2.0 * upper(ratio, n) - alpha, 0.0, 1.0)
}

/// Probability that the greatest of `n` normal values stands further than the share `ratio` of the range from the
/// next.
///
/// With the least value a and the range w given, the others lie below a + (1 − r) w with probability
/// ((Φ(a + (1 − r) w) − Φ(a)) / (Φ(a + w) − Φ(a)))ⁿ⁻², so P = n (n − 1) ∫∫ φ(a) φ(a + w) (Φ(a + (1 − r) w) − Φ(a))ⁿ⁻²
/// dw da (W. J. Dixon, Ann. Math. Stat. 22 (1951) 68). With w = exp(u) both integrands vanish smoothly at both ends, so
/// that the trapezoidal rule converges exponentially.
fn upper(ratio: f64, n: usize) -> f64 {
    const STEP: f64 = 0.15;
    let pairs = (n * (n - 1)) as f64;
    let mut total = 0.0;
    for least in steps(-9.0, 6.0, STEP) {
        let below = normal_cdf(least);
        let inner = steps(-26.0 / (n as f64 - 1.0).max(2.0), 3.0, STEP / 2.0).map(|log| {
            let range = log.exp();
            let inside = normal_cdf(least + (1.0 - ratio) * range) - below;
            normal_density(least + range) * inside.max(0.0).powi(n as i32 - 2) * range
        });
        total += normal_density(least) * inner.sum::<f64>();
    }
    (pairs * total * STEP * STEP / 2.0).min(1.0)
}

fn steps(low: f64, high: f64, step: f64) -> impl Iterator<Item = f64> {
    let count = ((high - low) / step) as usize;
    (0..=count).map(move |index| low + index as f64 * step)
}
