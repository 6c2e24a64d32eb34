//! How far curve, eutectic and window reach within the uncertainty of the data, by Monte Carlo.

use serde::{Deserialize, Serialize};

use super::binary::{curve, level, lowest, splits_along};
use super::draw::{Draws, ModelSpread};
use super::miscibility::{Gap, Split, gaps, monotectic_beside};
use super::system::System;
use crate::statistics::quantile::{QuantileRule, quantile};

/// Middle and ends of what draws gave.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// Lower end.
    pub low: f64,
    /// Median.
    pub middle: f64,
    /// Upper end.
    pub high: f64,
}

/// What the draws gave for a diagram of two components.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Bands {
    /// Number of draws.
    pub draws: usize,
    /// The seed.
    pub seed: u64,
    /// Share of the draws between the ends.
    pub coverage: f64,
    /// Mole fraction of the first component, and the liquidus in kelvin there.
    pub curve: Vec<(f64, Spread)>,
    /// The lowest eutectic in kelvin; `None` if fewer than half of the draws have one.
    pub eutectic: Option<Spread>,
    /// Its mole fraction of the first component.
    pub eutectic_fraction: Option<Spread>,
    /// Where the liquid window asked for begins and ends, of those draws that have one.
    pub window: Option<(Spread, Spread)>,
    /// Share of the draws that have such a window.
    pub with_window: f64,
}

impl Spread {
    /// Of values in any order; `None` without any.
    pub fn of(mut values: Vec<f64>, coverage: f64) -> Option<Self> {
        values.retain(|value| value.is_finite());
        if values.is_empty() {
            return None;
        }
        values.sort_unstable_by(f64::total_cmp);
        let at = |p: f64| quantile(&values, p, QuantileRule::Type7);
        Some(Self { low: at((1.0 - coverage) / 2.0), middle: at(0.5), high: at((1.0 + coverage) / 2.0) })
    }
}

/// Draws systems and takes the quantiles of what each has (JCGM 101:2008: propagation of distributions), at even
/// steps of the mole fraction of the first component. The window is that of the lowest eutectic, at a temperature in
/// kelvin.
pub fn bands(
    system: &System,
    spread: &ModelSpread,
    (draws, seed): (usize, u64),
    steps: usize,
    coverage: f64,
    liquid_at: Option<f64>,
) -> Bands {
    let places: Vec<f64> = (0..=steps).map(|step| step as f64 / steps as f64).collect();
    let mut source = Draws::new(system, spread, seed);
    let mut curves: Vec<Vec<f64>> = places.iter().map(|_| Vec::with_capacity(draws)).collect();
    let (mut kelvins, mut fractions) = (Vec::with_capacity(draws), Vec::with_capacity(draws));
    let mut ends = (Vec::new(), Vec::new());
    let middle = splits_along(system, &self::curve(system, &places));
    for _ in 0..draws {
        let drawn = source.next_system();
        let mut found = self::curve(&drawn, &places);
        let apart = drawn_splits(&drawn, &found, &middle, spread.is_uncertain());
        level(&mut found, &apart);
        for ((x, found), curve) in found.iter().zip(&mut curves) {
            let told = found.filter(|(_, kelvin)| drawn.untold(&[*x, 1.0 - x], *kelvin).is_empty());
            curve.extend(told.map(|(_, kelvin)| kelvin));
        }
        let Some((x, kelvin)) = lowest(&drawn, &found, &apart) else { continue };
        kelvins.push(kelvin);
        fractions.push(x);
        if let Some((from, to)) =
            liquid_at.filter(|at| kelvin <= *at).map(|at| around(&drawn, &found, (x, kelvin), at))
        {
            ends.0.push(from);
            ends.1.push(to);
        }
    }
    let half = draws.div_ceil(2);
    let with_window = ends.0.len() as f64 / draws.max(1) as f64;
    let known = |values: Vec<f64>| (half <= values.len()).then(|| Spread::of(values, coverage)).flatten();
    let curve = places.into_iter().zip(curves).filter_map(|(x, values)| Some((x, known(values)?))).collect();
    Bands {
        draws,
        seed,
        coverage,
        curve,
        eutectic: known(kelvins),
        eutectic_fraction: known(fractions),
        window: Spread::of(ends.0, coverage).zip(Spread::of(ends.1, coverage)),
        with_window,
    }
}

/// Where a drawn liquid comes apart, looked for near where that in the middle of the draws does.
fn drawn_splits(
    drawn: &System,
    found: &[(f64, Option<(usize, f64)>)],
    middle: &[Split],
    model_varies: bool,
) -> Vec<Split> {
    if middle.is_empty() {
        return if model_varies { splits_along(drawn, found) } else { Vec::new() };
    }
    middle.iter().filter_map(|own| monotectic_beside(drawn, own)).collect()
}

/// Where the liquidus rises above a temperature to both sides of its lowest point, between neighbours by a straight
/// line, or the liquid comes apart into two.
fn around(
    system: &System,
    found: &[(f64, Option<(usize, f64)>)],
    lowest: (f64, f64),
    kelvin: f64,
) -> (f64, f64) {
    let known = || found.iter().filter_map(|(x, found)| found.map(|(_, kelvin)| (*x, kelvin)));
    let left: Vec<(f64, f64)> = known().filter(|(x, _)| *x < lowest.0).collect();
    let from = rise(lowest, left.into_iter().rev(), kelvin).unwrap_or(0.0);
    let to = rise(lowest, known().filter(|(x, _)| lowest.0 < *x), kelvin).unwrap_or(1.0);
    let narrowed = |(from, to): (f64, f64), gap: Gap| {
        if lowest.0 <= gap.from { (from, to.min(gap.from)) } else { (from.max(gap.to), to) }
    };
    gaps(&system.model, kelvin).into_iter().fold((from, to), narrowed)
}

/// Walks away from the lowest point to where the temperature is passed.
fn rise(lowest: (f64, f64), away: impl Iterator<Item = (f64, f64)>, kelvin: f64) -> Option<f64> {
    let mut before = lowest;
    for next in away {
        if kelvin < next.1 {
            return Some(before.0 + (kelvin - before.1) / (next.1 - before.1) * (next.0 - before.0));
        }
        before = next;
    }
    None
}
