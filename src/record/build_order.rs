//! The order in which cells are built: random, from a seed that is recorded, in blocks when asked.
//!
//! Cells that are built one after the other share a hand that tires, a bottle that stands open, a day's
//! humidity. Drawn at random, none of this goes with one electrolyte; in blocks, each day or operator has
//! its share of all of them.

use rand_chacha::ChaCha20Rng;
use rand_chacha::rand_core::{Rng as _, SeedableRng as _};

/// The place of one cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Which set, from 0.
    pub set: usize,
    /// Which cell of the set, from 0.
    pub cell: usize,
    /// Which block, from 0.
    pub block: usize,
}

/// The cells of several sets in building order. Block by block; in each, every set has its share, to within
/// one cell.
///
/// The draw is that of ChaCha20 with the seed of `seed_from_u64` and the shuffle of Fisher and Yates (Knuth,
/// The Art of Computer Programming, volume 2, algorithm 3.4.2 P), so that a seed gives the same order on any
/// machine. No blocks count as one.
pub fn build_order(sets: usize, cells: usize, blocks: usize, seed: u64) -> Vec<Place> {
    let blocks = blocks.max(1);
    let mut random = ChaCha20Rng::seed_from_u64(seed);
    let mut in_blocks: Vec<Vec<Place>> = vec![Vec::new(); blocks];
    let mut next_block = 0;
    for set in 0..sets {
        let mut drawn: Vec<usize> = (0..cells).collect();
        shuffle(&mut random, &mut drawn);
        for cell in drawn {
            // Going on from block to block across sets, the blocks stay equal to within one cell too.
            let block = next_block % blocks;
            in_blocks[block].push(Place { set, cell, block });
            next_block += 1;
        }
    }
    in_blocks.iter_mut().for_each(|block| shuffle(&mut random, block));
    in_blocks.into_iter().flatten().collect()
}

/// Every order is as likely as any other.
fn shuffle<T>(random: &mut ChaCha20Rng, items: &mut [T]) {
    for last in (1..items.len()).rev() {
        items.swap(last, below(random, last + 1));
    }
}

/// A whole number from 0 to below `bound`, each as likely: draws above the last full multiple are thrown
/// away.
fn below(random: &mut ChaCha20Rng, bound: usize) -> usize {
    let bound = bound.max(1) as u64;
    let limit = u64::MAX - u64::MAX % bound;
    loop {
        let draw = random.next_u64();
        if draw < limit {
            // Below `bound`, which came from a usize.
            return (draw % bound) as usize;
        }
    }
}
