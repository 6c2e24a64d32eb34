//! Standard errors, intervals and bands from a minimum, all by the tangent plane there.

use super::dual::Dual;
use super::linear::Factor;
use super::points::Points;
use super::solve::{Curve, Minimum};
use crate::statistics::distribution::student_t_quantile;

/// A parameter with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The value.
    pub value: f64,
    /// Its standard error; NaN where it can't be told.
    pub sd: f64,
    /// The interval that holds it with the confidence asked for.
    pub interval: (f64, f64),
}

/// What the points say about a curve besides its parameters.
#[derive(Debug, Clone, PartialEq)]
pub struct Inference {
    /// The confidence of all intervals.
    pub confidence: f64,
    /// Points less parameters.
    pub df: usize,
    /// The residual standard deviation, for a weight of 1; NaN without a degree of freedom.
    pub residual_sd: f64,
    /// Each parameter.
    pub estimates: Vec<Estimate>,
    factor: Option<Factor>,
}

/// The curve at one place with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// The place.
    pub x: f64,
    /// The curve.
    pub y: f64,
    /// The interval of the curve itself.
    pub mean: (f64, f64),
    /// The interval of one further point of weight 1.
    pub further: (f64, f64),
}

impl Estimate {
    /// The same with an interval that is even in ratios, for a value above 0.
    pub(super) fn in_ratios(self) -> Self {
        let ratio = ((self.interval.1 - self.value) / self.value).exp();
        Self { interval: (self.value / ratio, self.value * ratio), ..self }
    }
}

impl Inference {
    /// By first order: sd = s √diag((JᵀJ)⁻¹), with the factor R of the scaled slopes instead of JᵀJ; intervals
    /// by Student's t.
    pub fn of(minimum: &Minimum, points: &Points, confidence: f64) -> Self {
        let df = points.len().saturating_sub(minimum.parameters.len());
        let residual_sd = if df == 0 { f64::NAN } else { (minimum.rss / df as f64).sqrt() };
        let estimate = |(place, value): (usize, &f64)| {
            let unit = minimum.factor.as_ref().map_or(f64::NAN, |factor| factor.unit_sd(place));
            let sd = residual_sd * unit;
            let reach = reach(df, confidence) * sd;
            Estimate { value: *value, sd, interval: (value - reach, value + reach) }
        };
        let estimates = minimum.parameters.iter().enumerate().map(estimate).collect();
        Self { confidence, df, residual_sd, estimates, factor: minimum.factor.clone() }
    }

    /// The curve and its bands at a place.
    pub fn band(&self, curve: &Curve<'_>, x: f64) -> Band {
        let parameters: Vec<Dual> =
            self.estimates.iter().enumerate().map(|(place, own)| Dual::parameter(own.value, place)).collect();
        let at = curve(x, &parameters);
        let slopes = &at.slopes[..self.estimates.len()];
        let unit = self.factor.as_ref().map_or(f64::NAN, |factor| factor.unit_sd_of(slopes));
        let reach = reach(self.df, self.confidence) * self.residual_sd;
        let (mean, further) = (reach * unit, reach * (1.0 + unit * unit).sqrt());
        Band {
            x,
            y: at.value,
            mean: (at.value - mean, at.value + mean),
            further: (at.value - further, at.value + further),
        }
    }

    /// Condition number of the scaled slopes; infinite where the parameters can't be told apart.
    pub fn condition(&self) -> f64 {
        self.factor.as_ref().map_or(f64::INFINITY, |factor| factor.condition)
    }

    /// The correlation between two parameters.
    pub fn correlation(&self, one: usize, other: usize) -> f64 {
        self.factor.as_ref().map_or(f64::NAN, |factor| factor.correlation(one, other))
    }
}

/// How many standard errors an interval reaches to each side.
fn reach(df: usize, confidence: f64) -> f64 {
    if df == 0 { f64::NAN } else { student_t_quantile((1.0 + confidence) / 2.0, df as f64) }
}
