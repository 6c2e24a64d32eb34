//! Runs into blocks, so that what differs between blocks does not look like an effect of the composition.
//!
//! Blocks are orthogonal to a model if the mean of each of its terms is the same in every block; then the coefficients
//! are those of the runs without blocks (A. K. Nigam, J. R. Stat. Soc. B 32 (1970) 16; P. W. M. John, SIAM J. Algebr.
//! Discrete Methods 5 (1984) 213).

use crate::statistics::random::Chance;

/// Random starts of the search.
const STARTS: usize = 20;
/// Passes over all pairs of runs.
const MOST_PASSES: usize = 100;
/// Means of terms that differ by less are equal.
const EQUAL: f64 = 1e-9;

/// Which block each run is in, and how well that went.
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// The block of each run, from 0.
    pub block: Vec<usize>,
    /// The places of the terms whose means differ between blocks; none if blocks are orthogonal to the model.
    pub off: Vec<usize>,
}

/// Shares runs, each a row of the model, over blocks of equal size to within one, the means of all terms as equal as
/// a search from random starts finds them. No blocks count as one.
pub fn balance(rows: &[Vec<f64>], blocks: usize, chance: &mut Chance) -> Balance {
    let blocks = blocks.clamp(1, rows.len().max(1));
    let mut best: Option<(f64, Vec<usize>)> = None;
    for start in 0..STARTS {
        let mut order: Vec<usize> = (0..rows.len()).collect();
        if 0 < start {
            chance.shuffle(&mut order);
        }
        // Repeats of one setting stand side by side, so that the first start deals them over the blocks.
        order.sort_by(|one, other| compare(&rows[*one], &rows[*other]));
        let mut block = vec![0; rows.len()];
        order.iter().enumerate().for_each(|(at, run)| block[*run] = at % blocks);
        if 0 < start {
            chance.shuffle(&mut block);
        }
        let spread = improve(rows, blocks, &mut block);
        if best.as_ref().is_none_or(|(known, _)| spread < known * (1.0 - EQUAL)) {
            best = Some((spread, block));
        }
        if best.as_ref().is_some_and(|(spread, _)| *spread < EQUAL * EQUAL) {
            break;
        }
    }
    let block = best.map(|(_, block)| block).unwrap_or_default();
    let terms = rows.first().map_or(0, Vec::len);
    let off = (0..terms).filter(|term| EQUAL < offset(rows, &block, blocks, *term)).collect();
    Balance { block, off }
}

fn compare(one: &[f64], other: &[f64]) -> std::cmp::Ordering {
    let differing = one.iter().zip(other).map(|(one, other)| one.total_cmp(other));
    differing.into_iter().find(|order| order.is_ne()).unwrap_or(std::cmp::Ordering::Equal)
}

/// Exchanges runs between blocks while that brings the means together; how far they are apart at the end.
fn improve(rows: &[Vec<f64>], blocks: usize, block: &mut [usize]) -> f64 {
    let mut sums = Sums::of(rows, blocks, block);
    for _ in 0..MOST_PASSES {
        let mut changed = false;
        for one in 0..rows.len() {
            for other in one + 1..rows.len() {
                if block[one] != block[other] && sums.gains(rows, block, one, other) {
                    sums.exchange(rows, block, one, other);
                    changed = true;
                }
            }
        }
        if !changed {
            break;
        }
    }
    (0..blocks).map(|own| sums.spread(own)).sum()
}

/// The sum of each term in each block, less what the block would have at the mean of all runs.
struct Sums {
    sums: Vec<Vec<f64>>,
    count: Vec<f64>,
}

impl Sums {
    fn of(rows: &[Vec<f64>], blocks: usize, block: &[usize]) -> Self {
        let terms = rows.first().map_or(0, Vec::len);
        let mean: Vec<f64> = (0..terms)
            .map(|term| rows.iter().map(|row| row[term]).sum::<f64>() / rows.len() as f64)
            .collect();
        let mut own = Self { sums: vec![vec![0.0; terms]; blocks], count: vec![0.0; blocks] };
        for (row, block) in rows.iter().zip(block) {
            own.count[*block] += 1.0;
            own.sums[*block]
                .iter_mut()
                .zip(row)
                .zip(&mean)
                .for_each(|((sum, value), mean)| *sum += value - mean);
        }
        own
    }

    /// Σ (mean − mean of all)² over the terms of a block.
    fn spread(&self, block: usize) -> f64 {
        self.sums[block].iter().map(|sum| (sum / self.count[block]).powi(2)).sum()
    }

    fn gains(&self, rows: &[Vec<f64>], block: &[usize], one: usize, other: usize) -> bool {
        let (a, b) = (block[one], block[other]);
        let after = |own: usize, sign: f64| -> f64 {
            let moved = rows[other].iter().zip(&rows[one]).map(|(other, one)| sign * (other - one));
            self.sums[own]
                .iter()
                .zip(moved)
                .map(|(sum, moved)| ((sum + moved) / self.count[own]).powi(2))
                .sum()
        };
        let before = self.spread(a) + self.spread(b);
        after(a, 1.0) + after(b, -1.0) < before * (1.0 - EQUAL) - EQUAL * EQUAL
    }

    fn exchange(&mut self, rows: &[Vec<f64>], block: &mut [usize], one: usize, other: usize) {
        let (a, b) = (block[one], block[other]);
        for (term, (from, to)) in rows[one].iter().zip(&rows[other]).enumerate() {
            let moved = to - from;
            self.sums[a][term] += moved;
            self.sums[b][term] -= moved;
        }
        block.swap(one, other);
    }
}

/// How far the means of a term are apart between blocks.
fn offset(rows: &[Vec<f64>], block: &[usize], blocks: usize, term: usize) -> f64 {
    let mean = |own: usize| {
        let values = rows.iter().zip(block).filter(|(_, block)| **block == own).map(|(row, _)| row[term]);
        let (sum, count) = values.fold((0.0, 0.0), |(sum, count), value| (sum + value, count + 1.0));
        sum / count
    };
    let means: Vec<f64> = (0..blocks).map(mean).collect();
    let most = means.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    most - means.iter().copied().fold(f64::INFINITY, f64::min)
}
