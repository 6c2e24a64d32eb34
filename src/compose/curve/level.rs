//! The levels of several series: their mean, or their run with water, and what they differ by.

use crate::statistics::curve_fit::Estimate;
use crate::statistics::curve_fit::linear::{LinearFit, least_squares};
use crate::statistics::distribution::student_t_quantile;

/// A part of a variance with its degrees of freedom.
#[derive(Debug, Clone, Copy)]
pub(super) struct Part {
    pub(super) variance: f64,
    pub(super) df: usize,
}

/// Levels of series, each counted once however many points it has.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Level {
    fit: LinearFit,
    /// The same of the mean slopes of each series, by parameter of the shape: levels move with the shape.
    slopes: Vec<LinearFit>,
    count: usize,
    is_wet: bool,
}

/// How far an interval reaches by several parts of a variance: Student's t with the degrees of freedom of B. L. Welch and
/// F. E. Satterthwaite (as in the GUM, JCGM 100:2008, G.4.1). NaN where a part has none.
pub(super) fn reach(parts: &[Part], confidence: f64) -> f64 {
    let sum: f64 = parts.iter().map(|part| part.variance).sum();
    if sum == 0.0 || !sum.is_finite() {
        return sum;
    }
    let share = |part: &Part| if part.variance == 0.0 { 0.0 } else { part.variance.powi(2) / part.df as f64 };
    let df = sum * sum / parts.iter().map(share).sum::<f64>();
    student_t_quantile((1.0 + confidence) / 2.0, df) * sum.sqrt()
}

impl Level {
    /// The mean of the levels, or their line against the water of each series.
    pub(super) fn of(levels: &[f64], waters: Option<&[f64]>, slopes: &[Vec<f64>]) -> Option<Self> {
        let row = |at: usize| match waters {
            Some(waters) => vec![1.0, waters[at]],
            None => vec![1.0],
        };
        let rows: Vec<Vec<f64>> = (0..levels.len()).map(row).collect();
        let fit = |y: &[f64]| least_squares(&rows, y, &vec![1.0; y.len()]);
        let slopes = slopes.iter().map(|column| fit(column)).collect::<Option<_>>()?;
        Some(Self { fit: fit(levels)?, slopes, count: levels.len(), is_wet: waters.is_some() })
    }

    pub(super) fn count(&self) -> usize {
        self.count
    }

    pub(super) fn is_wet(&self) -> bool {
        self.is_wet
    }

    pub(super) fn sd(&self) -> f64 {
        if self.fit.df == 0 { f64::NAN } else { self.fit.residual_sd() }
    }

    fn row(&self, water: f64) -> Vec<f64> {
        if self.is_wet { vec![1.0, water] } else { vec![1.0] }
    }

    pub(super) fn value(&self, water: f64) -> f64 {
        total(&self.fit, &self.row(water))
    }

    /// The mean slopes of the series, as the level weighs them.
    pub(super) fn slopes(&self, water: f64) -> Vec<f64> {
        let row = self.row(water);
        self.slopes.iter().map(|own| total(own, &row)).collect()
    }

    /// The variance of the level.
    pub(super) fn part(&self, water: f64) -> Part {
        self.scaled(self.fit.factor.unit_sd_of(&self.row(water)).powi(2))
    }

    /// The variance of the level of one further series.
    pub(super) fn further(&self, water: f64) -> Part {
        self.scaled(1.0 + self.fit.factor.unit_sd_of(&self.row(water)).powi(2))
    }

    fn scaled(&self, factor: f64) -> Part {
        Part { variance: self.sd().powi(2) * factor, df: self.fit.df }
    }

    /// What a mass fraction of water does to the level, if that is a term of it.
    pub(super) fn slope(&self, confidence: f64) -> Option<Estimate> {
        let value = self.is_wet.then(|| self.fit.coefficients[1])?;
        let part = self.scaled(self.fit.factor.unit_sd(1).powi(2));
        let reach = reach(&[part], confidence);
        Some(Estimate { value, sd: part.variance.sqrt(), interval: (value - reach, value + reach) })
    }
}

fn total(fit: &LinearFit, row: &[f64]) -> f64 {
    row.iter().zip(&fit.coefficients).map(|(factor, own)| factor * own).sum()
}
