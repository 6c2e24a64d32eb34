//! Two groups of equal size and equal spread, compared by Student's t.

use super::size::least_enough;
use crate::statistics::distribution::{noncentral_t_cdf, noncentral_t_upper, student_t_quantile};
use crate::statistics::root;

/// Whether a difference in either direction counts, or only in the direction that was expected.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Tails {
    /// In either.
    Two,
    /// In the one expected beforehand.
    One,
}

/// The probability of finding a true difference of `effect` standard deviations with `n` per group at the
/// level `alpha`: noncentral t with 2n − 2 degrees of freedom and noncentrality effect·√(n/2) (J. Cohen,
/// Statistical Power Analysis, 2nd ed. 1988, chapter 2). NaN for n at or below 1.
pub fn two_sample_power(n: f64, effect: f64, alpha: f64, tails: Tails) -> f64 {
    let df = 2.0 * n - 2.0;
    let delta = effect.abs() * (n / 2.0).sqrt();
    let critical = student_t_quantile(1.0 - level(alpha, tails), df);
    let above = noncentral_t_upper(critical, df, delta);
    match tails {
        Tails::One => above,
        Tails::Two => above + noncentral_t_cdf(-critical, df, delta),
    }
}

/// The level in the tail where the difference is.
fn level(alpha: f64, tails: Tails) -> f64 {
    if tails == Tails::Two { alpha / 2.0 } else { alpha }
}

/// The least whole number per group, 2 or more, with at least this power.
pub fn two_sample_size(effect: f64, power: f64, alpha: f64, tails: Tails) -> Option<usize> {
    least_enough(2, |n| power <= two_sample_power(n as f64, effect, alpha, tails))
}

/// The real number per group with exactly this power. NaN where even just above 1 has more.
pub fn two_sample_real_size(effect: f64, power: f64, alpha: f64, tails: Tails) -> f64 {
    let high = two_sample_size(effect, power, alpha, tails).map_or(f64::NAN, |n| n as f64);
    root::between(|n| two_sample_power(n, effect, alpha, tails) - power, 1.05, high)
}

/// The least true difference, in standard deviations, that `n` per group find with this power. The power must
/// be above the level.
pub fn detectable_effect(n: usize, power: f64, alpha: f64, tails: Tails) -> f64 {
    if n < 2 || power <= alpha {
        return f64::NAN;
    }
    let excess = |effect: f64| two_sample_power(n as f64, effect, alpha, tails) - power;
    root::of_increasing(excess, 0.0, f64::INFINITY, 2.8 * (2.0 / n as f64).sqrt())
}
