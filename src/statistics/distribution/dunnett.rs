//! Dunnett's distribution: several electrolytes against one baseline.

use std::rc::Rc;

use super::common::{normal_cdf, normal_density, student_t_quantile};
use super::scale::{Course, OverScale};
use crate::statistics::root;

/// Where the normal density is negligible.
const FAR: f64 = 8.6;

/// Whether differences count in both directions or in one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// The greatest absolute difference.
    Two,
    /// The greatest difference upward.
    One,
}

/// The greatest of the t statistics of several groups against one common baseline, with a common estimate of the
/// spread. What is found out for one probability serves the next.
///
/// The statistics share the baseline's mean: with that given they are independent, so the probability that none
/// exceeds t is ∫ φ(z) Π [Φ((λz + ts)/√(1 − λ²)) − Φ((λz − ts)/√(1 − λ²))] dz, averaged over the estimate s of
/// the spread (C. W. Dunnett, J. Am. Stat. Assoc. 50 (1955) 1096, for product correlations). Trapezoidal rule in
/// both.
pub struct Dunnett {
    sides: Sides,
    /// How many groups are compared with the baseline; `None` where their correlations are no such.
    others: Option<usize>,
    inside: OverScale<Box<dyn Fn(f64) -> f64>>,
    outside: OverScale<Box<dyn Fn(f64) -> f64>>,
}

impl Dunnett {
    /// `correlations` has λ of each group: √(n / (n + n₀)) for a group of n and a baseline of n₀, each from 0 to
    /// below 1. Every answer is NaN for others, or for none.
    pub fn of(correlations: &[f64], sides: Sides) -> Self {
        let shared: Rc<[f64]> = correlations.into();
        let lambdas = Rc::clone(&shared);
        let inside = move |limit: f64| {
            let each = |given: &Given| each(&lambdas, given, sides).into_iter();
            over_baseline(limit, &lambdas, |given| {
                each(given).map(|(outside, count)| (1.0 - outside).powf(count)).product()
            })
        };
        let outside = move |limit: f64| {
            over_baseline(limit, &shared, |given| {
                let inside = each(&shared, given, sides).into_iter();
                let log: f64 = inside.map(|(outside, count)| count * (-outside).ln_1p()).sum();
                -log.exp_m1()
            })
        };
        Self {
            sides,
            others: defined(correlations).then_some(correlations.len()),
            inside: OverScale::of(Box::new(inside)),
            outside: OverScale::of(Box::new(outside)),
        }
    }

    /// Probability that none exceeds `t`, with `df` degrees of freedom of the estimate, which may be infinite.
    pub fn cdf(&self, t: f64, df: f64) -> f64 {
        if t.is_nan() || self.others.is_none() {
            return f64::NAN;
        }
        self.inside.mean(t, df, if t < 0.0 { Course::Falls { tail: 0.0 } } else { Course::Rises })
    }

    /// Probability that at least one of them exceeds `t`, by its own integral.
    pub fn upper(&self, t: f64, df: f64) -> f64 {
        if t.is_nan() || self.others.is_none() {
            return f64::NAN;
        }
        self.outside.mean(t, df, if 0.0 < t { Course::Falls { tail: t * t } } else { Course::Rises })
    }

    /// The value that the greatest exceeds with the probability 1 − `p`.
    pub fn quantile(&self, p: f64, df: f64) -> f64 {
        let possible = 0.0 < p && p < 1.0 && 0.0 < df;
        let Some(others) = self.others.filter(|_| possible) else {
            return f64::NAN;
        };
        let (share, low) = match self.sides {
            Sides::Two => ((1.0 - p) / (2 * others) as f64, 0.0),
            Sides::One => ((1.0 - p) / others as f64, f64::NEG_INFINITY),
        };
        let excess = |t: f64| {
            if p <= 0.5 { (self.cdf(t, df) / p).ln() } else { ((1.0 - p) / self.upper(t, df)).ln() }
        };
        root::of_increasing(excess, low, f64::INFINITY, student_t_quantile(1.0 - share, df))
    }
}

fn defined(correlations: &[f64]) -> bool {
    !correlations.is_empty() && correlations.iter().all(|lambda| (0.0..1.0).contains(lambda))
}

/// The baseline's standardised mean and the limit on the scale of the true spread.
struct Given {
    z: f64,
    limit: f64,
}

/// The probability of each group to exceed the limit, with the number of neighbours that share it: groups are
/// mostly of one size, and need it once.
fn each(correlations: &[f64], given: &Given, sides: Sides) -> Vec<(f64, f64)> {
    let alike = correlations.chunk_by(|one, next| one == next);
    alike.map(|chunk| (outside(chunk[0], given, sides), chunk.len() as f64)).collect()
}

/// Probability that one group exceeds the limit, the baseline's mean given.
fn outside(lambda: f64, given: &Given, sides: Sides) -> f64 {
    let scale = (1.0 - lambda * lambda).sqrt();
    let above = normal_cdf((lambda * given.z - given.limit) / scale);
    match sides {
        Sides::One => above,
        Sides::Two if given.limit <= 0.0 => 1.0,
        Sides::Two => above + normal_cdf((-lambda * given.z - given.limit) / scale),
    }
}

/// ∫ φ(z) function(z, limit) dz.
fn over_baseline(limit: f64, correlations: &[f64], function: impl Fn(&Given) -> f64) -> f64 {
    let sharpness: f64 = correlations.iter().map(|lambda| lambda * lambda / (1.0 - lambda * lambda)).sum();
    let step = 0.8 / (1.0 + sharpness).sqrt();
    let end = FAR + limit.abs();
    let (mut z, mut sum) = (-end, 0.0);
    while z < end {
        sum += normal_density(z) * function(&Given { z, limit });
        z += step;
    }
    sum * step
}
