//! The whole prediction for one set of data: model, diagram, comparison with an ideal liquid, bands and windows.

use serde::{Deserialize, Serialize};

use super::bands::{Bands, LiquidAt, bands};
use super::binary::{Diagram, Invariant, diagram};
use super::draw::ModelSpread;
use super::fit::{FitFailure, FittedModel, MeasuredPoint, fit_model};
use super::model::{ActivityModel, ModelForm};
use super::system::System;
use super::ternary::{Surface, TernarySpread, surface, ternary_spread};
use super::ternary_bands::{RegionSpread, region_spread};
use super::ternary_window::{Region, region};
use super::window::{Window, two_liquids, windows};
use crate::quantity::Temperature;

/// One choice among published data.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Case {
    /// Where the fusion data of each component come from.
    pub sources: Vec<String>,
    /// The liquid and its solids.
    pub system: System,
    /// The model's parameters and their uncertainty.
    pub spread: ModelSpread,
}

/// What is asked of each case.
#[derive(Debug, Clone, PartialEq)]
pub struct Question {
    /// Number of draws.
    pub draws: usize,
    /// Their seed.
    pub seed: u64,
    /// Share of the draws between the ends of a band; also the confidence of fitted parameters.
    pub coverage: f64,
    /// Steps of the mole fraction.
    pub steps: usize,
    /// Which compositions stay liquid down to here.
    pub liquid_at: Option<Temperature>,
    /// Measured points of the liquidus of two components.
    pub points: Vec<MeasuredPoint>,
    /// The form that is to be fitted to them.
    pub fitted: Option<ModelForm>,
}

/// A prediction.
#[derive(Debug, Clone, PartialEq)]
pub struct Prediction {
    /// The data, with the fitted model if one was.
    pub case: Case,
    /// The fit.
    pub fit: Option<FittedModel>,
    /// Weighted residual sum of squares of the same form through the same points with the components swapped.
    pub swapped_rss: Option<f64>,
    /// What is predicted.
    pub shape: Shape,
}

/// What is predicted, by the number of components.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Two components.
    Binary(Binary),
    /// Three components.
    Ternary(Ternary),
}

/// A diagram of two components and what belongs to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Binary {
    /// The diagram.
    pub diagram: Diagram,
    /// That of an ideal liquid without compounds.
    pub ideal: Diagram,
    /// Bands, where any datum has a stated uncertainty.
    pub bands: Option<Bands>,
    /// Which compositions stay one liquid, if that was asked.
    pub windows: Vec<Window>,
    /// Which are two liquids there, without a solid.
    pub two_liquids: Vec<Window>,
    /// For each measured point: the point, and the curve less the point in kelvin by this model and by an ideal
    /// liquid.
    pub residuals: Vec<Residual>,
}

/// A measured point beside the curves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// The point.
    pub point: MeasuredPoint,
    /// Curve less point, in kelvin; NaN where there is no curve.
    pub model_k: f64,
    /// The same for an ideal liquid: above 0 the real one melts lower.
    pub ideal_k: f64,
}

/// A surface over three components and what belongs to it.
#[derive(Debug, Clone, PartialEq)]
pub struct Ternary {
    /// The surface.
    pub surface: Surface,
    /// That of an ideal liquid without compounds.
    pub ideal: Vec<Invariant>,
    /// The edges: components by their places, and the diagram of the two.
    pub edges: Vec<((usize, usize), Diagram)>,
    /// Spread of the lowest ternary eutectic, where any datum has a stated uncertainty.
    pub spread: Option<TernarySpread>,
    /// Share of the lattice that stays one liquid, if that was asked.
    pub liquid_share: Option<f64>,
    /// Where that lies.
    pub region: Option<Region>,
    /// How far its ends reach, where any datum has a stated uncertainty.
    pub region_spread: Option<RegionSpread>,
}

/// Steps of the ideal surface, which is only looked at for its lowest point.
const COARSE: usize = 40;
/// Steps of the bands.
const BAND_STEPS: usize = 50;

/// Predicts.
///
/// # Errors
/// If a model is to be fitted to too few points.
pub fn predict(mut case: Case, question: &Question) -> Result<Prediction, FitFailure> {
    let (mut fit, mut swapped_rss) = (None, None);
    if let Some(form) = question.fitted {
        let found = fit_model(&case.system, form, &question.points, question.coverage)?;
        let swap = |own: &MeasuredPoint| MeasuredPoint { fraction: 1.0 - own.fraction, ..*own };
        let swapped: Vec<MeasuredPoint> = question.points.iter().map(swap).collect();
        swapped_rss = Some(fit_model(&case.system, form, &swapped, question.coverage)?.rss);
        let pairs = vec![found.model.clone()];
        case.system.model = ActivityModel::of(case.system.components.len(), &pairs);
        case.spread = ModelSpread { pairs, roots: vec![found.root.clone()] };
        fit = Some(found);
    }
    let shape = match case.system.components.len() {
        3 => Shape::Ternary(ternary(&case, question)),
        // A fit that nothing judges has no uncertainty: a band of the other data alone would look like one.
        _ => Shape::Binary(binary(&case, question, fit.as_ref().is_none_or(FittedModel::is_judged))),
    };
    Ok(Prediction { case, fit, swapped_rss, shape })
}

impl Case {
    /// True if any datum has a stated uncertainty.
    pub fn is_uncertain(&self) -> bool {
        self.system.solids.iter().any(|solid| solid.fusion.is_uncertain()) || self.spread.is_uncertain()
    }
}

fn binary(case: &Case, question: &Question, banded: bool) -> Binary {
    let (system, ideal_system) = (&case.system, case.system.ideal());
    let found = diagram(system, question.steps);
    let crossings: Vec<f64> = found.invariants.iter().map(|own| own.fractions[0]).collect();
    let kelvin = question.liquid_at.map(Temperature::kelvin);
    let draws = (question.draws, question.seed);
    let windows =
        kelvin.map(|kelvin| windows(system, kelvin, question.steps, &crossings)).unwrap_or_default();
    let liquid_at = kelvin.map(|kelvin| LiquidAt { kelvin, windows: &windows });
    let bands = (banded && case.is_uncertain() && 0 < question.draws)
        .then(|| bands(system, &case.spread, draws, BAND_STEPS, question.coverage, liquid_at));
    let beside = |system: &System, point: &MeasuredPoint| {
        let x = [point.fraction, 1.0 - point.fraction];
        system.liquidus(&x).map_or(f64::NAN, |(_, kelvin)| kelvin - point.temperature.kelvin())
    };
    let residual = |point: &MeasuredPoint| Residual {
        point: *point,
        model_k: beside(system, point),
        ideal_k: beside(&ideal_system, point),
    };
    Binary {
        two_liquids: kelvin.map(|kelvin| two_liquids(system, kelvin)).unwrap_or_default(),
        ideal: diagram(&ideal_system, question.steps),
        residuals: question.points.iter().map(residual).collect(),
        diagram: found,
        bands,
        windows,
    }
}

fn ternary(case: &Case, question: &Question) -> Ternary {
    let found = surface(&case.system, question.steps);
    let draws = (question.draws, question.seed);
    let is_drawn = case.is_uncertain() && 0 < question.draws;
    let spread = found.eutectics.first().filter(|_| is_drawn);
    let spread = spread.and_then(|own| {
        ternary_spread(&case.system, &case.spread, own, draws, question.coverage, question.liquid_at)
    });
    let edges = [(0, 1), (0, 2), (1, 2)];
    let edges = edges.map(|pair| (pair, diagram(&edge(case, pair), question.steps)));
    let on_edges =
        edges.iter().flat_map(|(pair, diagram)| diagram.eutectics().map(|own| widened(*pair, own)));
    let lows: Vec<[f64; 3]> =
        found.eutectics.iter().filter_map(|own| own.fractions[..].try_into().ok()).chain(on_edges).collect();
    let region = question.liquid_at.map(|at| region(&case.system, at.kelvin(), &found, &lows));
    let region_spread = question
        .liquid_at
        .filter(|_| is_drawn)
        .map(|at| region_spread(&case.system, &case.spread, draws, question.coverage, at.kelvin()));
    Ternary {
        ideal: surface(&case.system.ideal(), COARSE).eutectics,
        edges: edges.into(),
        surface: found,
        spread,
        liquid_share: region.as_ref().map(|own| own.share),
        region,
        region_spread,
    }
}

/// What lies on an edge, as a composition of all three.
fn widened((one, other): (usize, usize), own: &Invariant) -> [f64; 3] {
    let mut whole = [0.0; 3];
    (whole[one], whole[other]) = (own.fractions[0], own.fractions[1]);
    whole
}

/// Two of three components: their solids, their compounds and their part of the model.
fn edge(case: &Case, (one, other): (usize, usize)) -> System {
    case.system.edge((one, other), &case.spread.pairs)
}
