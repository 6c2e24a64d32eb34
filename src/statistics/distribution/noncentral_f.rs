//! Noncentral F: the power of an analysis of variance.

use statrs::function::beta::checked_beta_reg;
use statrs::function::gamma::ln_gamma;

/// Terms of the sum below this share of it are left out.
const NEGLIGIBLE: f64 = 1e-17;

/// Probability of at most `x` under noncentral F with `df1` and `df2` degrees of freedom and noncentrality
/// `lambda`: a sum of beta probabilities weighted by a Poisson distribution with mean λ/2 (N. L. Johnson,
/// S. Kotz and N. Balakrishnan, Continuous Univariate Distributions 2, 2nd ed. 1995, chapter 30), summed
/// from the greatest weight outward so that no weight underflows.
pub fn noncentral_f_cdf(x: f64, df1: f64, df2: f64, lambda: f64) -> f64 {
    weighted(x, df1, df2, lambda, |a, b, share, _| checked_beta_reg(a, b, share).unwrap_or(f64::NAN))
}

/// Probability of more than `x`.
pub fn noncentral_f_upper(x: f64, df1: f64, df2: f64, lambda: f64) -> f64 {
    weighted(x, df1, df2, lambda, |a, b, _, rest| checked_beta_reg(b, a, rest).unwrap_or(f64::NAN))
}

/// The Poisson-weighted sum of `beta(a, b, share, 1 − share)` with the share df1·x / (df1·x + df2).
fn weighted(x: f64, df1: f64, df2: f64, lambda: f64, beta: impl Fn(f64, f64, f64, f64) -> f64) -> f64 {
    if !(0.0 < df1 && 0.0 < df2 && (0.0..f64::INFINITY).contains(&lambda)) || x.is_nan() {
        return f64::NAN;
    }
    let x = x.max(0.0);
    let (share, rest) = (df1 * x / (df1 * x + df2), df2 / (df1 * x + df2));
    let term = |j: f64| poisson(j, lambda / 2.0) * beta(df1 / 2.0 + j, df2 / 2.0, share, rest);
    let mode = (lambda / 2.0).floor();
    let mut sum = 0.0;
    for upward in [true, false] {
        let mut j = if upward { mode } else { mode - 1.0 };
        while 0.0 <= j {
            let value = term(j);
            sum += value;
            // Poisson weights fall at least geometrically once they are this far from their mode.
            let far = 4.0 * (lambda / 2.0).sqrt() + 10.0 < (j - mode).abs();
            if value.is_nan() || (value <= NEGLIGIBLE * sum && far) {
                break;
            }
            j += if upward { 1.0 } else { -1.0 };
        }
    }
    sum
}

/// The probability of `j` events where `mean` are expected.
fn poisson(j: f64, mean: f64) -> f64 {
    if mean == 0.0 {
        return if j == 0.0 { 1.0 } else { 0.0 };
    }
    (j * mean.ln() - mean - ln_gamma(j + 1.0)).exp()
}
