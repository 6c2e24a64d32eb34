//! How far the compositions of three components that stay liquid reach within the uncertainty of the data, by Monte
//! Carlo.

use serde::{Deserialize, Serialize};

use super::bands::Spread;
use super::draw::{Draws, ModelSpread};
use super::stability::splits;
use super::system::System;
use crate::statistics::curve_fit::GAS_CONSTANT;

/// What draws gave for the compositions that stay one liquid down to a temperature.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RegionSpread {
    /// Number of draws.
    pub draws: usize,
    /// Steps of the lattice along each edge of the triangle.
    pub steps: usize,
    /// Share of the draws in which any composition stays liquid.
    pub with_region: f64,
    /// The least and the greatest mole fraction of each component, of those draws; empty without any.
    pub ranges: Vec<(Spread, Spread)>,
    /// Share of the draws in which each place of the lattice stays liquid, row by row as on a surface.
    pub shares: Vec<f64>,
}

/// Steps of the lattice.
const STEPS: usize = 40;
/// The same where the model itself is drawn, and each place has to be worked out anew.
const COARSE: usize = 20;

/// A composition, and how far each solid is from coming out of it: x γ over the same where it is saturated, less 1.
/// Above 0 it comes out; the last is above 0 where the liquid comes apart or its data do not tell.
#[derive(Clone)]
struct Corner {
    x: [f64; 3],
    surplus: Vec<f64>,
}

/// A lattice over the triangle, and what does not change from draw to draw.
struct Lattice<'s> {
    system: &'s System,
    kelvin: f64,
    places: Vec<[f64; 3]>,
    cells: Vec<[usize; 3]>,
    /// The surplus of each solid at each place by the data as they stand, and whether the liquid comes apart there; only
    /// where the model is not drawn.
    known: Option<Vec<(Vec<f64>, bool)>>,
}

/// Draws systems and sees where each stays one liquid at a temperature in kelvin. Within a cell of the lattice the
/// surplus of each solid is taken as linear in the fractions, which for a pure solid in an ideal liquid it is.
pub fn region_spread(
    system: &System,
    spread: &ModelSpread,
    (draws, seed): (usize, u64),
    coverage: f64,
    kelvin: f64,
) -> RegionSpread {
    let steps = if spread.is_uncertain() { COARSE } else { STEPS };
    let lattice = Lattice::new(system, kelvin, steps, spread.is_uncertain());
    let mut source = Draws::new(system, spread, seed);
    let mut counts = vec![0_usize; lattice.places.len()];
    let mut ends: [(Vec<f64>, Vec<f64>); 3] = Default::default();
    for _ in 0..draws {
        let surplus = lattice.drawn(&source.next_system());
        for (count, own) in counts.iter_mut().zip(&surplus) {
            *count += usize::from(own.iter().all(|own| *own <= 0.0));
        }
        let Some(reached) = lattice.reached(&surplus) else { continue };
        for ((from, to), (low, high)) in ends.iter_mut().zip(reached) {
            from.push(low);
            to.push(high);
        }
    }
    let share = |count: usize| count as f64 / draws.max(1) as f64;
    RegionSpread {
        draws,
        steps,
        with_region: share(ends[0].0.len()),
        ranges: ends
            .into_iter()
            .filter_map(|(from, to)| Spread::of(from, coverage).zip(Spread::of(to, coverage)))
            .collect(),
        shares: counts.into_iter().map(share).collect(),
    }
}

impl<'s> Lattice<'s> {
    fn new(system: &'s System, kelvin: f64, steps: usize, is_model_drawn: bool) -> Self {
        let part = |at: usize| at as f64 / steps as f64;
        let places: Vec<[f64; 3]> =
            places(steps).map(|(one, two)| [one, two, steps - one - two].map(part)).collect();
        let known = (!is_model_drawn).then(|| {
            let one = |x: &[f64; 3]| (surpluses(system, x, kelvin), splits(&system.model, x, kelvin));
            places.iter().map(one).collect()
        });
        Self { system, kelvin, places, cells: cells(steps), known }
    }

    /// The surplus of each solid at each place, and behind them whether it is one liquid whose data tell.
    fn drawn(&self, drawn: &System) -> Vec<Vec<f64>> {
        let gibbs = |system: &System, solid: usize| system.solids[solid].fusion.gibbs(self.kelvin);
        // Of a solid in a liquid of one model the energy of fusion alone is drawn, alike at every composition.
        let factor = |solid: usize| {
            ((gibbs(drawn, solid) - gibbs(self.system, solid)) / (GAS_CONSTANT * self.kelvin)).exp()
        };
        let factors: Vec<f64> = (0..drawn.solids.len()).map(factor).collect();
        let is_limited = drawn.solids.iter().any(|solid| solid.fusion.ends_at().is_some());
        let at = |(place, x): (usize, &[f64; 3])| {
            let (mut surplus, known_apart) = match &self.known {
                Some(known) => {
                    let scaled = known[place].0.iter().zip(&factors).map(|(own, by)| (own + 1.0) * by - 1.0);
                    (scaled.collect(), Some(known[place].1))
                }
                None => (surpluses(drawn, x, self.kelvin), None),
            };
            // Where a solid comes out the rest need not be asked.
            let is_clear = surplus.iter().all(|own| *own <= 0.0);
            let untold = || is_limited && !drawn.untold(x, self.kelvin).is_empty();
            let apart = || known_apart.unwrap_or_else(|| splits(&drawn.model, x, self.kelvin));
            surplus.push(if is_clear && (untold() || apart()) { 1.0 } else { -1.0 });
            surplus
        };
        self.places.iter().enumerate().map(at).collect()
    }

    /// The least and the greatest fraction of each component in all that is liquid; `None` if nothing is.
    fn reached(&self, surplus: &[Vec<f64>]) -> Option<[(f64, f64); 3]> {
        let mut ends = [(f64::INFINITY, f64::NEG_INFINITY); 3];
        for cell in &self.cells {
            for x in liquid_part(cell.map(|at| (&self.places[at], &surplus[at]))) {
                for ((low, high), x) in ends.iter_mut().zip(x) {
                    (*low, *high) = (low.min(x), high.max(x));
                }
            }
        }
        (ends[0].0 <= ends[0].1).then_some(ends)
    }
}

/// How far each solid is from coming out; −1 where a component of it is not there.
fn surpluses(system: &System, x: &[f64; 3], kelvin: f64) -> Vec<f64> {
    let of = |solid: usize| {
        let is_there = system.solids[solid].formula.iter().zip(x).all(|(moles, x)| *moles == 0.0 || 0.0 < *x);
        if is_there {
            (system.excess_of(solid, x, kelvin).0 / (GAS_CONSTANT * kelvin)).exp_m1()
        } else {
            -1.0
        }
    };
    (0..system.solids.len()).map(of).collect()
}

impl Corner {
    /// Where on the way to another corner a solid is just saturated.
    fn towards(&self, other: &Self, solid: usize) -> Self {
        let part = self.surplus[solid] / (self.surplus[solid] - other.surplus[solid]);
        let between = |one: f64, other: f64| one + part * (other - one);
        Self {
            x: std::array::from_fn(|at| between(self.x[at], other.x[at])),
            surplus: self
                .surplus
                .iter()
                .zip(&other.surplus)
                .map(|(one, other)| between(*one, *other))
                .collect(),
        }
    }
}

/// The corners of what is liquid in a cell: it is cut along the line on which each solid is saturated (I. E. Sutherland,
/// G. W. Hodgman, Commun. ACM 17 (1974) 32).
fn liquid_part(cell: [(&[f64; 3], &Vec<f64>); 3]) -> Vec<[f64; 3]> {
    let solids = cell[0].1.len();
    let comes_out = |solid: usize| cell.iter().filter(|(_, surplus)| 0.0 < surplus[solid]).count();
    let partly: Vec<usize> = (0..solids).filter(|solid| 0 < comes_out(*solid)).collect();
    if partly.iter().any(|solid| comes_out(*solid) == cell.len()) {
        return Vec::new();
    }
    if partly.is_empty() {
        return cell.iter().map(|(x, _)| **x).collect();
    }
    let mut shape: Vec<Corner> =
        cell.iter().map(|(x, surplus)| Corner { x: **x, surplus: surplus.to_vec() }).collect();
    for solid in partly {
        let mut kept = Vec::with_capacity(shape.len() + 1);
        for (at, own) in shape.iter().enumerate() {
            let next = &shape[(at + 1) % shape.len()];
            let (inside, next_inside) = (own.surplus[solid] <= 0.0, next.surplus[solid] <= 0.0);
            kept.extend(inside.then(|| own.clone()));
            kept.extend((inside != next_inside).then(|| own.towards(next, solid)));
        }
        shape = kept;
    }
    shape.into_iter().map(|own| own.x).collect()
}

/// Steps of the first and second component at each place, row by row.
fn places(steps: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..=steps).flat_map(move |one| (0..=steps - one).map(move |two| (one, two)))
}

/// The cells of the lattice by their corners.
fn cells(steps: usize) -> Vec<[usize; 3]> {
    // Rows of n + 1, n, n − 1 … places lie before.
    let at = |one: usize, two: usize| {
        (one + two <= steps).then(|| one * (steps + 1) - one * one.saturating_sub(1) / 2 + two)
    };
    let up = |(one, two): (usize, usize)| Some([at(one, two)?, at(one + 1, two)?, at(one, two + 1)?]);
    let down =
        |(one, two): (usize, usize)| Some([at(one + 1, two)?, at(one, two + 1)?, at(one + 1, two + 1)?]);
    places(steps).filter_map(up).chain(places(steps).filter_map(down)).collect()
}
