//! Number, mean and variance of a sample: all that the tests on means need.

use super::sum::sum;

/// Number, mean and variance of a sample.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moments {
    /// How many values.
    pub n: usize,
    /// Arithmetic mean; NaN for no values.
    pub mean: f64,
    /// Variance with n − 1; NaN for fewer than two values.
    pub variance: f64,
}

impl Moments {
    /// Of finite values. The variance is the corrected two-pass one (T. F. Chan, G. H. Golub and R. J. LeVeque,
    /// Am. Stat. 37 (1983) 242), so that values with many constant leading digits lose none of the others.
    pub fn of(values: &[f64]) -> Self {
        let n = values.len();
        let mean = sum(values.iter().copied()) / n as f64;
        let squares = squares_about(values, mean);
        let variance = if 1 < n { squares / (n - 1) as f64 } else { f64::NAN };
        Self { n, mean, variance }
    }

    /// Standard deviation with n − 1.
    pub fn sd(&self) -> f64 {
        self.variance.sqrt()
    }

    /// Variance of the mean, s²/n.
    pub fn mean_variance(&self) -> f64 {
        self.variance / self.n as f64
    }

    /// Standard error of the mean, s/√n.
    pub fn sem(&self) -> f64 {
        self.mean_variance().sqrt()
    }

    /// Degrees of freedom of the variance, n − 1.
    pub fn df(&self) -> f64 {
        self.n as f64 - 1.0
    }
}

/// The sum of squared deviations from the mean. `mean` need only be near it: what it is off by is taken out
/// again.
pub(super) fn squares_about(values: &[f64], mean: f64) -> f64 {
    let squares = sum(values.iter().map(|value| (value - mean).powi(2)));
    let off = sum(values.iter().map(|value| value - mean));
    (squares - off * off / values.len().max(1) as f64).max(0.0)
}
