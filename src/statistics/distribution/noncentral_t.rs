//! Noncentral t: the power of t tests, one-sided tolerance factors, the interval of an effect size.

use super::common::{chi_squared_cdf, chi_squared_upper, normal_cdf, normal_density, student_t_quantile};
use super::scale::{Course, mean_over_scale};
use crate::statistics::root;

/// From here on the normal part never changes the sign within the range of a double.
const DISTANT: f64 = 40.0;
/// Steps of the mean over it: half a standard deviation, out to where the density underflows.
const STEP: f64 = 0.5;
const PLACES: i32 = 77;

/// Probability of at most `t` under noncentral t with `df` degrees of freedom and noncentrality `delta`.
///
/// P(T ≤ t) is the mean of Φ(ts − δ) over s = √(χ²/ν) (N. L. Johnson, S. Kotz and N. Balakrishnan,
/// Continuous Univariate Distributions 2, 2nd ed. 1995, chapter 31). Relative error about 1e-12, in the tails
/// too.
pub fn noncentral_t_cdf(t: f64, df: f64, delta: f64) -> f64 {
    if DISTANT < delta.abs() && 0.0 < df && df.is_finite() && !t.is_nan() {
        return distant(t, df, delta);
    }
    let course = if t < 0.0 { Course::Falls { tail: t * t } } else { Course::Rises };
    mean_over_scale(df, course, delta * delta, |s| normal_cdf(t * s - delta))
}

/// The same for a noncentrality so far from 0 that z + δ has its sign at every z that counts: the mean over z of the
/// probability that χ² lies beyond ν ((z + δ)/t)². It changes slowly with z, whereas the other integrand gets the
/// sharper the greater δ is.
fn distant(t: f64, df: f64, delta: f64) -> f64 {
    if (t < 0.0) != (delta < 0.0) || t == 0.0 {
        return if delta < 0.0 { 1.0 } else { 0.0 };
    }
    let places = (-PLACES..=PLACES).map(|place| f64::from(place) * STEP);
    let term = |z: f64| {
        let x = df * ((z + delta.abs()) / t).powi(2);
        normal_density(z) * if delta < 0.0 { chi_squared_cdf(x, df) } else { chi_squared_upper(x, df) }
    };
    STEP * places.map(term).sum::<f64>()
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
