//! The build list of a study: which electrolyte is filled when.

use super::Planned;
use crate::record::build_order::{Share, spread_order};

/// One cell of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ListedCell {
    /// Its place in the order, from 1.
    pub position: u32,
    /// The place of its electrolyte.
    pub electrolyte: usize,
    /// Which of the electrolyte's batches, from 0.
    pub batch: usize,
    /// The place of its block.
    pub block: usize,
}

/// The list, drawn from the study's seed. `batches` says how many batches of each electrolyte there are, where that
/// is known; 0 counts as 1. The electrolytes' places do not depend on it.
pub fn build_list(planned: &Planned, batches: &[usize]) -> Vec<ListedCell> {
    let batches: Vec<usize> =
        (0..planned.electrolytes.len()).map(|at| batches.get(at).map_or(1, |&count| count.max(1))).collect();
    let order = spread_order(&batches, planned.per_block(), planned.blocks.len(), planned.seed);
    let listed = |(position, Share { set, part, block }): (u32, Share)| ListedCell {
        position,
        electrolyte: set,
        batch: part,
        block,
    };
    (1..).zip(order).map(listed).collect()
}
