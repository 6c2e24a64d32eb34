//! The size of a difference in units of the spread.

use statrs::function::gamma::ln_gamma;

use super::distribution::{noncentral_t_cdf, noncentral_t_upper};
use super::moments::Moments;
use super::root::of_increasing;
use super::t_test::pooled_variance;

/// A standardised difference of two means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EffectSize {
    /// Cohen's d: difference over the pooled standard deviation.
    pub cohen_d: f64,
    /// Hedges' g: d without its bias on few values (L. V. Hedges, J. Educ. Stat. 6 (1981) 107), by the exact factor.
    pub hedges_g: f64,
    /// Limits of g at the confidence asked for, from noncentral t (both samples normal, one variance).
    pub interval: [f64; 2],
}

/// The size of the difference of two samples; `None` if there is no pooled standard deviation.
pub fn effect_size(first: &Moments, second: &Moments, confidence: f64) -> Option<EffectSize> {
    let pooled = pooled_variance(&[*first, *second]);
    if pooled.is_nan() || pooled <= 0.0 || first.n == 0 || second.n == 0 {
        return None;
    }
    let df = (first.n + second.n - 2) as f64;
    let cohen_d = (first.mean - second.mean) / pooled.sqrt();
    let per_d = ((first.n * second.n) as f64 / (first.n + second.n) as f64).sqrt();
    let unbiased = unbiased(df);
    let interval = noncentrality(cohen_d * per_d, df, confidence).map(|limit| limit / per_d * unbiased);
    Some(EffectSize { cohen_d, hedges_g: cohen_d * unbiased, interval })
}

/// Hedges' exact factor Γ(ν/2) / (√(ν/2) Γ((ν − 1)/2)).
fn unbiased(df: f64) -> f64 {
    if df <= 1.0 {
        return f64::NAN;
    }
    (ln_gamma(df / 2.0) - ln_gamma((df - 1.0) / 2.0)).exp() / (df / 2.0).sqrt()
}

/// The noncentralities under which so large and so small a t have the probability left over.
fn noncentrality(t: f64, df: f64, confidence: f64) -> [f64; 2] {
    let tail = (1.0 - confidence) / 2.0;
    // Both grow with the noncentrality.
    let above = |delta: f64| (noncentral_t_upper(t, df, delta) / tail).ln();
    let below = |delta: f64| (tail / noncentral_t_cdf(t, df, delta)).ln();
    let limit = |function: &dyn Fn(f64) -> f64| of_increasing(function, f64::NEG_INFINITY, f64::INFINITY, t);
    [limit(&above), limit(&below)]
}
