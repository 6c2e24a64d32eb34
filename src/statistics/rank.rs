//! Ranks with ties.

use super::sum::sum;

/// The ranks of values pooled from groups.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Ranks {
    /// Twice the rank of each value, group by group: with ties a mean of ranks ends in a half.
    pub(super) doubled: Vec<Vec<u64>>,
    /// Sum of t³ − t over the sets of t equal values.
    pub(super) ties: f64,
}

impl Ranks {
    /// Ranks from 1 for the least; equal values share the mean of theirs.
    pub(super) fn of(groups: &[&[f64]]) -> Self {
        let mut pooled: Vec<(f64, usize)> = Vec::new();
        groups.iter().enumerate().for_each(|(at, group)| pooled.extend(group.iter().map(|&x| (x, at))));
        pooled.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut doubled = vec![Vec::new(); groups.len()];
        let (mut start, mut ties) = (0, Vec::new());
        while start < pooled.len() {
            let same = pooled[start..].iter().take_while(|(value, _)| *value == pooled[start].0).count();
            pooled[start..start + same]
                .iter()
                .for_each(|&(_, at)| doubled[at].push((2 * start + same + 1) as u64));
            ties.push((same as f64).powi(3) - same as f64);
            start += same;
        }
        Self { doubled, ties: sum(ties) }
    }

    /// Twice the sum of the ranks of each group.
    pub(super) fn sums(&self) -> Vec<u64> {
        self.doubled.iter().map(|group| group.iter().sum()).collect()
    }

    /// How many values there are.
    pub(super) fn count(&self) -> usize {
        self.doubled.iter().map(Vec::len).sum()
    }

    /// What the variance of rank sums shrinks by because of ties; 0 if all values are equal.
    pub(super) fn tie_correction(&self) -> f64 {
        let count = self.count() as f64;
        1.0 - self.ties / (count.powi(3) - count)
    }
}
