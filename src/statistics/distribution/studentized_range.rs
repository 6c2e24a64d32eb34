//! The studentized range: Tukey's and Games and Howell's comparisons of several means.

use std::rc::Rc;

use super::common::{normal_cdf, normal_density, student_t_quantile};
use super::scale::{Course, OverScale};
use crate::statistics::root;

/// Where the normal density is negligible.
const FAR: f64 = 8.6;
/// Where it is no double any more.
const UNDERFLOW: f64 = 38.0;

/// The range of a number of standard normal values, divided by an independent estimate of their standard
/// deviation. What is found out for one probability serves the next.
///
/// The mean over that estimate (see `mean_over_scale`) of the probability of a range (H. O. Hartley, Biometrika
/// 32 (1942) 334): k ∫ φ(z) (Φ(z) − Φ(z − w))ᵏ⁻¹ dz, also by the trapezoidal rule, which converges
/// exponentially here too.
pub struct StudentizedRange {
    groups: usize,
    inside: OverScale<Box<dyn Fn(f64) -> f64>>,
    outside: OverScale<Box<dyn Fn(f64) -> f64>>,
}

impl StudentizedRange {
    /// Of `groups` values; with fewer than 2 every answer is NaN.
    pub fn of(groups: usize) -> Self {
        let places: Rc<[Place]> = places(groups).into();
        let m = groups.saturating_sub(1);
        let shared = Rc::clone(&places);
        let inside = move |w: f64| {
            over_range(w, groups, &shared, |inside, below| (inside - below).max(0.0).powi(m as i32))
        };
        let outside = move |w: f64| over_range(w, groups, &places, |a, b| difference_of_powers(m, a, b));
        Self { groups, inside: OverScale::of(Box::new(inside)), outside: OverScale::of(Box::new(outside)) }
    }

    /// Probability that it is at most `q`, with `df` degrees of freedom of the estimate, which may be infinite.
    pub fn cdf(&self, q: f64, df: f64) -> f64 {
        if q.is_nan() || self.groups < 2 {
            return f64::NAN;
        }
        self.inside.mean(q.max(0.0), df, Course::Rises)
    }

    /// Probability of more than `q`, with its own integral: Φᵏ⁻¹ − (Φ(z) − Φ(z − w))ᵏ⁻¹ under the same
    /// weights, so that small probabilities keep their digits.
    pub fn upper(&self, q: f64, df: f64) -> f64 {
        if q.is_nan() || self.groups < 2 {
            return f64::NAN;
        }
        if q <= 0.0 && 0.0 < df {
            return 1.0;
        }
        self.outside.mean(q, df, Course::Falls { tail: q * q / 2.0 })
    }

    /// The value exceeded with the probability 1 − `p`.
    pub fn quantile(&self, p: f64, df: f64) -> f64 {
        if !(0.0 < p && p < 1.0) || self.groups < 2 || df.is_nan() || df <= 0.0 {
            return f64::NAN;
        }
        // Bonferroni's bound for all pairs lies close by.
        let pairs = (self.groups * (self.groups - 1)) as f64;
        let start = std::f64::consts::SQRT_2 * student_t_quantile(1.0 - (1.0 - p) / pairs, df);
        let excess = |q: f64| {
            if p <= 0.5 { (self.cdf(q, df) / p).ln() } else { ((1.0 - p) / self.upper(q, df)).ln() }
        };
        root::of_increasing(excess, 0.0, f64::INFINITY, start.max(1e-3))
    }
}

/// aᵐ − (a − b)ᵐ as b times the sum of aᵐ⁻¹⁻ⁱ (a − b)ⁱ: no digit is lost however small b is.
fn difference_of_powers(m: usize, a: f64, b: f64) -> f64 {
    let (mut sum, mut power) = (0.0, 1.0);
    for _ in 0..m {
        sum = a * sum + power;
        power *= a - b;
    }
    b * sum
}

/// Where the range is integrated.
struct Place {
    z: f64,
    density: f64,
    below: f64,
}

/// Φᵏ⁻¹ sharpens with k.
fn step(groups: usize) -> f64 {
    0.8 / (groups.max(1) as f64).sqrt()
}

fn places(groups: usize) -> Vec<Place> {
    let step = step(groups);
    let all = (0..((FAR + UNDERFLOW) / step) as usize).map(|at| at as f64 * step - FAR);
    all.map(|z| Place { z, density: normal_density(z), below: normal_cdf(z) }).collect()
}

/// k ∫ φ(z) integrand(Φ(z), Φ(z − w)) dz.
fn over_range(w: f64, groups: usize, places: &[Place], integrand: impl Fn(f64, f64) -> f64) -> f64 {
    let counted = places.iter().take_while(|place| place.z < FAR + w / 2.0);
    let term = |place: &Place| place.density * integrand(place.below, normal_cdf(place.z - w));
    groups as f64 * counted.map(term).sum::<f64>() * step(groups)
}
