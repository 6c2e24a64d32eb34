//! Shares of counts.

use statrs::function::beta::inv_beta_reg;

/// Limits of a share at a confidence (0 to 1), from `hits` of `all`, by C. J. Clopper and E. S. Pearson
/// (Biometrika 26 (1934) 404): exact in that the true share lies inside at least so often. `None` if there are none,
/// or more hits than there are.
pub fn clopper_pearson(hits: usize, all: usize, confidence: f64) -> Option<[f64; 2]> {
    if all == 0 || all < hits {
        return None;
    }
    let (hits, misses, tail) = (hits as f64, (all - hits) as f64, (1.0 - confidence) / 2.0);
    let low = if hits == 0.0 { 0.0 } else { inv_beta_reg(hits, misses + 1.0, tail) };
    let high = if misses == 0.0 { 1.0 } else { inv_beta_reg(hits + 1.0, misses, 1.0 - tail) };
    Some([low, high])
}
