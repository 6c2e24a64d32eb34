//! Does the model leave more than repeats of one setting differ by?

use super::fitted::Regression;
use crate::statistics::anova::FTest;
use crate::statistics::sum::sum;

/// The error taken apart: what repeats of one setting differ by, and what the model misses beyond that.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LackOfFit {
    /// Sum of squares within repeats.
    pub ss_pure: f64,
    /// Its degrees of freedom; 0 without repeats.
    pub df_pure: usize,
    /// What is left of the error.
    pub ss_lack: f64,
    /// Its degrees of freedom; 0 where the model has a coefficient for every setting.
    pub df_lack: usize,
    /// The test; `None` where either has no degree of freedom or repeats don't differ.
    pub test: Option<FTest>,
}

impl LackOfFit {
    /// By groups of repeats: `group` says for each observation which setting it has, in any numbers.
    pub fn of(regression: &Regression, y: &[f64], group: &[usize]) -> Self {
        let mut settings: Vec<usize> = group.to_vec();
        settings.sort_unstable();
        settings.dedup();
        let within = settings.iter().map(|setting| {
            let own: Vec<f64> =
                y.iter().zip(group).filter(|(_, own)| *own == setting).map(|(y, _)| *y).collect();
            let mean = sum(own.iter().copied()) / own.len() as f64;
            sum(own.iter().map(|y| (y - mean).powi(2)))
        });
        let ss_pure = sum(within);
        let variance = &regression.variance;
        let df_pure = variance.n - settings.len();
        let df_lack = settings.len().saturating_sub(variance.parameters);
        let ss_lack = if df_lack == 0 { 0.0 } else { (variance.ss_error - ss_pure).max(0.0) };
        let told = 0 < df_pure && 0 < df_lack && 0.0 < ss_pure;
        let test = told.then(|| {
            let (df1, df2) = (df_lack as f64, df_pure as f64);
            FTest::new((ss_lack / df1) / (ss_pure / df2), df1, df2)
        });
        Self { ss_pure, df_pure, ss_lack, df_lack, test }
    }
}
