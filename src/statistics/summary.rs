//! One group summarised: where it lies, how far it spreads, what stands out, and what more of the same may show.

use super::dixon::{Dixon, dixon};
use super::grubbs::{Grubbs, grubbs};
use super::moments::Moments;
use super::observations::{Observations, sorted};
use super::quantile::{MAD_TO_SD, QuantileRule, median, median_absolute_deviation, quantile};
use super::shapiro_wilk::{ShapiroWilk, shapiro_wilk};
use super::t_test::mean_interval;
use super::tolerance::two_sided_factor;
use super::variance_test::sd_interval;

/// What a summary is to use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SummaryRules {
    /// How quartiles are found.
    pub quartiles: QuantileRule,
    /// The share (0 to 1) of all such cells that the tolerance interval is to hold.
    pub content: f64,
    /// The confidence (0 to 1) of the tolerance interval.
    pub confidence: f64,
    /// The level of the tests for outliers.
    pub alpha: f64,
}

/// A summary. What needs more values than there are, or some spread, is `None`.
#[derive(Debug, Clone, PartialEq)]
pub struct Summary {
    /// What the group is called.
    pub name: String,
    /// Number, mean and variance.
    pub moments: Moments,
    /// Limits of the mean at 95 %, by Student's t.
    pub mean_interval: Option<[f64; 2]>,
    /// Limits of the standard deviation at 95 %, by χ².
    pub sd_interval: Option<[f64; 2]>,
    /// The median.
    pub median: f64,
    /// The median of the distances from the median.
    pub mad: f64,
    /// First and third quartile.
    pub quartiles: [f64; 2],
    /// Least and greatest value.
    pub range: [f64; 2],
    /// The test for normality.
    pub shapiro_wilk: Option<ShapiroWilk>,
    /// The test for one outlier by distance.
    pub grubbs: Option<Grubbs>,
    /// The test for one outlier by gap.
    pub dixon: Option<Dixon>,
    /// Where most of all such cells lie.
    pub tolerance: Option<Tolerance>,
    /// What it was made with.
    pub rules: SummaryRules,
}

/// Mean ± factor × standard deviation: holds the content with the confidence, for normal values.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerance {
    /// The factor.
    pub factor: f64,
    /// The limits.
    pub interval: [f64; 2],
}

impl Summary {
    /// Summarises a group; `None` if it is empty.
    pub fn of(group: &Observations, rules: SummaryRules) -> Option<Self> {
        let values = group.values();
        let sorted = sorted(values);
        let (&least, &greatest) = (sorted.first()?, sorted.last()?);
        let moments = Moments::of(values);
        let quartile = |p: f64| quantile(&sorted, p, rules.quartiles);
        Some(Self {
            name: group.name().to_owned(),
            moments,
            mean_interval: mean_interval(&moments, 0.95).filter(|_| 0.0 < moments.variance),
            sd_interval: sd_interval(&moments, 0.95).filter(|_| 0.0 < moments.variance),
            median: median(&sorted),
            mad: median_absolute_deviation(values),
            quartiles: [quartile(0.25), quartile(0.75)],
            range: [least, greatest],
            shapiro_wilk: shapiro_wilk(values),
            grubbs: grubbs(values, rules.alpha),
            dixon: dixon(values),
            tolerance: Tolerance::of(&moments, rules),
            rules,
        })
    }

    /// Standard deviation in percent of the mean; NaN where the mean is zero.
    pub fn rsd_percent(&self) -> f64 {
        if self.moments.mean == 0.0 { f64::NAN } else { 100.0 * self.moments.sd() / self.moments.mean.abs() }
    }

    /// The median absolute deviation as an estimate of the standard deviation of a normal distribution.
    pub fn mad_scaled(&self) -> f64 {
        self.mad * MAD_TO_SD
    }
}

impl Tolerance {
    fn of(moments: &Moments, rules: SummaryRules) -> Option<Self> {
        if moments.n < 2 || moments.variance <= 0.0 {
            return None;
        }
        let factor = two_sided_factor(moments.n, rules.content, rules.confidence);
        let reach = factor * moments.sd();
        Some(Self { factor, interval: [moments.mean - reach, moments.mean + reach] })
    }
}
