//! Spare cells for those that will leak, short or be spilled.

use statrs::function::beta::checked_beta_reg;

use super::size::least_enough;

/// The probability that at least `needed` of `built` cells survive where each is lost with the probability
/// `loss`: the binomial tail as an incomplete beta function (M. Abramowitz and I. A. Stegun, Handbook of
/// Mathematical Functions, 1964, 26.5.24).
pub fn enough_survive(needed: usize, built: usize, loss: f64) -> f64 {
    if built < needed || !(0.0..=1.0).contains(&loss) {
        return if built < needed { 0.0 } else { f64::NAN };
    }
    if needed == 0 || loss == 0.0 {
        return 1.0;
    }
    checked_beta_reg(needed as f64, (built - needed + 1) as f64, 1.0 - loss).unwrap_or(f64::NAN)
}

/// The least number to build in each of `groups` so that with the probability `sure` every group keeps at
/// least `needed`.
pub fn size_with_spares(needed: usize, groups: usize, loss: f64, sure: f64) -> Option<usize> {
    if !(0.0..1.0).contains(&loss) {
        return None;
    }
    least_enough(needed.max(1), |built| sure <= enough_survive(needed, built, loss).powi(groups as i32))
}
