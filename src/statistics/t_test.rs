//! Student's and Welch's tests on means, with the intervals that belong to them.

use super::distribution::{student_t_quantile, student_t_upper};
use super::moments::Moments;

/// A difference of two means and how sure it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TTest {
    /// First mean less second.
    pub difference: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Difference over standard error.
    pub t: f64,
    /// Degrees of freedom.
    pub df: f64,
    /// Two-sided.
    pub p: f64,
}

impl TTest {
    fn new(difference: f64, variance: f64, df: f64) -> Option<Self> {
        let standard_error = variance.sqrt();
        if standard_error.is_nan() || standard_error <= 0.0 || df.is_nan() || df <= 0.0 {
            return None;
        }
        let t = difference / standard_error;
        Some(Self { difference, standard_error, t, df, p: 2.0 * student_t_upper(t.abs(), df) })
    }

    /// Limits of the difference at a confidence (0 to 1).
    pub fn interval(&self, confidence: f64) -> [f64; 2] {
        let half = student_t_quantile(0.5 + confidence / 2.0, self.df) * self.standard_error;
        [self.difference - half, self.difference + half]
    }
}

/// Welch's test (B. L. Welch, Biometrika 34 (1947) 28), degrees of freedom by Satterthwaite: variances may
/// differ. `None` if a sample has fewer than two values or none has any spread.
pub fn welch(first: &Moments, second: &Moments) -> Option<TTest> {
    let (v1, v2) = (first.mean_variance(), second.mean_variance());
    let df = satterthwaite(&[(v1, first.df()), (v2, second.df())]);
    TTest::new(first.mean - second.mean, v1 + v2, df)
}

/// Student's test on two samples of one variance. `None` as for [`welch`].
pub fn student(first: &Moments, second: &Moments) -> Option<TTest> {
    let df = first.df() + second.df();
    let pooled = pooled_variance(&[*first, *second]);
    let per_value = 1.0 / first.n as f64 + 1.0 / second.n as f64;
    TTest::new(first.mean - second.mean, pooled * per_value, df)
}

/// Student's test on the differences within pairs. `None` if there are fewer than two pairs, the samples differ in
/// number, or the differences have no spread.
pub fn paired(first: &[f64], second: &[f64]) -> Option<TTest> {
    if first.len() != second.len() {
        return None;
    }
    let differences: Vec<f64> = first.iter().zip(second).map(|(a, b)| a - b).collect();
    let moments = Moments::of(&differences);
    TTest::new(moments.mean, moments.mean_variance(), moments.df())
}

/// Limits of the mean at a confidence (0 to 1), by Student's t; `None` for fewer than two values.
pub fn mean_interval(moments: &Moments, confidence: f64) -> Option<[f64; 2]> {
    let half = student_t_quantile(0.5 + confidence / 2.0, moments.df()) * moments.sem();
    (1 < moments.n).then_some([moments.mean - half, moments.mean + half])
}

/// Limits of one future value at a confidence (0 to 1); `None` for fewer than two values.
pub fn prediction_interval(moments: &Moments, confidence: f64) -> Option<[f64; 2]> {
    let spread = (moments.variance + moments.mean_variance()).sqrt();
    let half = student_t_quantile(0.5 + confidence / 2.0, moments.df()) * spread;
    (1 < moments.n).then_some([moments.mean - half, moments.mean + half])
}

/// Degrees of freedom of a sum of independent variance estimates, each with its own (F. E. Satterthwaite,
/// Biometrics Bull. 2 (1946) 110).
pub fn satterthwaite(parts: &[(f64, f64)]) -> f64 {
    let total: f64 = parts.iter().map(|(variance, _)| variance).sum();
    // Shares first: squares of very small variances would vanish.
    let parts = parts.iter().filter(|(variance, _)| *variance != 0.0);
    1.0 / parts.map(|(variance, df)| (variance / total).powi(2) / df).sum::<f64>()
}

/// The variance within samples, weighted by degrees of freedom. Samples of one value count for nothing.
pub fn pooled_variance(samples: &[Moments]) -> f64 {
    let spread = samples.iter().filter(|sample| 1 < sample.n);
    let (squares, df) = spread.fold((0.0, 0.0), |(squares, df), sample| {
        (squares + sample.variance * sample.df(), df + sample.df())
    });
    squares / df
}
