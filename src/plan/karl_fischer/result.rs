//! Replicate titrations to one water content with its standard uncertainty (k = 1).
//!
//! Scatter of weighing, end point and sampling is in the replicates, s/√n (JCGM 100:2008, 4.2.3), so a
//! balance counts only where there is a single titration. What all replicates share, the titre or current
//! efficiency, drift and blank, no number of them averages out: it is stated.

use serde::{Deserialize, Serialize};

use super::titration::{Titration, TitrationError};
use crate::input::Warning;
use crate::plan::Estimate;
use crate::quantity::{Drift, Mass, MassFraction, Relative};

/// Standard uncertainties of what all replicates share, as stated by a person.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct StatedUncertainty {
    /// Of the titre or the current efficiency.
    pub calibration: Option<Relative>,
    /// Of the drift.
    pub drift: Option<Drift>,
    /// Of the blank.
    pub blank: Option<Mass>,
    /// Of one sample's mass.
    pub weighing: Option<Mass>,
}

/// Water by titration.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TitrationResult {
    /// Each titration's result.
    pub each: Vec<MassFraction>,
    /// Their mean with its budget, as a mass fraction.
    pub mean: Estimate,
    /// Their standard deviation (n − 1); none of a single one.
    pub standard_deviation: Option<MassFraction>,
}

impl TitrationResult {
    /// The water content.
    pub fn water(&self) -> MassFraction {
        MassFraction::new(self.mean.value)
    }

    /// Its standard uncertainty.
    pub fn standard_uncertainty(&self) -> MassFraction {
        MassFraction::new(self.mean.standard_uncertainty())
    }

    /// What to know about the result.
    pub fn warnings(&self) -> Vec<Warning> {
        let below = self.water() < MassFraction::ZERO;
        let message = "drift and blank are more than what was found: take a larger sample or lower the drift";
        below.then(|| Warning::new("below_blank", message)).into_iter().collect()
    }
}

/// The result of one or more titrations of one liquid.
pub fn titrated(
    titrations: &[Titration],
    stated: &StatedUncertainty,
) -> Result<TitrationResult, TitrationError> {
    if titrations.is_empty() {
        return Err(TitrationError::NoTitration);
    }
    if let Some(place) = titrations.iter().position(|titration| titration.sample <= Mass::ZERO) {
        return Err(TitrationError::NoSample { number: place + 1 });
    }
    let each: Vec<MassFraction> = titrations.iter().map(Titration::fraction).collect();
    let standard_deviation = standard_deviation(&each);
    let mut mean = Estimate::of(mean_of(each.iter().map(|fraction| fraction.get())));
    add_scatter(&mut mean, titrations, standard_deviation, stated);
    add_shared(&mut mean, titrations, stated);
    Ok(TitrationResult { each, mean, standard_deviation })
}

fn mean_of(values: impl ExactSizeIterator<Item = f64>) -> f64 {
    let count = values.len() as f64;
    values.sum::<f64>() / count
}

fn standard_deviation(each: &[MassFraction]) -> Option<MassFraction> {
    if each.len() < 2 {
        return None;
    }
    let mean = mean_of(each.iter().map(|fraction| fraction.get()));
    let squares: f64 = each.iter().map(|fraction| (fraction.get() - mean).powi(2)).sum();
    Some(MassFraction::new((squares / (each.len() as f64 - 1.0)).sqrt()))
}

fn add_scatter(
    mean: &mut Estimate,
    titrations: &[Titration],
    standard_deviation: Option<MassFraction>,
    stated: &StatedUncertainty,
) {
    let count = titrations.len() as f64;
    match (standard_deviation, stated.weighing, titrations) {
        (Some(s), _, _) => {
            mean.budget.add_with_freedom("replicates", 1.0, s.get() / count.sqrt(), Some(count - 1.0));
        }
        (None, weighing, [one, ..]) => {
            mean.budget.unstated.push("replicates: a single titration shows no scatter".to_owned());
            if let Some(u) = weighing {
                mean.budget.add("mass of the sample", -mean.value / one.sample.get(), u.get());
            }
        }
        (None, _, []) => {}
    }
}

fn add_shared(mean: &mut Estimate, titrations: &[Titration], stated: &StatedUncertainty) {
    let by_drift = mean_of(titrations.iter().map(Titration::by_drift));
    let by_blank = mean_of(titrations.iter().map(|titration| -1.0 / titration.sample.get()));
    let drifts = titrations.iter().any(|titration| Drift::ZERO < titration.drift);
    let blanks = titrations.iter().any(|titration| Mass::ZERO < titration.blank);
    let sources = [
        ("titre or current efficiency", mean.value, stated.calibration.map(Relative::get), true),
        ("drift", by_drift, stated.drift.map(Drift::get), drifts),
        ("blank", by_blank, stated.blank.map(Mass::get), blanks),
    ];
    for (source, sensitivity, u, is_there) in sources {
        match u {
            Some(u) => mean.budget.add(source, sensitivity, u),
            None if is_there => mean.budget.unstated.push(format!("{source}: no uncertainty is stated")),
            None => {}
        }
    }
}
