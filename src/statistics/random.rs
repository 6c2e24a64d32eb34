//! Chance from a recorded seed: the same seed gives the same draws on any machine.

use rand_chacha::ChaCha20Rng;
use rand_chacha::rand_core::{Rng as _, SeedableRng as _};

/// A stream of draws: ChaCha20 with the seed of `seed_from_u64`.
#[derive(Debug, Clone)]
pub struct Chance(ChaCha20Rng);

impl Chance {
    /// The stream of a seed.
    pub fn of_seed(seed: u64) -> Self {
        Self(ChaCha20Rng::seed_from_u64(seed))
    }

    /// A whole number from 0 to below `bound`, each as likely: draws above the last full multiple are thrown away.
    /// 0 for a bound of 0.
    pub fn below(&mut self, bound: usize) -> usize {
        let bound = bound.max(1) as u64;
        let limit = u64::MAX - u64::MAX % bound;
        loop {
            let draw = self.0.next_u64();
            if draw < limit {
                // Below `bound`, which came from a usize.
                return (draw % bound) as usize;
            }
        }
    }

    /// Puts things into an order, every order as likely as any other: the shuffle of Fisher and Yates (Knuth, The
    /// Art of Computer Programming, volume 2, algorithm 3.4.2 P).
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }
}
