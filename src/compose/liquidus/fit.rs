//! The parameters of an activity model from a measured liquidus.

use serde::{Deserialize, Serialize};

use super::model::{ActivityModel, ModelForm, PairModel};
use super::system::System;
use crate::quantity::Temperature;
use crate::statistics::curve_fit::{Dual, Estimate, Inference, Minimum, Points, minimum};

/// A measured point of the liquidus of two components.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct MeasuredPoint {
    /// Mole fraction of the first component.
    pub fraction: f64,
    /// Where the last solid melts.
    pub temperature: Temperature,
    /// Weight above 0: 1/variance, up to a common factor.
    pub weight: f64,
}

/// A model through measured points.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedModel {
    /// The model.
    pub model: PairModel,
    /// Each parameter with its standard error, J/mol.
    pub estimates: Vec<Estimate>,
    /// The lower triangular root of their covariance, row by row; empty where there is none.
    pub root: Vec<f64>,
    /// Residual standard deviation in kelvin, for a weight of 1; NaN without a degree of freedom.
    pub residual_sd_k: f64,
    /// Weighted residual sum of squares.
    pub rss: f64,
    /// Points used: mixtures, since a pure component tells nothing of its mixtures.
    pub used: usize,
    /// True if a minimum was reached.
    pub converged: bool,
    /// True if the points can tell the parameters.
    pub identifiable: bool,
}

impl FittedModel {
    /// True if it is the best of its kind, and more points than parameters are left to judge it by.
    pub fn is_judged(&self) -> bool {
        self.converged && self.residual_sd_k.is_finite()
    }
}

/// Why no model goes through the points.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum FitFailure {
    /// Fewer different mixtures than parameters.
    #[error("{found} different mixtures are too few for {needed} parameters")]
    TooFew {
        /// How many there are.
        found: usize,
        /// How many parameters the model has.
        needed: usize,
    },
}

/// J/mol by which a parameter is moved for a slope: models are linear in it or nearly so.
const STEP: f64 = 1.0;
/// Above this condition of the scaled slopes the points can't tell the parameters apart.
const MOST_CONDITION: f64 = 1e9;

/// Least squares on the temperature of the curve, from several starts, with the fusion data taken as known.
///
/// The slope of the temperature by a parameter is that of the implicit function: dT/dp = −(∂F/∂p)/(∂F/∂T).
///
/// # Errors
/// If there are fewer different mixtures than parameters.
pub fn fit_model(
    system: &System,
    form: ModelForm,
    points: &[MeasuredPoint],
    confidence: f64,
) -> Result<FittedModel, FitFailure> {
    let mixtures: Vec<&MeasuredPoint> =
        points.iter().filter(|point| 0.0 < point.fraction && point.fraction < 1.0).collect();
    let needed = form.parameters().len();
    let column = |of: fn(&MeasuredPoint) -> f64| mixtures.iter().map(|point| of(point)).collect::<Vec<_>>();
    let points = Points::weighted(
        column(|point| point.fraction),
        column(|point| point.temperature.kelvin()),
        column(|point| point.weight),
    );
    let points = points.map_err(|_| FitFailure::TooFew { found: 0, needed })?;
    if points.different() < needed {
        return Err(FitFailure::TooFew { found: points.different(), needed });
    }
    let curve = |x: f64, parameters: &[Dual]| temperature(system, form, x, parameters);
    let best = starts(needed)
        .into_iter()
        .map(|start| minimum(&curve, &points, &start))
        .reduce(|best, next| if better(&next, &best) { next } else { best })
        .unwrap_or_else(|| minimum(&curve, &points, &vec![0.0; needed]));
    let inference = Inference::of(&best, &points, confidence);
    Ok(FittedModel {
        model: PairModel { first: 0, second: 1, form, parameters: best.parameters.clone() },
        root: root(&inference),
        residual_sd_k: inference.residual_sd,
        rss: best.rss,
        used: points.len(),
        converged: best.converged,
        identifiable: best.converged && inference.condition() < MOST_CONDITION,
        estimates: inference.estimates,
    })
}

/// From an ideal liquid, and from parameters of either sign.
fn starts(count: usize) -> Vec<Vec<f64>> {
    let signs = (0..1_usize << count.min(2)).map(|bits| {
        (0..count).map(|at| if bits >> at & 1 == 0 { -2000.0 } else { 2000.0 }).collect::<Vec<_>>()
    });
    std::iter::once(vec![0.0; count]).chain(signs).collect()
}

/// A minimum before none, then the lower one.
fn better(one: &Minimum, other: &Minimum) -> bool {
    (one.converged, -one.rss) > (other.converged, -other.rss)
}

/// The curve at a composition with its slopes by the parameters; NaN where no solid comes out.
fn temperature(system: &System, form: ModelForm, x: f64, parameters: &[Dual]) -> Dual {
    let fractions = [x, 1.0 - x];
    let values: Vec<f64> = parameters.iter().map(|own| own.value).collect();
    let with = |values: &[f64]| {
        let pair = PairModel { first: 0, second: 1, form, parameters: values.to_vec() };
        System { model: ActivityModel::of(2, &[pair]), ..system.clone() }
    };
    let at = with(&values);
    let Some((solid, kelvin)) = at.liquidus(&fractions) else { return Dual::constant(f64::NAN) };
    let (_, slope) = at.excess_of(solid, &fractions, kelvin);
    let mut temperature = Dual::constant(kelvin);
    for place in 0..values.len() {
        let moved = |by: f64| {
            let mut values = values.clone();
            values[place] += by;
            with(&values).excess_of(solid, &fractions, kelvin).0
        };
        let change = (moved(STEP) - moved(-STEP)) / (2.0 * STEP);
        for (own, given) in temperature.slopes.iter_mut().zip(parameters[place].slopes) {
            *own -= change / slope * given;
        }
    }
    temperature
}

/// Cholesky's factor of the covariance of the parameters.
fn root(inference: &Inference) -> Vec<f64> {
    let sds: Vec<f64> = inference.estimates.iter().map(|own| own.sd).collect();
    if sds.iter().any(|sd| !sd.is_finite()) {
        return Vec::new();
    }
    let count = sds.len();
    let mut root = vec![0.0; count * count];
    for row in 0..count {
        for column in 0..=row {
            let before: f64 = (0..column).map(|at| root[row * count + at] * root[column * count + at]).sum();
            let own = sds[row] * sds[column] * inference.correlation(row, column) - before;
            root[row * count + column] = if row == column {
                own.max(0.0).sqrt()
            } else if 0.0 < root[column * count + column] {
                own / root[column * count + column]
            } else {
                0.0
            };
        }
    }
    root
}
