//! The diagram of two components: its curve, its eutectics and peritectics, and where the liquid comes apart.

use serde::{Deserialize, Serialize};

use super::miscibility::{Split, comes_apart, monotectic};
use super::stability::splits;
use super::system::System;
use crate::quantity::Temperature;
use crate::statistics::root;

/// Where a liquid begins to give a solid on cooling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LiquidusPoint {
    /// Mole fractions in the order of the components.
    pub fractions: Vec<f64>,
    /// The temperature. Of two components that come apart into two liquids, that at which both meet the solid.
    pub temperature: Temperature,
    /// Which solid comes out.
    pub solid: usize,
    /// True if the model's liquid would come apart into two here: then there is no such liquid, and of three components
    /// the temperature is no equilibrium.
    pub splits: bool,
    /// Solids of which the data do not say whether they come out before: then the temperature is a lower bound.
    pub untold: Vec<usize>,
}

/// Where the curve of a solid ends because its enthalpy of fusion has fallen to 0.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BranchEnd {
    /// The solid.
    pub solid: usize,
    /// Mole fraction of the first component.
    pub fraction: f64,
    /// The temperature.
    pub temperature: Temperature,
}

/// What is invariant at a given pressure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum InvariantKind {
    /// The liquid freezes as a whole: every change of composition raises its liquidus.
    Eutectic,
    /// One solid turns into another while the liquidus goes on falling.
    Peritectic,
}

/// A liquid in equilibrium with as many solids as it has components.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Invariant {
    /// Of which kind.
    pub kind: InvariantKind,
    /// Mole fractions of the liquid.
    pub fractions: Vec<f64>,
    /// The temperature.
    pub temperature: Temperature,
    /// The solids.
    pub solids: Vec<usize>,
    /// True if the model's liquid would come apart into two before it gets there.
    pub splits: bool,
}

/// The diagram of two components.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Diagram {
    /// The curve, from none of the first component to nothing else. Compositions whose every solid has left the range
    /// of its data are missing.
    pub points: Vec<LiquidusPoint>,
    /// Eutectics and peritectics, in the order of the first component.
    pub invariants: Vec<Invariant>,
    /// Where the model's liquid comes apart.
    pub splits: Vec<Split>,
    /// Where curves end that are part of the liquidus up to there.
    pub ends: Vec<BranchEnd>,
}

impl Diagram {
    /// The eutectics that a single liquid reaches.
    pub fn eutectics(&self) -> impl Iterator<Item = &Invariant> {
        self.invariants.iter().filter(|own| own.kind == InvariantKind::Eutectic && !own.splits)
    }
}

/// The curve at even steps of the mole fraction of the first component, and at the composition of each compound.
pub fn diagram(system: &System, steps: usize) -> Diagram {
    let mut places: Vec<f64> = (0..=steps).map(|step| step as f64 / steps as f64).collect();
    places.extend(system.solids.iter().filter(|solid| solid.is_compound()).map(|solid| solid.fractions()[0]));
    places.sort_by(f64::total_cmp);
    places.dedup();
    let mut found = curve(system, &places);
    let apart = splits_along(system, &found);
    level(&mut found, &apart);
    let point = |(x, found): &(f64, Option<(usize, f64)>)| {
        let (solid, kelvin) = (*found)?;
        let fractions = pair(*x).to_vec();
        let untold = system.untold(&fractions, kelvin);
        let splits = apart.iter().any(|own| own.holds(*x));
        Some(LiquidusPoint {
            fractions,
            temperature: Temperature::from_kelvin(kelvin),
            solid,
            splits,
            untold,
        })
    };
    let changes = found.windows(2).filter_map(|pair| {
        let ((from, Some((one, _))), (to, Some((other, _)))) = (pair[0], pair[1]) else { return None };
        (one != other).then(|| invariant(system, (from, to), (one, other), &apart))?
    });
    Diagram {
        points: found.iter().filter_map(point).collect(),
        invariants: changes.collect(),
        ends: ends(system, &places),
        splits: apart,
    }
}

/// The first solid and its temperature in kelvin, as if the liquid were one everywhere.
pub(super) fn curve(system: &System, places: &[f64]) -> Vec<(f64, Option<(usize, f64)>)> {
    places.iter().map(|x| (*x, system.liquidus(&pair(*x)))).collect()
}

/// Where the liquid has come apart, the solid comes out at the temperature at which both liquids meet it.
pub(super) fn level(found: &mut [(f64, Option<(usize, f64)>)], apart: &[Split]) {
    for (x, found) in found {
        if let Some(split) = apart.iter().find(|own| own.holds(*x)) {
            *found = Some((split.solid, split.temperature.kelvin()));
        }
    }
}

fn pair(x: f64) -> [f64; 2] {
    [x, 1.0 - x]
}

/// Where two curves cross between two compositions.
fn invariant(
    system: &System,
    (from, to): (f64, f64),
    (one, other): (usize, usize),
    apart: &[Split],
) -> Option<Invariant> {
    let x = crossing(system, (from, to), (one, other))?;
    let kelvin = system.saturation(one, &pair(x))?;
    let near = 1e-6_f64.min((to - from) / 4.0);
    let beside = |x: f64| system.liquidus(&pair(x)).map_or(0.0, |(_, kelvin)| kelvin);
    let is_lowest = kelvin <= beside(x - near) && kelvin <= beside(x + near);
    Some(Invariant {
        kind: if is_lowest { InvariantKind::Eutectic } else { InvariantKind::Peritectic },
        fractions: pair(x).to_vec(),
        temperature: Temperature::from_kelvin(kelvin),
        solids: vec![one, other],
        splits: apart.iter().any(|own| own.holds(x)) || splits(&system.model, &pair(x), kelvin),
    })
}

/// Kelvins within which two curves meet.
const MEETS: f64 = 1e-5;

/// The composition at which a liquid is saturated with two solids, the one leading at one end of a range and the other
/// at the other. `None` if the one curve ends above the other before they meet.
fn crossing(system: &System, (from, to): (f64, f64), (one, other): (usize, usize)) -> Option<f64> {
    let at = |solid: usize, x: f64| system.saturation(solid, &pair(x));
    let difference = |x: f64| at(one, x).unwrap_or(0.0) - at(other, x).unwrap_or(0.0);
    let meets = |x: &f64| {
        x.is_finite()
            && at(one, *x).zip(at(other, *x)).is_some_and(|(one, other)| (one - other).abs() < MEETS)
    };
    let within = |from: f64, to: f64| Some(root::between(difference, from, to)).filter(meets);
    // Where a curve ends between them, only the part before can hold a crossing.
    within(from, to)
        .or_else(|| within(from, last_on(system, one, (from, to))?))
        .or_else(|| within(to, last_on(system, other, (to, from))?))
}

/// The last composition on the way from one where a solid comes out to one where it does not; `None` if it does so at
/// both.
fn last_on(system: &System, solid: usize, (near, far): (f64, f64)) -> Option<f64> {
    let is_on = |x: f64| system.saturation(solid, &pair(x)).is_some();
    if !is_on(near) || is_on(far) {
        return None;
    }
    let (mut near, mut far) = (near, far);
    for _ in 0..60 {
        let middle = (near + far) / 2.0;
        if is_on(middle) { near = middle } else { far = middle }
    }
    Some(near)
}

/// Ends of curves that are part of the liquidus up to there.
fn ends(system: &System, places: &[f64]) -> Vec<BranchEnd> {
    let limited = system.solids.iter().enumerate().filter_map(|(at, own)| Some((at, own.fusion.ends_at()?)));
    let mut ends = Vec::new();
    for (solid, kelvin) in limited {
        let sides = places.windows(2).flat_map(|pair| [(pair[0], pair[1]), (pair[1], pair[0])]);
        let last = sides.filter_map(|side| last_on(system, solid, side)).filter(|x| {
            let found = system.liquidus(&pair(*x));
            found.is_some_and(|(top, found)| top == solid && (found - kelvin).abs() < 1.0)
        });
        let end = |fraction| BranchEnd { solid, fraction, temperature: Temperature::from_kelvin(kelvin) };
        ends.extend(last.map(end));
    }
    ends
}

/// The lowest crossing of the curve on a coarse grid, made exact: mole fraction of the first component and kelvins. What
/// lies where the liquid has come apart is none.
pub fn lowest(
    system: &System,
    places: &[(f64, Option<(usize, f64)>)],
    apart: &[Split],
) -> Option<(f64, f64)> {
    let changes = places.windows(2).filter_map(|window| {
        let ((from, Some((one, _))), (to, Some((other, _)))) = (window[0], window[1]) else { return None };
        if one == other {
            return None;
        }
        let x = crossing(system, (from, to), (one, other))?;
        (!apart.iter().any(|own| own.holds(x))).then_some((x, system.saturation(one, &pair(x))?))
    });
    changes.min_by(|one, other| one.1.total_cmp(&other.1))
}

/// Where the liquid comes apart along a curve, the ends of each range made exact.
pub(super) fn splits_along(system: &System, found: &[(f64, Option<(usize, f64)>)]) -> Vec<Split> {
    let known: Vec<(f64, f64)> = found.iter().filter_map(|(x, found)| Some((*x, (*found)?.1))).collect();
    let kelvins = || known.iter().map(|(_, kelvin)| *kelvin);
    let (low, high) = (kelvins().fold(f64::INFINITY, f64::min), kelvins().fold(0.0, f64::max));
    if !(comes_apart(&system.model, low) || comes_apart(&system.model, high)) {
        return Vec::new();
    }
    let apart = |(x, kelvin): &(f64, f64)| splits(&system.model, &pair(*x), *kelvin);
    let mut ranges: Vec<Split> = Vec::new();
    for range in known.chunk_by(|one, other| apart(one) == apart(other)).filter(|range| apart(&range[0])) {
        let middle = range[range.len() / 2].0;
        if ranges.iter().any(|own| own.holds(middle)) {
            continue;
        }
        let lowest = range.iter().map(|(_, kelvin)| *kelvin).fold(f64::INFINITY, f64::min);
        ranges.extend(monotectic(system, lowest, middle));
    }
    ranges
}
