//! The test of Kruskal and Wallis (W. H. Kruskal and W. A. Wallis, J. Am. Stat. Assoc. 47 (1952) 583), with its
//! correction for ties.

use super::distribution::chi_squared_upper;
use super::rank::Ranks;

/// The statistic and its significance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KruskalWallis {
    /// H, corrected for ties.
    pub h: f64,
    /// Groups less one.
    pub df: f64,
    /// Probability of so large an H where all groups are alike.
    pub p: f64,
    /// True if every way to deal the values out was counted, ties as they are; false for χ².
    pub exact: bool,
}

/// With so many ways to deal the values out, or fewer, the test is exact.
pub const KRUSKAL_WALLIS_EXACT_MOST: f64 = 1e6;

/// The test; `None` for fewer than two groups, an empty one, or if all values are equal.
pub fn kruskal_wallis(groups: &[&[f64]]) -> Option<KruskalWallis> {
    let approximate = kruskal_wallis_approximate(groups)?;
    let sizes: Vec<usize> = groups.iter().map(|group| group.len()).collect();
    if KRUSKAL_WALLIS_EXACT_MOST < deals(&sizes) {
        return Some(approximate);
    }
    let ranks = Ranks::of(groups);
    let weights = weights(&sizes);
    let reached = weighted_squares(&ranks.sums(), &weights);
    let mut count = Count { values: ranks.doubled.concat(), weights, reached, as_far: 0, all: 0 };
    let mut deal = Deal { left: sizes.clone(), sums: vec![0; sizes.len()] };
    count.from(0, &mut deal);
    Some(KruskalWallis { p: count.as_far as f64 / count.all as f64, exact: true, ..approximate })
}

/// The same by χ² with groups less one degrees of freedom, which is rough for few values.
pub fn kruskal_wallis_approximate(groups: &[&[f64]]) -> Option<KruskalWallis> {
    let ranks = Ranks::of(groups);
    let correction = ranks.tie_correction();
    if groups.len() < 2 || groups.iter().any(|group| group.is_empty()) || correction <= 0.0 {
        return None;
    }
    let count = ranks.count() as f64;
    let middle = (count + 1.0) / 2.0;
    let between = ranks.sums().into_iter().zip(groups).map(|(sum, group)| {
        let n = group.len() as f64;
        n * (sum as f64 / 2.0 / n - middle).powi(2)
    });
    let h = 12.0 / (count * (count + 1.0)) * between.sum::<f64>() / correction;
    let df = groups.len() as f64 - 1.0;
    Some(KruskalWallis { h, df, p: chi_squared_upper(h, df), exact: false })
}

/// In how many ways values can be dealt out to groups of these sizes.
fn deals(sizes: &[usize]) -> f64 {
    let mut ways = 1.0;
    let mut seen = 0;
    for size in sizes {
        for place in 1..=*size {
            seen += 1;
            ways *= f64::from(seen) / place as f64;
        }
    }
    ways
}

/// Whole numbers in the proportion of 1/n, so that H can be compared without rounding.
fn weights(sizes: &[usize]) -> Vec<u128> {
    let common =
        sizes.iter().fold(1, |common: u128, &size| common / divisor(common, size as u128) * size as u128);
    sizes.iter().map(|&size| common / size as u128).collect()
}

fn divisor(a: u128, b: u128) -> u128 {
    if b == 0 { a } else { divisor(b, a % b) }
}

/// H grows with this and with nothing else that differs between deals.
fn weighted_squares(sums: &[u64], weights: &[u128]) -> u128 {
    sums.iter().zip(weights).map(|(&sum, weight)| u128::from(sum) * u128::from(sum) * weight).sum()
}

/// How many deals reach as far as the one observed.
struct Count {
    values: Vec<u64>,
    weights: Vec<u128>,
    reached: u128,
    as_far: u64,
    all: u64,
}

/// The values dealt so far: room left and rank sum of each group.
struct Deal {
    left: Vec<usize>,
    sums: Vec<u64>,
}

impl Count {
    fn from(&mut self, at: usize, deal: &mut Deal) {
        let Some(&value) = self.values.get(at) else {
            self.all += 1;
            self.as_far += u64::from(self.reached <= weighted_squares(&deal.sums, &self.weights));
            return;
        };
        for group in 0..deal.left.len() {
            if deal.left[group] == 0 {
                continue;
            }
            deal.left[group] -= 1;
            deal.sums[group] += value;
            self.from(at + 1, deal);
            deal.left[group] += 1;
            deal.sums[group] -= value;
        }
    }
}
