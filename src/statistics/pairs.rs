//! Every pair of several groups, taken together.

use super::anova::Anova;
use super::distribution::{Dunnett, Sides, StudentizedRange};
use super::moments::Moments;
use super::t_test::welch;

/// The difference of two of several means, with limits and significance that hold for all of them together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairTest {
    /// Place of the first group.
    pub first: usize,
    /// Place of the second group.
    pub second: usize,
    /// First mean less second.
    pub difference: f64,
    /// The difference in units of its spread: q of the studentized range, or t against a baseline.
    pub statistic: f64,
    /// Degrees of freedom.
    pub df: f64,
    /// Significance, adjusted for all pairs.
    pub p_adjusted: f64,
    /// Limits at the confidence asked for, of all pairs together.
    pub interval: [f64; 2],
}

/// Every pair of places, each once, in order.
pub fn pairs(groups: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..groups).flat_map(move |first| (first + 1..groups).map(move |second| (first, second)))
}

/// Tukey's comparison of all pairs, for groups of different numbers by C. Y. Kramer (Biometrics 12 (1956) 307); one
/// variance for all. `None` as for [`Anova::test`].
pub fn tukey_kramer(groups: &[&[f64]], confidence: f64) -> Option<Vec<PairTest>> {
    let anova = Anova::of(groups).filter(|anova| 0.0 < anova.ss_within)?;
    let moments: Vec<Moments> = groups.iter().map(|group| Moments::of(group)).collect();
    let range = StudentizedRange::of(groups.len());
    let reach = range.quantile(confidence, anova.df_within);
    let test = |(first, second): (usize, usize)| {
        let (a, b) = (&moments[first], &moments[second]);
        let spread = (anova.ms_within() / 2.0 * (1.0 / a.n as f64 + 1.0 / b.n as f64)).sqrt();
        ranged((first, second), a.mean - b.mean, spread, anova.df_within, &range, reach)
    };
    Some(pairs(groups.len()).map(test).collect())
}

/// The comparison of all pairs where variances may differ (P. A. Games and J. F. Howell, J. Educ. Stat. 1 (1976) 113).
/// `None` if a group has fewer than two values, or both of a pair have no spread.
pub fn games_howell(groups: &[Moments], confidence: f64) -> Option<Vec<PairTest>> {
    let range = StudentizedRange::of(groups.len());
    let test = |(first, second): (usize, usize)| {
        let welch = welch(&groups[first], &groups[second])?;
        let spread = welch.standard_error / std::f64::consts::SQRT_2;
        let reach = range.quantile(confidence, welch.df);
        Some(ranged((first, second), welch.difference, spread, welch.df, &range, reach))
    };
    pairs(groups.len()).map(test).collect()
}

fn ranged(
    (first, second): (usize, usize),
    difference: f64,
    spread: f64,
    df: f64,
    range: &StudentizedRange,
    reach: f64,
) -> PairTest {
    let statistic = difference.abs() / spread;
    let p_adjusted = range.upper(statistic, df).clamp(0.0, 1.0);
    let interval = [difference - reach * spread, difference + reach * spread];
    PairTest { first, second, difference, statistic, df, p_adjusted, interval }
}

/// Dunnett's comparison of all others with the group at the place `baseline`, two-sided, one variance for all
/// (C. W. Dunnett, J. Am. Stat. Assoc. 50 (1955) 1096). Each difference is other less baseline. `None` as for
/// [`Anova::test`], or if there is no such place.
pub fn dunnett(groups: &[&[f64]], baseline: usize, confidence: f64) -> Option<Vec<PairTest>> {
    let anova = Anova::of(groups).filter(|anova| 0.0 < anova.ss_within)?;
    let base = Moments::of(groups.get(baseline)?);
    let others: Vec<(usize, Moments)> = (0..groups.len())
        .filter(|&place| place != baseline)
        .map(|place| (place, Moments::of(groups[place])))
        .collect();
    let share = |n: usize| (n as f64 / (n + base.n) as f64).sqrt();
    let correlations: Vec<f64> = others.iter().map(|(_, other)| share(other.n)).collect();
    let greatest = Dunnett::of(&correlations, Sides::Two);
    let reach = greatest.quantile(confidence, anova.df_within);
    let test = |&(first, other): &(usize, Moments)| {
        let spread = (anova.ms_within() * (1.0 / other.n as f64 + 1.0 / base.n as f64)).sqrt();
        let difference = other.mean - base.mean;
        let statistic = difference / spread;
        let p = greatest.upper(statistic.abs(), anova.df_within);
        PairTest {
            first,
            second: baseline,
            difference,
            statistic,
            df: anova.df_within,
            p_adjusted: p.clamp(0.0, 1.0),
            interval: [difference - reach * spread, difference + reach * spread],
        }
    };
    Some(others.iter().map(test).collect())
}
