//! The order in which cells are built: random, from a seed that is recorded, in blocks when asked.
//!
//! Cells that are built one after the other share a hand that tires, a bottle that stands open, a day's
//! humidity. Drawn at random, none of this goes with one electrolyte; in blocks, each day or operator has
//! its share of all of them.

use crate::statistics::random::Chance;

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
/// The draw is that of [`Chance`], so that a seed gives the same order on any machine. No blocks count as one.
pub fn build_order(sets: usize, cells: usize, blocks: usize, seed: u64) -> Vec<Place> {
    let blocks = blocks.max(1);
    let mut random = Chance::of_seed(seed);
    let mut in_blocks: Vec<Vec<Place>> = vec![Vec::new(); blocks];
    let mut next_block = 0;
    for set in 0..sets {
        let mut drawn: Vec<usize> = (0..cells).collect();
        random.shuffle(&mut drawn);
        for cell in drawn {
            // Going on from block to block across sets, the blocks stay equal to within one cell too.
            let block = next_block % blocks;
            in_blocks[block].push(Place { set, cell, block });
            next_block += 1;
        }
    }
    in_blocks.iter_mut().for_each(|block| random.shuffle(block));
    in_blocks.into_iter().flatten().collect()
}

/// The place of one cell of a set whose cells are shared between several parts, such as batches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Share {
    /// Which set, from 0.
    pub set: usize,
    /// Which part of the set, from 0.
    pub part: usize,
    /// Which block, from 0.
    pub block: usize,
}

/// Sets of equal size in building order: each block holds `per_block` cells of every set, in random order. `parts`
/// says of how many parts each set is; they take turns, so that each has its share of every block and of the whole,
/// to within one cell, and it is random which of them comes short where. Which set comes when does not depend on
/// the parts. The draw is that of [`build_order`].
pub fn spread_order(parts: &[usize], per_block: usize, blocks: usize, seed: u64) -> Vec<Share> {
    let mut random = Chance::of_seed(seed);
    let mut order = Vec::with_capacity(parts.len() * per_block * blocks);
    for block in 0..blocks {
        let mut sets: Vec<usize> = (0..parts.len() * per_block).map(|cell| cell % parts.len()).collect();
        random.shuffle(&mut sets);
        order.extend(sets.into_iter().map(|set| Share { set, part: 0, block }));
    }
    for (set, &count) in parts.iter().enumerate() {
        let mut turns = turns(&mut random, count.max(1), per_block, blocks);
        for place in order.iter_mut().filter(|place| place.set == set) {
            place.part = turns[place.block].pop().unwrap_or_default();
        }
    }
    order
}

/// Whose turn it is in each block: around and around, the parts in a random order, the blocks in a random order, and
/// each block's turns in a random order again.
fn turns(random: &mut Chance, count: usize, per_block: usize, blocks: usize) -> Vec<Vec<usize>> {
    let mut parts: Vec<usize> = (0..count).collect();
    random.shuffle(&mut parts);
    let mut dealt: Vec<Vec<usize>> = (0..blocks)
        .map(|block| (0..per_block).map(|cell| parts[(block * per_block + cell) % count]).collect())
        .collect();
    random.shuffle(&mut dealt);
    dealt.iter_mut().for_each(|block| random.shuffle(block));
    dealt
}
