//! Noncentral t: the power of t tests, one-sided tolerance factors, the interval of an effect size.

use super::common::{normal_cdf, student_t_quantile};
use super::scale::{Course, mean_over_scale};
use crate::statistics::root;

/// Probability of at most `t` under noncentral t with `df` degrees of freedom and noncentrality `delta`.
///
/// P(T ≤ t) is the mean of Φ(ts − δ) over s = √(χ²/ν) (N. L. Johnson, S. Kotz and N. Balakrishnan,
/// Continuous Univariate Distributions 2, 2nd ed. 1995, chapter 31). Relative error about 1e-12, in the tails
/// too.
pub fn noncentral_t_cdf(t: f64, df: f64, delta: f64) -> f64 {
    let course = if t < 0.0 { Course::Falls { tail: t * t } } else { Course::Rises };
    mean_over_scale(df, course, delta * delta, |s| normal_cdf(t * s - delta))
}

/// Probability of more than `t`.
pub fn noncentral_t_upper(t: f64, df: f64, delta: f64) -> f64 {
    noncentral_t_cdf(-t, df, -delta)
}

/// The value below which a share `p` lies.
pub fn noncentral_t_quantile(p: f64, df: f64, delta: f64) -> f64 {
    if !(0.0 < p && p < 1.0) || delta.is_nan() {
        return f64::NAN;
    }
    let start = delta + student_t_quantile(p, df);
    let excess = |t: f64| {
        if p <= 0.5 {
            (noncentral_t_cdf(t, df, delta) / p).ln()
        } else {
            ((1.0 - p) / noncentral_t_upper(t, df, delta)).ln()
        }
    };
    root::of_increasing(excess, f64::NEG_INFINITY, f64::INFINITY, start)
}
