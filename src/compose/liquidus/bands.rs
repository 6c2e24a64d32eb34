//! How far curve, eutectic and window reach within the uncertainty of the data, by Monte Carlo.

use serde::{Deserialize, Serialize};

use super::binary::{curve, level, lowest, splits_along};
use super::draw::{Draws, ModelSpread};
use super::drawn_windows::DrawnWindows;
use super::miscibility::{Split, monotectic_beside};
use super::system::System;
use super::window::Window;
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
    /// What they gave for each window asked for, in its order; where the data as they stand have none, one for the whole.
    pub windows: Vec<WindowSpread>,
    /// Share of the draws that have any window.
    pub with_window: f64,
}

/// What draws gave for one window.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WindowSpread {
    /// Share of the draws that have it, as one window and by itself.
    pub share: f64,
    /// Share of the draws in which it is one with another window.
    pub joined: f64,
    /// Share of the draws in which two liquids part it into several.
    pub parted_by_liquids: f64,
    /// Share of the draws in which a solid parts it into several.
    pub parted_by_solid: f64,
    /// The mole fraction near which it is parted, the median of those draws.
    pub parted_near: Option<f64>,
    /// Where it begins and ends, of those draws.
    pub ends: Option<(Spread, Spread)>,
}

/// A temperature in kelvin, and the windows that the data as they stand have there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LiquidAt<'w> {
    /// The temperature.
    pub kelvin: f64,
    /// The windows, in rising order.
    pub windows: &'w [Window],
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
/// steps of the mole fraction of the first component. Windows are looked for between the highest places that part those of
/// the data as they stand.
pub fn bands(
    system: &System,
    spread: &ModelSpread,
    (draws, seed): (usize, u64),
    steps: usize,
    coverage: f64,
    liquid_at: Option<LiquidAt<'_>>,
) -> Bands {
    let places: Vec<f64> = (0..=steps).map(|step| step as f64 / steps as f64).collect();
    let mut source = Draws::new(system, spread, seed);
    let mut curves: Vec<Vec<f64>> = places.iter().map(|_| Vec::with_capacity(draws)).collect();
    let (mut kelvins, mut fractions) = (Vec::with_capacity(draws), Vec::with_capacity(draws));
    let as_it_stands = self::curve(system, &places);
    let middle = splits_along(system, &as_it_stands);
    let mut windows = liquid_at.map(|at| DrawnWindows::new(at, &as_it_stands));
    for _ in 0..draws {
        let drawn = source.next_system();
        let mut found = self::curve(&drawn, &places);
        let apart = drawn_splits(&drawn, &found, &middle, spread.is_uncertain());
        level(&mut found, &apart);
        for ((x, found), curve) in found.iter().zip(&mut curves) {
            let told = found.filter(|(_, kelvin)| drawn.untold(&[*x, 1.0 - x], *kelvin).is_empty());
            curve.extend(told.map(|(_, kelvin)| kelvin));
        }
        if let Some(windows) = &mut windows {
            windows.see(&drawn, &found, &apart);
        }
        let Some((x, kelvin)) = lowest(&drawn, &found, &apart) else { continue };
        kelvins.push(kelvin);
        fractions.push(x);
    }
    let half = draws.div_ceil(2);
    let known = |values: Vec<f64>| (half <= values.len()).then(|| Spread::of(values, coverage)).flatten();
    let curve = places.into_iter().zip(curves).filter_map(|(x, values)| Some((x, known(values)?))).collect();
    Bands {
        draws,
        seed,
        coverage,
        curve,
        eutectic: known(kelvins),
        eutectic_fraction: known(fractions),
        with_window: windows.as_ref().map_or(0.0, |own| own.with_any as f64 / draws.max(1) as f64),
        windows: windows.map(|own| own.spreads(draws, coverage)).unwrap_or_default(),
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
