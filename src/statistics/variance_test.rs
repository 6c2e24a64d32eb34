//! Tests on the equality of variances, and intervals for a standard deviation.

use super::anova::{Anova, FTest};
use super::distribution::{chi_squared_quantile, chi_squared_upper, f_cdf, f_quantile, f_upper};
use super::moments::Moments;
use super::observations::sorted;
use super::quantile::median;
use super::sum::sum;
use super::t_test::pooled_variance;

/// A χ² and its significance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChiSquaredTest {
    /// The statistic.
    pub chi_squared: f64,
    /// Degrees of freedom.
    pub df: f64,
    /// Probability of so large a statistic.
    pub p: f64,
}

/// Brown and Forsythe's form of Levene's test, which holds up where values are not normal: an analysis of variance
/// of the distances from each group's median (M. B. Brown and A. B. Forsythe, J. Am. Stat. Assoc. 69 (1974) 364).
/// `None` as for [`Anova::of`], or if all distances within each group are equal, as those of two values always are.
pub fn brown_forsythe(groups: &[&[f64]]) -> Option<FTest> {
    levene_about(groups, |group| median(&sorted(group)))
}

/// Levene's own test, with distances from each group's mean (H. Levene, in Contributions to Probability and
/// Statistics, Stanford 1960, 278). `None` as for [`brown_forsythe`].
pub fn levene(groups: &[&[f64]]) -> Option<FTest> {
    levene_about(groups, |group| Moments::of(group).mean)
}

fn levene_about(groups: &[&[f64]], centre: impl Fn(&[f64]) -> f64) -> Option<FTest> {
    let distances: Vec<Vec<f64>> = groups
        .iter()
        .map(|group| {
            let centre = centre(group);
            group.iter().map(|value| (value - centre).abs()).collect()
        })
        .collect();
    let rounding =
        8.0 * f64::EPSILON * groups.concat().iter().fold(0.0, |most: f64, value| most.max(value.abs()));
    let differ = |group: &Vec<f64>| {
        let (least, greatest) =
            group.iter().fold((f64::INFINITY, 0.0), |(least, most): (f64, f64), &distance| {
                (least.min(distance), most.max(distance))
            });
        rounding < greatest - least
    };
    if !distances.iter().any(differ) {
        return None;
    }
    Anova::of(&distances.iter().map(Vec::as_slice).collect::<Vec<_>>())?.test()
}

/// Bartlett's test, for normal values only (M. S. Bartlett, Proc. R. Soc. A 160 (1937) 268). `None` for fewer than
/// two groups, or if one has fewer than two values or no spread.
pub fn bartlett(groups: &[Moments]) -> Option<ChiSquaredTest> {
    if groups.len() < 2 || groups.iter().any(|group| group.n < 2 || group.variance <= 0.0) {
        return None;
    }
    let pooled = pooled_variance(groups);
    let freedom = sum(groups.iter().map(Moments::df));
    let df = groups.len() as f64 - 1.0;
    let excess = sum(groups.iter().map(|group| group.df() * (pooled / group.variance).ln()));
    let correction = 1.0 + (sum(groups.iter().map(|group| 1.0 / group.df())) - 1.0 / freedom) / (3.0 * df);
    let chi_squared = excess / correction;
    Some(ChiSquaredTest { chi_squared, df, p: chi_squared_upper(chi_squared, df) })
}

/// The two-sided test on the ratio of two variances of normal values. `None` if a sample has fewer than two values or
/// no spread.
pub fn variance_ratio(first: &Moments, second: &Moments) -> Option<FTest> {
    if first.n < 2 || second.n < 2 || first.variance <= 0.0 || second.variance <= 0.0 {
        return None;
    }
    let (f, df1, df2) = (first.variance / second.variance, first.df(), second.df());
    let p = (2.0 * f_upper(f, df1, df2).min(f_cdf(f, df1, df2))).min(1.0);
    Some(FTest { f, df1, df2, p })
}

/// Cochran's C: the share of the greatest variance in the sum of all. `None` as for [`bartlett`].
pub fn cochran_c(groups: &[Moments]) -> Option<f64> {
    let greatest = groups.iter().map(|group| group.variance).fold(f64::NAN, f64::max);
    let all = sum(groups.iter().map(|group| group.variance));
    (1 < groups.len() && 0.0 < all).then_some(greatest / all)
}

/// What Cochran's C of `k` groups of `n` normal values exceeds with probability `alpha` at most.
pub fn cochran_c_critical(k: usize, n: usize, alpha: f64) -> f64 {
    let (k, df) = (k as f64, n as f64 - 1.0);
    1.0 / (1.0 + (k - 1.0) / f_quantile(1.0 - alpha / k, df, (k - 1.0) * df))
}

/// Limits of a standard deviation at a confidence (0 to 1), by χ²; `None` for fewer than two values.
pub fn sd_interval(moments: &Moments, confidence: f64) -> Option<[f64; 2]> {
    let limit = |p: f64| moments.sd() * (moments.df() / chi_squared_quantile(p, moments.df())).sqrt();
    (1 < moments.n).then(|| [limit(0.5 + confidence / 2.0), limit(0.5 - confidence / 2.0)])
}
