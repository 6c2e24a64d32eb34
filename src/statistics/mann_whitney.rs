//! The test of Mann and Whitney (H. B. Mann and D. R. Whitney, Ann. Math. Stat. 18 (1947) 50) and the shift
//! that belongs to it (J. L. Hodges and E. L. Lehmann, Ann. Math. Stat. 34 (1963) 598).

use super::distribution::{normal_quantile, normal_upper};
use super::observations::sorted;
use super::quantile::median;
use super::rank::Ranks;

/// The statistic and its significance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MannWhitney {
    /// How often a value of the first sample exceeds one of the second; a tie counts as a half.
    pub u: f64,
    /// Two-sided: twice the smaller tail, 1 at most.
    pub p: f64,
    /// True if every way to deal the values out was counted, ties as they are; false for the normal
    /// approximation with corrections for ties and continuity.
    pub exact: bool,
}

/// How far the first sample lies above the second.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shift {
    /// The median of all differences between a value of the first and one of the second.
    pub estimate: f64,
    /// Limits at the confidence asked for or more; `None` where so few values can't give any.
    pub interval: Option<[f64; 2]>,
}

/// With so many values in all, or fewer, the test is exact.
pub const MANN_WHITNEY_EXACT_MOST: usize = 50;

/// The test; `None` if a sample is empty.
pub fn mann_whitney(first: &[f64], second: &[f64]) -> Option<MannWhitney> {
    if first.is_empty() || second.is_empty() {
        return None;
    }
    if MANN_WHITNEY_EXACT_MOST < first.len() + second.len() {
        return mann_whitney_approximate(first, second);
    }
    let ranks = Ranks::of(&[first, second]);
    let rank_sum = ranks.sums()[0];
    let all: Vec<u64> = ranks.doubled.concat();
    let ways = ways(&all, first.len());
    let (low, high) = (tail(&ways[..=rank_sum as usize]), tail(&ways[rank_sum as usize..]));
    let p = (2.0 * low.min(high) / tail(&ways)).min(1.0);
    Some(MannWhitney { u: u_of(rank_sum, first.len()), p, exact: true })
}

/// The normal approximation with corrections for ties and continuity; `None` if a sample is empty or all values
/// are equal.
pub fn mann_whitney_approximate(first: &[f64], second: &[f64]) -> Option<MannWhitney> {
    let ranks = Ranks::of(&[first, second]);
    let (n1, n2) = (first.len() as f64, second.len() as f64);
    let variance = n1 * n2 * (n1 + n2 + 1.0) / 12.0 * ranks.tie_correction();
    if n1 * n2 == 0.0 || variance.is_nan() || variance <= 0.0 {
        return None;
    }
    let u = u_of(ranks.sums()[0], first.len());
    let z = ((u - n1 * n2 / 2.0).abs() - 0.5) / variance.sqrt();
    Some(MannWhitney { u, p: (2.0 * normal_upper(z)).min(1.0), exact: false })
}

/// The shift with limits at a confidence (0 to 1), from the distribution of U without ties: with ties the limits
/// are wider than they need be. `None` if a sample is empty.
pub fn shift(first: &[f64], second: &[f64], confidence: f64) -> Option<Shift> {
    let differences = first.iter().flat_map(|a| second.iter().map(move |b| a - b));
    let differences = sorted(&differences.collect::<Vec<_>>());
    if differences.is_empty() {
        return None;
    }
    let outside = outside(first.len(), second.len(), (1.0 - confidence) / 2.0);
    let interval =
        outside.map(|outside| [differences[outside - 1], differences[differences.len() - outside]]);
    Some(Shift { estimate: median(&differences), interval })
}

/// The greatest place from 1 such that U is below it with probability `tail` at most; `None` if there is none.
fn outside(n1: usize, n2: usize, tail: f64) -> Option<usize> {
    let place = if n1 + n2 <= MANN_WHITNEY_EXACT_MOST {
        let ranks: Vec<u64> = (1..=(n1 + n2) as u64).collect();
        let ways = ways(&ranks, n1);
        let least = n1 * (n1 + 1) / 2;
        let all: f64 = ways.iter().sum();
        let below = ways[least..].iter().scan(0.0, |sum, ways| {
            *sum += ways;
            Some(*sum)
        });
        below.take_while(|below| *below <= tail * all).count()
    } else {
        let (a, b) = (n1 as f64, n2 as f64);
        let sd = (a * b * (a + b + 1.0) / 12.0).sqrt();
        (a * b / 2.0 + normal_quantile(tail) * sd).floor().max(0.0) as usize
    };
    (0 < place && place <= n1 * n2 / 2 + 1).then_some(place)
}

fn u_of(doubled_rank_sum: u64, n: usize) -> f64 {
    doubled_rank_sum as f64 / 2.0 - (n * (n + 1)) as f64 / 2.0
}

fn tail(ways: &[f64]) -> f64 {
    ways.iter().sum()
}

/// In how many ways `size` of the numbers add up to each sum, from 0 on. The counts of 50 numbers or fewer are
/// whole numbers that a double holds exactly.
fn ways(numbers: &[u64], size: usize) -> Vec<f64> {
    let most = numbers.iter().sum::<u64>() as usize;
    let mut ways = vec![vec![0.0; most + 1]; size + 1];
    ways[0][0] = 1.0;
    for (seen, &number) in numbers.iter().enumerate() {
        for taken in (1..=size.min(seen + 1)).rev() {
            for sum in (number as usize..=most).rev() {
                ways[taken][sum] += ways[taken - 1][sum - number as usize];
            }
        }
    }
    ways.pop().unwrap_or_default()
}
