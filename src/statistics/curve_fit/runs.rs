//! Runs of residuals of one sign: a curve of the wrong form leaves long ones.

use statrs::function::gamma::ln_gamma;

/// Probability of so few runs or fewer if the signs came in random order (A. Wald and J. Wolfowitz, Ann.
/// Math. Stat. 11 (1940) 147). The residuals in order of x; zeros are left out. NaN without both signs.
pub fn fewer_runs(residuals: &[f64]) -> f64 {
    let signs: Vec<bool> = residuals.iter().filter(|rest| **rest != 0.0).map(|rest| 0.0 < *rest).collect();
    let above = signs.iter().filter(|sign| **sign).count();
    let below = signs.len() - above;
    if above == 0 || below == 0 {
        return f64::NAN;
    }
    let runs = 1 + signs.windows(2).filter(|pair| pair[0] != pair[1]).count();
    let all = ln_choose(above + below, above);
    let ways =
        |pieces: usize, of: usize| if pieces < 1 { f64::NEG_INFINITY } else { ln_choose(of - 1, pieces - 1) };
    let chance = |runs: usize| {
        let half = runs / 2;
        if runs.is_multiple_of(2) {
            2.0 * (ways(half, above) + ways(half, below) - all).exp()
        } else {
            (ways(half, above) + ways(half + 1, below) - all).exp()
                + (ways(half + 1, above) + ways(half, below) - all).exp()
        }
    };
    (2..=runs).map(chance).sum::<f64>().min(1.0)
}

/// ln of the number of ways to choose; −∞ where there is none.
fn ln_choose(of: usize, chosen: usize) -> f64 {
    if of < chosen {
        return f64::NEG_INFINITY;
    }
    let factorial = |n: usize| ln_gamma(n as f64 + 1.0);
    factorial(of) - factorial(chosen) - factorial(of - chosen)
}
