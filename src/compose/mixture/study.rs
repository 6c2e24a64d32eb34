//! What results say of a model, and what to test next.

use super::arrange::Point;
use super::model::Model;
use super::optimal::{OptimalError, d_optimal};
use super::process::{Setting, settings};
use super::repeats::settled;
use crate::statistics::regression::{LackOfFit, Regression};

/// One result.
#[derive(Debug, Clone, PartialEq)]
pub struct Observed {
    /// The composition.
    pub fractions: Vec<f64>,
    /// The values of the process variables.
    pub setting: Setting,
    /// Its block, by the place in the model; 0 without blocks.
    pub block: usize,
    /// What was found.
    pub response: f64,
}

/// A model fitted to results.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// The model.
    pub model: Model,
    /// Its fit.
    pub regression: Regression,
    /// Its error taken apart.
    pub lack_of_fit: LackOfFit,
    /// Which setting each result has: repeats have the same number.
    pub group: Vec<usize>,
}

/// A run that would teach much.
#[derive(Debug, Clone, PartialEq)]
pub struct NextRun {
    /// The composition.
    pub fractions: Vec<f64>,
    /// The values of the process variables.
    pub setting: Setting,
    /// The standard error of what the model says there, for a residual standard deviation of 1; `None` while the
    /// results can't tell the model.
    pub unit_sd: Option<f64>,
}

impl Study {
    /// Fits the model. Results whose fractions and coded process variables differ by at most `alike` are repeats, and count at
    /// the mean of their settings.
    ///
    /// # Errors
    /// The places of the terms that these results can't tell.
    pub fn of(model: Model, observed: &[Observed], alike: f64, confidence: f64) -> Result<Self, Vec<usize>> {
        let (settled, group) = settled(&model, observed, alike);
        let rows = rows(&model, &settled);
        let y: Vec<f64> = observed.iter().map(|own| own.response).collect();
        let regression = Regression::of(&rows, &y, confidence)?;
        let lack_of_fit = LackOfFit::of(&regression, &y, &group);
        Ok(Self { model, regression, lack_of_fit, group })
    }

    /// The shift of each block against their mean; none without blocks.
    pub fn shifts(&self) -> Vec<f64> {
        let own = self.regression.coefficients.get(self.model.terms.len()..).unwrap_or_default();
        let own: Vec<f64> = own.iter().map(|own| own.value).collect();
        let last = (!own.is_empty()).then(|| 0.0 - own.iter().sum::<f64>());
        own.into_iter().chain(last).collect()
    }

    /// What the model says for a composition and setting.
    pub fn value(&self, x: &[f64], setting: &[f64]) -> f64 {
        self.regression.value(&self.model.row(x, setting))
    }
}

fn rows(model: &Model, observed: &[Observed]) -> Vec<Vec<f64>> {
    observed.iter().map(|own| model.row_in(&own.fractions, &own.setting, own.block)).collect()
}

/// The runs among `points`, crossed with the levels of the process variables, that together with the results tell the
/// coefficients best, the one that is known least first. More than `count` if fewer can't tell the model. `seen` is told
/// how far the search is, as for [`d_optimal`].
///
/// # Errors
/// If not even all points with the results tell the model.
pub fn next_runs(
    model: &Model,
    observed: &[Observed],
    points: &[Point],
    count: usize,
    (starts, seed): (usize, u64),
    seen: impl FnMut(usize, usize),
) -> Result<Vec<NextRun>, OptimalError> {
    let fixed = rows(model, observed);
    let crossed = settings(model.variables());
    let places: Vec<(&Point, &Setting)> =
        points.iter().flat_map(|point| crossed.iter().map(move |setting| (point, setting))).collect();
    let candidates: Vec<Vec<f64>> =
        places.iter().map(|(point, setting)| model.row(&point.fractions, setting)).collect();
    let order: Vec<usize> = (0..candidates.len()).collect();
    let columns = fixed.first().map_or(model.terms.len(), Vec::len);
    let unseen = columns - crate::statistics::regression::rank(&fixed);
    let known = Regression::of(&fixed, &vec![0.0; fixed.len()], 0.5).ok();
    let chosen = d_optimal(&candidates, &fixed, count.max(unseen).max(1), &order, (starts, seed), seen)?;
    let run = |at: &usize| NextRun {
        fractions: places[*at].0.fractions.clone(),
        setting: places[*at].1.clone(),
        unit_sd: known.as_ref().map(|known| known.unit_sd(&candidates[*at])),
    };
    let mut next: Vec<NextRun> = chosen.places.iter().map(run).collect();
    next.sort_by(|one, other| {
        other.unit_sd.unwrap_or(f64::INFINITY).total_cmp(&one.unit_sd.unwrap_or(f64::INFINITY))
    });
    Ok(next)
}
