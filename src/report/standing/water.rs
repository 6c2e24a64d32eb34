//! The water of a batch out of what the titrator showed.

use crate::plan::{Found, StatedUncertainty, Titration, titrated};
use crate::quantity::{Drift, Mass, TimeSpan};
use crate::record::batch::{WaterMeasured, WaterReplicate};

/// A water content with what is known of its uncertainty.
#[derive(Debug, Clone, PartialEq)]
pub struct WaterResult {
    /// Mass fraction.
    pub fraction: f64,
    /// Standard uncertainty; `None` if nothing is known of it.
    pub standard_uncertainty: Option<f64>,
    /// Each replicate as a mass fraction, drift and blank taken off; empty for a result that was read off.
    pub replicates: Vec<f64>,
    /// What is missing from the uncertainty.
    pub unstated: Vec<String>,
}

/// The result of a measurement: the mean of its replicates with drift and blank taken off, or what was read
/// off. `None` if there is neither.
pub fn evaluate(measured: &WaterMeasured) -> Option<WaterResult> {
    if measured.replicates.is_empty() {
        let fraction = measured.result.as_ref()?.value.get();
        let unstated = vec!["the result: no uncertainty is stated".to_owned()];
        return Some(WaterResult { fraction, standard_uncertainty: None, replicates: Vec::new(), unstated });
    }
    let titration = |replicate: &WaterReplicate| Titration {
        sample: replicate.sample.value,
        found: Found::Water(replicate.water.value),
        drift: Drift::new(measured.drift_ug_per_min.unwrap_or(0.0)),
        time: replicate.time.as_ref().map_or(TimeSpan::ZERO, |time| time.value),
        blank: Mass::new(measured.blank_ug.unwrap_or(0.0) * 1e-6),
    };
    let titrations: Vec<Titration> = measured.replicates.iter().map(titration).collect();
    let result = titrated(&titrations, &StatedUncertainty::default()).ok()?;
    let known = !result.mean.budget.contributions.is_empty();
    Some(WaterResult {
        fraction: result.water().get(),
        standard_uncertainty: known.then(|| result.standard_uncertainty().get()),
        replicates: result.each.iter().map(|each| each.get()).collect(),
        unstated: result.mean.budget.unstated,
    })
}
