//! Several groups of equal size and equal spread, compared by one-way analysis of variance.

use super::size::least_enough;
use crate::statistics::distribution::{f_quantile, noncentral_f_upper};
use crate::statistics::root;

/// The probability of finding that `groups` means with an effect f are not all equal, with `n` per group:
/// noncentral F with noncentrality f²·n·groups (J. Cohen, Statistical Power Analysis, 2nd ed. 1988,
/// chapter 8). f is the standard deviation of the true means (divisor: their number) by the spread.
pub fn anova_power(n: f64, groups: usize, f: f64, alpha: f64) -> f64 {
    let k = groups as f64;
    let (df1, df2) = (k - 1.0, k * (n - 1.0));
    noncentral_f_upper(f_quantile(1.0 - alpha, df1, df2), df1, df2, f * f * n * k)
}

/// The least whole number per group, 2 or more, with at least this power.
pub fn anova_size(groups: usize, f: f64, power: f64, alpha: f64) -> Option<usize> {
    least_enough(2, |n| power <= anova_power(n as f64, groups, f, alpha))
}

/// The least effect f that `n` per group find with this power, which must be above the level.
pub fn anova_detectable_effect(n: usize, groups: usize, power: f64, alpha: f64) -> f64 {
    if n < 2 || groups < 2 || power <= alpha {
        return f64::NAN;
    }
    let excess = |f: f64| anova_power(n as f64, groups, f, alpha) - power;
    root::of_increasing(excess, 0.0, f64::INFINITY, 2.0 / (n as f64).sqrt())
}

/// The effect f where two of the groups differ by `effect` standard deviations and all others lie in the
/// middle between them: of all means with this range, those that are hardest to find.
pub fn effect_of_extremes(effect: f64, groups: usize) -> f64 {
    effect.abs() / (2.0 * groups as f64).sqrt()
}

/// The effect f of these true means with this spread.
pub fn effect_of_means(means: &[f64], sd: f64) -> f64 {
    let count = means.len() as f64;
    let mean = means.iter().sum::<f64>() / count;
    (means.iter().map(|own| (own - mean).powi(2)).sum::<f64>() / count).sqrt() / sd
}
