//! A mean to within so much.

use super::size::least_enough;
use crate::statistics::distribution::student_t_quantile;

/// Half the width of the interval of a mean, in standard deviations of single values, if these come out as
/// planned: t((1 + confidence)/2, n − 1)/√n.
pub fn half_width(n: usize, confidence: f64) -> f64 {
    if n < 2 {
        return f64::NAN;
    }
    student_t_quantile((1.0 + confidence) / 2.0, (n - 1) as f64) / (n as f64).sqrt()
}

/// The least number, 2 or more, whose interval reaches at most so many standard deviations to each side.
pub fn half_width_size(most: f64, confidence: f64) -> Option<usize> {
    least_enough(2, |n| half_width(n, confidence) <= most)
}
