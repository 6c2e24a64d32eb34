//! Enough cells for a statement on all further ones.

use super::size::{MOST, least_enough};
use crate::statistics::tolerance::two_sided_factor;

/// The least number, 2 or more, whose exact two-sided tolerance factor is at most `most`. Even endless cells
/// do not bring it to the normal quantile of the coverage.
pub fn tolerance_size(most: f64, coverage: f64, confidence: f64) -> Option<usize> {
    least_enough(2, |n| two_sided_factor(n, coverage, confidence) <= most)
}

/// The least number whose least and greatest value enclose a share `coverage` of all further cells with this
/// confidence, whatever their distribution: 1 − n pⁿ⁻¹ + (n − 1) pⁿ reaches it (S. S. Wilks, Ann. Math. Stat. 12
/// (1941) 91). With `one_sided` the share lies on one side of the extreme value: 1 − pⁿ.
pub fn order_statistic_size(coverage: f64, confidence: f64, one_sided: bool) -> Option<usize> {
    let reached = |n: usize| {
        let (count, p) = (n as f64, coverage);
        if one_sided {
            1.0 - p.powf(count)
        } else {
            1.0 - count * p.powf(count - 1.0) + (count - 1.0) * p.powf(count)
        }
    };
    if !(0.0 < coverage && coverage < 1.0) || reached(MOST) < confidence {
        return None;
    }
    least_enough(if one_sided { 1 } else { 2 }, |n| confidence <= reached(n))
}
