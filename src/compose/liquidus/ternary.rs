//! The liquidus of three components: a surface over the triangle, and its lowest point.

use nalgebra::{Matrix3, Vector3};
use serde::{Deserialize, Serialize};

use super::bands::Spread;
use super::binary::{Invariant, InvariantKind, LiquidusPoint};
use super::draw::{Draws, ModelSpread};
use super::stability::splits;
use super::system::System;
use crate::quantity::Temperature;

/// The surface at even steps of the mole fractions.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Surface {
    /// Steps along each edge.
    pub steps: usize,
    /// The liquidus at each place of the lattice, row by row: first component from 0 up, in each row the second from
    /// 0 up. `None` where no solid is in the range of its data.
    pub lattice: Vec<Option<LiquidusPoint>>,
    /// Ternary eutectics, the lowest first.
    pub eutectics: Vec<Invariant>,
}

/// What draws gave for the ternary eutectic.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TernarySpread {
    /// Number of draws.
    pub draws: usize,
    /// The seed.
    pub seed: u64,
    /// Share of the draws between the ends.
    pub coverage: f64,
    /// Its temperature in kelvin.
    pub temperature: Spread,
    /// Its mole fractions.
    pub fractions: Vec<Spread>,
    /// Share of all draws whose eutectic lies no higher than the temperature asked for.
    pub at_or_below: Option<f64>,
}

/// Steps of Newton's method.
const STEPS: usize = 60;

/// The liquidus of three components at even steps.
pub fn surface(system: &System, steps: usize) -> Surface {
    let place = |one: usize, two: usize| -> [f64; 3] {
        [one, two, steps - one - two].map(|part| part as f64 / steps as f64)
    };
    let point = |x: [f64; 3]| {
        let (solid, kelvin) = system.liquidus(&x)?;
        let temperature = Temperature::from_kelvin(kelvin);
        Some(LiquidusPoint {
            splits: splits(&system.model, &x, kelvin),
            untold: system.untold(&x, kelvin),
            fractions: x.to_vec(),
            temperature,
            solid,
        })
    };
    let lattice: Vec<Option<LiquidusPoint>> = (0..=steps)
        .flat_map(|one| (0..=steps - one).map(move |two| (one, two)))
        .map(|(one, two)| point(place(one, two)))
        .collect();
    let surface = Surface { steps, lattice, eutectics: Vec::new() };
    let eutectics = eutectics(system, &surface);
    Surface { eutectics, ..surface }
}

impl Surface {
    /// The place in the lattice of so many steps of the first and second component.
    pub fn place(&self, one: usize, two: usize) -> usize {
        // Rows of n + 1, n, n − 1 … places lie before.
        one * (self.steps + 1) - one * one.saturating_sub(1) / 2 + two
    }

    fn kelvin(&self, one: usize, two: usize) -> Option<f64> {
        Some(self.lattice.get(self.place(one, two))?.as_ref()?.temperature.kelvin())
    }

    /// Places inside the triangle that lie no higher than all of their neighbours.
    fn lows(&self) -> Vec<(usize, usize)> {
        let mut lows = Vec::new();
        for one in 1..self.steps {
            for two in 1..self.steps - one {
                let Some(own) = self.kelvin(one, two) else { continue };
                let around = [
                    (one + 1, two - 1),
                    (one + 1, two),
                    (one, two + 1),
                    (one - 1, two + 1),
                    (one - 1, two),
                    (one, two - 1),
                ];
                if around.iter().all(|(a, b)| self.kelvin(*a, *b).is_none_or(|other| own <= other)) {
                    lows.push((one, two));
                }
            }
        }
        lows
    }
}

/// From each low place of the lattice, made exact.
fn eutectics(system: &System, surface: &Surface) -> Vec<Invariant> {
    let mut found: Vec<Invariant> = Vec::new();
    for (one, two) in surface.lows() {
        let Some(point) = surface.lattice[surface.place(one, two)].as_ref() else { continue };
        let solids = highest_solids(system, &point.fractions);
        let start = (point.fractions[0], point.fractions[1], point.temperature.kelvin());
        let Some((x, kelvin)) = solids.and_then(|solids| meeting(system, solids, start)) else { continue };
        let known = found.iter().any(|own| own.fractions.iter().zip(x).all(|(a, b)| (a - b).abs() < 1e-6));
        // No other solid may have come out before, and the curves of all three must reach so far down.
        let reaches = |own: &[usize; 3]| own.iter().all(|at| system.solids[*at].fusion.reaches(kelvin));
        let stands = system.liquidus(&x).is_some_and(|(_, top)| top <= kelvin + 1e-6)
            && solids.as_ref().is_some_and(reaches);
        if !known && stands {
            found.push(Invariant {
                kind: InvariantKind::Eutectic,
                fractions: x.to_vec(),
                temperature: Temperature::from_kelvin(kelvin),
                solids: solids.map(Vec::from).unwrap_or_default(),
                splits: splits(&system.model, &x, kelvin),
            });
        }
    }
    found.sort_by(|one, other| one.temperature.kelvin().total_cmp(&other.temperature.kelvin()));
    found
}

/// The three solids that come out first.
fn highest_solids(system: &System, x: &[f64]) -> Option<[usize; 3]> {
    let mut each: Vec<(usize, f64)> =
        (0..system.solids.len()).filter_map(|solid| Some((solid, system.saturation(solid, x)?))).collect();
    each.sort_by(|one, other| other.1.total_cmp(&one.1));
    let [a, b, c, ..] = each[..] else { return None };
    Some([a.0, b.0, c.0])
}

/// Where a liquid is saturated with three solids at once: Newton's method on both fractions and the temperature, its
/// steps shortened so that no fraction leaves the triangle.
fn meeting(system: &System, solids: [usize; 3], start: (f64, f64, f64)) -> Option<([f64; 3], f64)> {
    let fractions = |at: &Vector3<f64>| [at[0], at[1], 1.0 - at[0] - at[1]];
    let values = |at: &Vector3<f64>| {
        let x = fractions(at);
        Vector3::from_fn(|row, _| system.excess_of(solids[row], &x, at[2]).0)
    };
    let mut at = Vector3::new(start.0, start.1, start.2);
    for _ in 0..STEPS {
        let x = fractions(&at);
        let value = values(&at);
        let slopes = Matrix3::from_fn(|row, column| {
            if column == 2 {
                return system.excess_of(solids[row], &x, at[2]).1;
            }
            let near = 1e-6 * x[column].min(x[2]);
            let beside = |by: f64| {
                let mut moved = at;
                moved[column] += by;
                values(&moved)[row]
            };
            (beside(near) - beside(-near)) / (2.0 * near)
        });
        let step = slopes.lu().solve(&value)?;
        let share = inside(&at, &step);
        at -= step * share;
        if share == 1.0 && step[0].abs() + step[1].abs() < 1e-12 && step[2].abs() < 1e-9 {
            let x = fractions(&at);
            return x.iter().all(|share| 0.0 < *share).then_some((x, at[2]));
        }
    }
    None
}

/// So much of a step that each fraction keeps at least a tenth of itself, and the temperature half.
fn inside(at: &Vector3<f64>, step: &Vector3<f64>) -> f64 {
    let rest = 1.0 - at[0] - at[1];
    let falls = [(at[0], step[0]), (at[1], step[1]), (rest, -step[0] - step[1])];
    let shares = falls.iter().filter(|(_, fall)| 0.0 < *fall).map(|(own, fall)| 0.9 * own / fall);
    let temperature = if 0.0 < step[2] { 0.5 * at[2] / step[2] } else { 1.0 };
    shares.fold(temperature.min(1.0), f64::min)
}

/// The lowest ternary eutectic of drawn systems; `None` if fewer than half of them have one.
pub fn ternary_spread(
    system: &System,
    spread: &ModelSpread,
    eutectic: &Invariant,
    (draws, seed): (usize, u64),
    coverage: f64,
    liquid_at: Option<Temperature>,
) -> Option<TernarySpread> {
    let solids: [usize; 3] = eutectic.solids.clone().try_into().ok()?;
    let start = (eutectic.fractions[0], eutectic.fractions[1], eutectic.temperature.kelvin());
    let mut source = Draws::new(system, spread, seed);
    let found: Vec<_> = (0..draws).filter_map(|_| meeting(&source.next_system(), solids, start)).collect();
    if found.len() < draws.div_ceil(2) {
        return None;
    }
    let temperature = Spread::of(found.iter().map(|(_, kelvin)| *kelvin).collect(), coverage)?;
    let fraction = |at: usize| Spread::of(found.iter().map(|(x, _)| x[at]).collect(), coverage);
    let fractions = (0..3).filter_map(fraction).collect();
    let at_or_below = liquid_at.map(|at| {
        let low = found.iter().filter(|(_, kelvin)| *kelvin <= at.kelvin()).count();
        low as f64 / draws as f64
    });
    Some(TernarySpread { draws, seed, coverage, temperature, fractions, at_or_below })
}
