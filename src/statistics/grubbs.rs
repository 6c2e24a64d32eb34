//! The test of Grubbs for one value too far out (F. E. Grubbs, Technometrics 11 (1969) 1), two-sided.

use super::distribution::{student_t_quantile, student_t_upper};
use super::moments::Moments;

/// The value furthest from the mean, and how far that is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grubbs {
    /// Its place among the values, from 0.
    pub index: usize,
    /// The value.
    pub suspect: f64,
    /// Its distance from the mean over the standard deviation.
    pub g: f64,
    /// What G exceeds with probability `alpha` in a normal sample.
    pub critical: f64,
    /// Upper bound of the probability of so large a G in a normal sample (Bonferroni's inequality; exact where
    /// it is small).
    pub p: f64,
}

impl Grubbs {
    /// True if the value lies further out than normal samples let expect.
    pub fn flags(&self) -> bool {
        self.critical < self.g
    }
}

/// The test at a level `alpha`; `None` for fewer than 3 values or no spread.
pub fn grubbs(values: &[f64], alpha: f64) -> Option<Grubbs> {
    let moments = Moments::of(values);
    if moments.n < 3 || moments.variance <= 0.0 {
        return None;
    }
    let distance = |value: &f64| (value - moments.mean).abs();
    // Of two equally far out the first is named.
    let (index, &suspect) =
        values.iter().enumerate().rev().max_by(|(_, a), (_, b)| distance(a).total_cmp(&distance(b)))?;
    let g = distance(&suspect) / moments.sd();
    Some(Grubbs { index, suspect, g, critical: grubbs_critical(moments.n, alpha), p: p_value(g, moments.n) })
}

/// What the two-sided statistic of `n` normal values exceeds with probability `alpha`.
pub fn grubbs_critical(n: usize, alpha: f64) -> f64 {
    critical_at(n, alpha / (2.0 * n as f64))
}

/// What the distance of the greatest (or of the least) of `n` normal values exceeds with probability `alpha`.
pub fn grubbs_critical_one_sided(n: usize, alpha: f64) -> f64 {
    critical_at(n, alpha / n as f64)
}

fn critical_at(n: usize, upper: f64) -> f64 {
    let count = n as f64;
    let t2 = student_t_quantile(1.0 - upper, count - 2.0).powi(2);
    (count - 1.0) / count.sqrt() * (t2 / (count - 2.0 + t2)).sqrt()
}

fn p_value(g: f64, n: usize) -> f64 {
    let count = n as f64;
    let room = (count - 1.0).powi(2) - count * g * g;
    if room <= 0.0 {
        return 0.0;
    }
    let t = (count * (count - 2.0) * g * g / room).sqrt();
    (2.0 * count * student_t_upper(t, count - 2.0)).min(1.0)
}
