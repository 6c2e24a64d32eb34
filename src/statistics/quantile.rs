//! Quantiles, medians and the median absolute deviation.

use std::fmt;

use super::observations::sorted;

/// How a quantile between two values is found: the definitions of R. J. Hyndman and Y. Fan, Am. Stat. 50
/// (1996) 361, by their numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum QuantileRule {
    /// Place (n + 1) p: the common one in older textbooks.
    Type6,
    /// Place (n − 1) p + 1: that of most spreadsheets.
    #[default]
    Type7,
    /// Place (n + 1/3) p + 1/3: about unbiased for the median of any distribution.
    Type8,
}

impl QuantileRule {
    /// Hyndman and Fan's number.
    pub fn number(self) -> u8 {
        match self {
            Self::Type6 => 6,
            Self::Type7 => 7,
            Self::Type8 => 8,
        }
    }

    /// The rule of a number.
    pub fn of_number(number: u8) -> Option<Self> {
        [Self::Type6, Self::Type7, Self::Type8].into_iter().find(|rule| rule.number() == number)
    }

    /// The place from 1 of the quantile `p` among `n` sorted values.
    fn place(self, n: f64, p: f64) -> f64 {
        match self {
            Self::Type6 => (n + 1.0) * p,
            Self::Type7 => (n - 1.0) * p + 1.0,
            Self::Type8 => (n + 1.0 / 3.0) * p + 1.0 / 3.0,
        }
    }
}

impl fmt::Display for QuantileRule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "type {}", self.number())
    }
}

/// The quantile `p` (0 to 1) of sorted values; NaN for none.
pub fn quantile(sorted: &[f64], p: f64, rule: QuantileRule) -> f64 {
    let (Some(&least), Some(&greatest)) = (sorted.first(), sorted.last()) else { return f64::NAN };
    let place = rule.place(sorted.len() as f64, p) - 1.0;
    if place <= 0.0 {
        return least;
    }
    // A place is between 0 and the number of values here.
    let below = place as usize;
    let Some(&above) = sorted.get(below + 1) else { return greatest };
    sorted[below] + (above - sorted[below]) * (place - below as f64)
}

/// The median of sorted values; NaN for none.
pub fn median(sorted: &[f64]) -> f64 {
    match sorted.len() {
        0 => f64::NAN,
        n if n % 2 == 1 => sorted[n / 2],
        n => sorted[n / 2 - 1] + (sorted[n / 2] - sorted[n / 2 - 1]) / 2.0,
    }
}

/// The median of the distances from the median; NaN for no values. Times [`MAD_TO_SD`] it estimates the
/// standard deviation of a normal distribution.
pub fn median_absolute_deviation(values: &[f64]) -> f64 {
    let middle = median(&sorted(values));
    let distances: Vec<f64> = values.iter().map(|value| (value - middle).abs()).collect();
    median(&sorted(&distances))
}

/// 1/Φ⁻¹(3/4).
pub const MAD_TO_SD: f64 = 1.482_602_218_505_602;
