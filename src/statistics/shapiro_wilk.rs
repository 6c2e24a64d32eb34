//! The test of Shapiro and Wilk for normality.
//!
//! S. S. Shapiro and M. B. Wilk, Biometrika 52 (1965) 591; coefficients and significance by P. Royston,
//! Statistics and Computing 2 (1992) 117 and Applied Statistics 44 (1995) 547 (remark AS R94).

use statrs::function::evaluate::polynomial;

use super::distribution::{normal_quantile, normal_upper};
use super::moments::squares_about;
use super::observations::sorted;
use super::sum::sum;

/// The statistic and its significance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShapiroWilk {
    /// 1 for a sample that lies on a straight normal plot, less for others.
    pub w: f64,
    /// Probability of so small a W from a normal distribution.
    pub p: f64,
}

/// Royston's approximation was made for this many values at most.
pub const SHAPIRO_WILK_MOST: usize = 5000;

/// The test; `None` for fewer than 3 values, more than [`SHAPIRO_WILK_MOST`], or no spread.
pub fn shapiro_wilk(values: &[f64]) -> Option<ShapiroWilk> {
    let n = values.len();
    if !(3..=SHAPIRO_WILK_MOST).contains(&n) {
        return None;
    }
    let sorted = sorted(values);
    if sorted.first() == sorted.last() {
        return None;
    }
    // Relative to the middle, so that constant leading digits cost nothing.
    let centre = sorted[n / 2];
    let centred: Vec<f64> = sorted.iter().map(|value| value - centre).collect();
    let mean = sum(centred.iter().copied()) / n as f64;
    let squares = squares_about(&centred, mean);
    let weights = weights(n);
    let (low, high) = (&centred[..n / 2], &centred[n - n / 2..]);
    // The weights are antisymmetric: only the differences of opposite values count.
    let line = sum(weights.iter().zip(high.iter().rev().zip(low)).map(|(a, (high, low))| a * (high - low)));
    let w = (line * line / squares).min(1.0);
    Some(ShapiroWilk { w, p: significance(w, n) })
}

/// The weights of the greatest value, the second greatest and so on, down to the middle.
fn weights(n: usize) -> Vec<f64> {
    if n == 3 {
        return vec![std::f64::consts::FRAC_1_SQRT_2];
    }
    let count = n as f64;
    let score = |rank: usize| -normal_quantile((rank as f64 - 0.375) / (count + 0.25));
    let scores: Vec<f64> = (1..=n / 2).map(score).collect();
    let squares = 2.0 * sum(scores.iter().map(|score| score * score));
    let small = 1.0 / count.sqrt();
    let first = scores[0] / squares.sqrt()
        + polynomial(small, &[0.0, 0.221157, -0.147981, -2.071190, 4.434685, -2.706056]);
    let (fixed, left) = if n <= 5 {
        (vec![first], squares - 2.0 * scores[0].powi(2))
    } else {
        let second = scores[1] / squares.sqrt()
            + polynomial(small, &[0.0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633]);
        (vec![first, second], squares - 2.0 * (scores[0].powi(2) + scores[1].powi(2)))
    };
    let scale = (left / (1.0 - 2.0 * fixed.iter().map(|weight| weight * weight).sum::<f64>())).sqrt();
    let others = scores[fixed.len()..].iter().map(|score| score / scale);
    fixed.iter().copied().chain(others).collect()
}

fn significance(w: f64, n: usize) -> f64 {
    let count = n as f64;
    if n == 3 {
        // Exact: W is between 3/4 and 1.
        let angle = w.sqrt().asin() - 0.75_f64.sqrt().asin();
        return (6.0 / std::f64::consts::PI * angle).clamp(0.0, 1.0);
    }
    let y = (1.0 - w).ln();
    if n <= 11 {
        let limit = -2.273 + 0.459 * count;
        if limit <= y {
            return 0.0;
        }
        let mean = polynomial(count, &[0.5440, -0.39978, 0.025054, -6.714e-4]);
        let sd = polynomial(count, &[1.3822, -0.77857, 0.062767, -0.0020322]).exp();
        return normal_upper((-(limit - y).ln() - mean) / sd);
    }
    let log = count.ln();
    let mean = polynomial(log, &[-1.5861, -0.31082, -0.083751, 0.0038915]);
    let sd = polynomial(log, &[-0.4803, -0.082676, 0.0030302]).exp();
    normal_upper((y - mean) / sd)
}
