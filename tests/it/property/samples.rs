//! Random samples with a fixed seed, and how often something may happen in so many rounds.

use meltbook::statistics::moments::Moments;
use rand::{Rng, RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Rounds of a simulation: 40 times `MELTBOOK_SOAK`, 2000 without it.
pub fn rounds() -> usize {
    40 * std::env::var("MELTBOOK_SOAK").ok().and_then(|n| n.parse().ok()).unwrap_or(50)
}

/// The same for tests that take a thousand times as long.
pub fn fewer_rounds() -> usize {
    rounds() / 5
}

/// Numbers drawn the same way on every machine.
pub struct Draw(ChaCha8Rng);

impl Draw {
    pub fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A share between 0 and 1.
    pub fn share(&mut self) -> f64 {
        self.0.random()
    }

    /// A standard normal value (G. E. P. Box and M. E. Muller, Ann. Math. Stat. 29 (1958) 610).
    pub fn normal(&mut self) -> f64 {
        let (radius, angle) = (1.0 - self.share(), std::f64::consts::TAU * self.share());
        (-2.0 * radius.ln()).sqrt() * angle.cos()
    }

    /// So many normal values about zero with a standard deviation.
    pub fn sample(&mut self, n: usize, sd: f64) -> Vec<f64> {
        (0..n).map(|_| sd * self.normal()).collect()
    }

    /// The same as number, mean and variance.
    pub fn moments(&mut self, n: usize, sd: f64) -> Moments {
        Moments::of(&self.sample(n, sd))
    }

    /// A whole number below a bound.
    pub fn below(&mut self, bound: u32) -> u32 {
        self.0.next_u32() % bound
    }
}

/// How far a count may be from what is expected: 4 standard deviations of a binomial count, and one more.
pub fn slack(probability: f64, rounds: usize) -> f64 {
    4.0 * (probability * (1.0 - probability) * rounds as f64).sqrt() + 1.0
}

/// Fails unless p-values are uniform.
#[track_caller]
pub fn assert_uniform(what: &str, p: &[f64]) {
    for level in [0.01, 0.05, 0.2, 0.5, 0.8] {
        let (hits, expected) = (hits(p, level), level * p.len() as f64);
        let off = (hits - expected).abs();
        assert!(off <= slack(level, p.len()), "{what}: {hits} of {} at {level}", p.len());
    }
}

/// Fails if p-values are small more often than they say.
#[track_caller]
pub fn assert_not_too_small(what: &str, p: &[f64]) {
    for level in [0.01, 0.05, 0.2, 0.5] {
        let most = level * p.len() as f64 + slack(level, p.len());
        assert!(hits(p, level) <= most, "{what}: {} of {} at {level}", hits(p, level), p.len());
    }
}

/// Fails unless a share of p-values at or below 0.05 lies within a band.
#[track_caller]
pub fn assert_in_band(what: &str, p: &[f64], low: f64, high: f64) {
    let hits = hits(p, 0.05);
    let count = p.len() as f64;
    assert!(
        low * count - slack(low, p.len()) <= hits && hits <= high * count + slack(high, p.len()),
        "{what}: {hits} of {count} at 0.05, not {low} to {high}"
    );
}

/// Fails unless something that holds with a probability held so often.
#[track_caller]
pub fn assert_covers(what: &str, held: usize, rounds: usize, probability: f64) {
    let off = (held as f64 - probability * rounds as f64).abs();
    assert!(off <= slack(probability, rounds), "{what}: {held} of {rounds}");
}

fn hits(p: &[f64], level: f64) -> f64 {
    p.iter().filter(|p| **p <= level * (1.0 + 1e-12)).count() as f64
}
