//! The water of a batch out of what the titrator showed.

use super::batch::WaterMeasured;
use crate::quantity::Mass;

/// A water content with what is known of its scatter.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterResult {
    /// Mass fraction.
    pub fraction: f64,
    /// Standard uncertainty of the mean by the scatter of the replicates; `None` for fewer than two.
    pub standard_uncertainty: Option<f64>,
    /// Each replicate as a mass fraction, drift and blank taken off.
    pub replicates: Vec<f64>,
}

impl WaterMeasured {
    /// The result: for each replicate w = (found − drift × time − blank) / sample, then their mean, with the
    /// standard deviation of the mean s/√n as its uncertainty (JCGM 100:2008, 4.2.3). A result that was read
    /// off stands as it is. `None` if there is neither.
    pub fn evaluate(&self) -> Option<WaterResult> {
        let per_minute = self.drift_ug_per_min.unwrap_or(0.0) * 1e-6;
        let blank = self.blank_ug.unwrap_or(0.0) * 1e-6;
        let one = |replicate: &super::batch::WaterReplicate| {
            let minutes = replicate.time.as_ref().map_or(0.0, |time| time.value.get() / 60.0);
            (replicate.water.value.get() - per_minute * minutes - blank) / replicate.sample.value.get()
        };
        let replicates: Vec<f64> = self.replicates.iter().map(one).collect();
        if replicates.is_empty() {
            let fraction = self.result.as_ref()?.value.get();
            return Some(WaterResult { fraction, standard_uncertainty: None, replicates });
        }
        let n = replicates.len() as f64;
        let mean = replicates.iter().sum::<f64>() / n;
        let squares: f64 = replicates.iter().map(|w| (w - mean).powi(2)).sum();
        let uncertainty = (1.0 < n).then(|| (squares / (n - 1.0) / n).sqrt());
        Some(WaterResult { fraction: mean, standard_uncertainty: uncertainty, replicates })
    }

    /// What the samples took out of the batch.
    pub fn taken(&self) -> Mass {
        self.replicates.iter().map(|replicate| replicate.sample.value).sum()
    }
}
