//! One-way analysis of variance: classical and Welch's.

use super::distribution::f_upper;
use super::moments::Moments;
use super::sum::sum;

/// A classical one-way analysis of variance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Anova {
    /// Sum of squares between groups.
    pub ss_between: f64,
    /// Its degrees of freedom.
    pub df_between: f64,
    /// Sum of squares within groups.
    pub ss_within: f64,
    /// Its degrees of freedom.
    pub df_within: f64,
    /// How many values a group has as far as its mean square counts: all of them in a balanced set.
    pub effective_n: f64,
}

/// A ratio of variances and its significance.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FTest {
    /// The ratio.
    pub f: f64,
    /// Degrees of freedom above the line.
    pub df1: f64,
    /// Degrees of freedom below the line.
    pub df2: f64,
    /// Probability of so large a ratio.
    pub p: f64,
}

/// What the groups of a random one-way layout differ by, beside what differs within them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Components {
    /// Variance within groups.
    pub within: f64,
    /// Variance between groups as it comes out; below zero where groups are more alike than chance lets expect.
    pub between_raw: f64,
}

impl FTest {
    pub(super) fn new(f: f64, df1: f64, df2: f64) -> Self {
        Self { f, df1, df2, p: f_upper(f, df1, df2) }
    }
}

impl Anova {
    /// The analysis; `None` for fewer than two groups, an empty one, or no value beyond one a group.
    pub fn of(groups: &[&[f64]]) -> Option<Self> {
        let count: usize = groups.iter().map(|group| group.len()).sum();
        if groups.len() < 2 || groups.iter().any(|group| group.is_empty()) || count == groups.len() {
            return None;
        }
        let total = count as f64;
        let pivot = Moments::of(&groups.concat()).mean;
        // Relative to the middle, so that constant leading digits cost nothing.
        let centred = groups.iter().map(|group| group.iter().map(|value| value - pivot).collect::<Vec<_>>());
        let parts: Vec<Moments> = centred.map(|group| Moments::of(&group)).collect();
        let grand = sum(parts.iter().map(|part| part.n as f64 * part.mean)) / total;
        let between = parts.iter().map(|part| part.n as f64 * (part.mean - grand).powi(2));
        let within = parts.iter().filter(|part| 1 < part.n).map(|part| part.variance * part.df());
        let df_between = groups.len() as f64 - 1.0;
        let squared_sizes: f64 = parts.iter().map(|part| (part.n as f64).powi(2)).sum();
        Some(Self {
            ss_between: sum(between),
            df_between,
            ss_within: sum(within),
            df_within: total - groups.len() as f64,
            effective_n: (total - squared_sizes / total) / df_between,
        })
    }

    /// Mean square between groups.
    pub fn ms_between(&self) -> f64 {
        self.ss_between / self.df_between
    }

    /// Mean square within groups.
    pub fn ms_within(&self) -> f64 {
        self.ss_within / self.df_within
    }

    /// The test that all means are equal; `None` if no group has any spread.
    pub fn test(&self) -> Option<FTest> {
        (0.0 < self.ss_within)
            .then(|| FTest::new(self.ms_between() / self.ms_within(), self.df_between, self.df_within))
    }

    /// The share of all variance that lies between the groups of this sample, η².
    pub fn eta_squared(&self) -> f64 {
        self.ss_between / (self.ss_between + self.ss_within)
    }

    /// The same for the population (W. L. Hays' ω²), which is below zero where groups are more alike than chance
    /// lets expect.
    pub fn omega_squared(&self) -> f64 {
        (self.ss_between - self.df_between * self.ms_within())
            / (self.ss_between + self.ss_within + self.ms_within())
    }

    /// Variance components by mean squares, where groups are a random choice (such as batches).
    pub fn components(&self) -> Components {
        let between_raw = (self.ms_between() - self.ms_within()) / self.effective_n;
        Components { within: self.ms_within(), between_raw }
    }
}

impl Components {
    /// Variance between groups, zero where it comes out below.
    pub fn between(&self) -> f64 {
        self.between_raw.max(0.0)
    }

    /// True if the variance between groups came out below zero and is taken as zero.
    pub fn set_to_zero(&self) -> bool {
        self.between_raw < 0.0
    }

    /// The share of all variance that lies between groups, as it comes out (ICC).
    pub fn share_between(&self) -> f64 {
        self.between_raw / (self.between_raw + self.within)
    }
}

/// Welch's analysis (B. L. Welch, Biometrika 38 (1951) 330): variances may differ. `None` for fewer than two
/// groups, or if one has fewer than two values or no spread.
pub fn welch_anova(groups: &[Moments]) -> Option<FTest> {
    if groups.len() < 2 || groups.iter().any(|group| group.n < 2 || group.variance <= 0.0) {
        return None;
    }
    let k = groups.len() as f64;
    let weights: Vec<f64> = groups.iter().map(|group| 1.0 / group.mean_variance()).collect();
    let total = sum(weights.iter().copied());
    // Relative to one of the means, so that constant leading digits cost nothing.
    let shifted: Vec<f64> = groups.iter().map(|group| group.mean - groups[0].mean).collect();
    let mean = sum(weights.iter().zip(&shifted).map(|(weight, mean)| weight * mean)) / total;
    let between = sum(weights.iter().zip(&shifted).map(|(weight, own)| weight * (own - mean).powi(2)));
    let lambda =
        sum(weights.iter().zip(groups).map(|(weight, group)| (1.0 - weight / total).powi(2) / group.df()));
    let correction = 1.0 + 2.0 * (k - 2.0) / (k * k - 1.0) * lambda;
    Some(FTest::new(between / (k - 1.0) / correction, k - 1.0, (k * k - 1.0) / (3.0 * lambda)))
}
