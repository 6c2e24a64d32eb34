//! One question on a number of cells, and all that its answer says.

use super::anova::{anova_detectable_effect, anova_power, anova_size, effect_of_extremes};
use super::interval::{half_width, half_width_size};
use super::loss::{enough_survive, size_with_spares};
use super::spread::{spread_ratio, spread_size};
use super::tolerance::{order_statistic_size, tolerance_size};
use super::two_sample::{Tails, detectable_effect, two_sample_power, two_sample_size};
use crate::statistics::tolerance::two_sided_factor;

/// Points of a curve.
const POINTS: usize = 40;

/// What the cells are wanted for. Sizes of differences and widths are in standard deviations of single cells.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Aim {
    /// To find a true difference of this size between two of the groups.
    Difference(f64),
    /// To find that the groups' true means are not all equal: their effect f.
    Means(f64),
    /// To say what difference a given number finds.
    Detect,
    /// To know a mean to within this half width.
    HalfWidth(f64),
    /// To know a spread so that the true one is at most this factor above the one found.
    Spread(f64),
    /// To say where a share of all further cells lies, with at most this tolerance factor.
    Tolerance(f64),
}

/// A question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question {
    /// What for.
    pub aim: Aim,
    /// How many groups, 1 or more; 2 or more where they are compared.
    pub groups: usize,
    /// The number per group, if it is given and not asked for.
    pub per_group: Option<usize>,
    /// Probability of finding what is there.
    pub power: f64,
    /// Probability of finding what is not there.
    pub alpha: f64,
    /// One- or two-sided; several groups have no direction.
    pub tails: Tails,
    /// Confidence of an interval.
    pub confidence: f64,
    /// Share of all further cells in a tolerance interval.
    pub coverage: f64,
    /// Probability that a cell is lost, if spares are asked for.
    pub loss: Option<f64>,
    /// Probability that no group is left with too few.
    pub sure: f64,
}

/// An answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Enough {
    /// Cells per group that must survive.
    pub per_group: usize,
    /// The power, half width, factor on the spread, or tolerance factor with that number.
    pub reached: f64,
    /// The least difference found with the power asked for, in standard deviations; for comparisons.
    pub detectable: Option<f64>,
    /// Cells per group to build, spares included, and the probability that enough survive in all groups.
    pub build: Option<(usize, f64)>,
    /// Cells for a statement on all further ones that needs no normal distribution.
    pub distribution_free: Option<usize>,
    /// What would be reached with other numbers per group.
    pub curve: Vec<(usize, f64)>,
}

impl Question {
    /// The least number that is enough, or what the given number reaches. `None` if no number up to
    /// [`MOST`](super::MOST) is enough.
    pub fn answer(&self) -> Option<Enough> {
        let per_group = match self.per_group {
            Some(given) => given,
            None => self.least()?,
        };
        let build = match self.loss {
            Some(loss) => {
                let built = size_with_spares(per_group, self.groups, loss, self.sure)?;
                Some((built, enough_survive(per_group, built, loss).powi(self.groups as i32)))
            }
            None => None,
        };
        let tolerance = matches!(self.aim, Aim::Tolerance(_));
        Some(Enough {
            per_group,
            reached: self.reached(per_group),
            detectable: self.detectable(per_group),
            build,
            distribution_free: order_statistic_size(self.coverage, self.confidence, false)
                .filter(|_| tolerance),
            curve: numbers(per_group).into_iter().map(|n| (n, self.reached(n))).collect(),
        })
    }

    /// The least number that reaches the aim.
    fn least(&self) -> Option<usize> {
        match self.aim {
            Aim::Difference(effect) if self.groups == 2 => {
                two_sample_size(effect, self.power, self.alpha, self.tails)
            }
            Aim::Difference(effect) => {
                anova_size(self.groups, effect_of_extremes(effect, self.groups), self.power, self.alpha)
            }
            Aim::Means(f) => anova_size(self.groups, f, self.power, self.alpha),
            Aim::Detect => None,
            Aim::HalfWidth(most) => half_width_size(most, self.confidence),
            Aim::Spread(most) => spread_size(most, self.confidence),
            Aim::Tolerance(most) => tolerance_size(most, self.coverage, self.confidence),
        }
    }

    /// What `n` per group reach of the aim.
    pub fn reached(&self, n: usize) -> f64 {
        let count = n as f64;
        match self.aim {
            Aim::Difference(effect) if self.groups == 2 => {
                two_sample_power(count, effect, self.alpha, self.tails)
            }
            Aim::Difference(effect) => {
                anova_power(count, self.groups, effect_of_extremes(effect, self.groups), self.alpha)
            }
            Aim::Means(f) => anova_power(count, self.groups, f, self.alpha),
            Aim::Detect => self.detectable(n).unwrap_or(f64::NAN),
            Aim::HalfWidth(_) => half_width(n, self.confidence),
            Aim::Spread(_) => spread_ratio(n, self.confidence),
            Aim::Tolerance(_) => two_sided_factor(n, self.coverage, self.confidence),
        }
    }

    /// The least difference between two of the groups that `n` per group find, in standard deviations.
    fn detectable(&self, n: usize) -> Option<f64> {
        if !matches!(self.aim, Aim::Difference(_) | Aim::Means(_) | Aim::Detect) {
            return None;
        }
        Some(match self.groups {
            2 => detectable_effect(n, self.power, self.alpha, self.tails),
            k => anova_detectable_effect(n, k, self.power, self.alpha) * (2.0 * k as f64).sqrt(),
        })
    }
}

/// Numbers per group around the one in question, from 2 on.
fn numbers(around: usize) -> Vec<usize> {
    let most = (2 * around).max(8);
    let step = (most - 2).div_ceil(POINTS).max(1);
    let mut numbers: Vec<usize> = (2..=most).step_by(step).chain([around]).collect();
    numbers.sort_unstable();
    numbers.dedup();
    numbers
}
