//! The diagram of two components: its curve, its eutectics and peritectics, and where the liquid comes apart.

use serde::{Deserialize, Serialize};

use super::stability::splits;
use super::system::System;
use crate::quantity::Temperature;
use crate::statistics::root;

/// Where a liquid begins to give a solid on cooling.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LiquidusPoint {
    /// Mole fractions in the order of the components.
    pub fractions: Vec<f64>,
    /// The temperature.
    pub temperature: Temperature,
    /// Which solid comes out.
    pub solid: usize,
    /// True if the model's liquid would come apart into two here: then there is no such liquid.
    pub splits: bool,
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

/// A range of the curve in which the model's liquid comes apart into two.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Split {
    /// Mole fraction of the first component where it begins.
    pub from: f64,
    /// And where it ends.
    pub to: f64,
    /// The temperature at which both liquids meet the solid (monotectic).
    pub temperature: Temperature,
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
    let found: Vec<(f64, Option<(usize, f64)>)> =
        places.iter().map(|x| (*x, system.liquidus(&pair(*x)))).collect();
    let points: Vec<LiquidusPoint> = found
        .iter()
        .filter_map(|(x, found)| {
            let (solid, kelvin) = (*found)?;
            let fractions = pair(*x).to_vec();
            let splits = splits(&system.model, &fractions, kelvin);
            Some(LiquidusPoint { fractions, temperature: Temperature::from_kelvin(kelvin), solid, splits })
        })
        .collect();
    let changes = found.windows(2).filter_map(|pair| {
        let ((from, Some((one, _))), (to, Some((other, _)))) = (pair[0], pair[1]) else { return None };
        (one != other).then(|| invariant(system, (from, to), (one, other)))?
    });
    let (invariants, splits) = (changes.collect(), ranges(system, &points));
    Diagram { points, invariants, splits }
}

fn pair(x: f64) -> [f64; 2] {
    [x, 1.0 - x]
}

/// Where two curves cross between two compositions.
fn invariant(system: &System, (from, to): (f64, f64), (one, other): (usize, usize)) -> Option<Invariant> {
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
        splits: splits(&system.model, &pair(x), kelvin),
    })
}

fn crossing(system: &System, (from, to): (f64, f64), (one, other): (usize, usize)) -> Option<f64> {
    let at = |solid: usize, x: f64| system.saturation(solid, &pair(x)).unwrap_or(0.0);
    let difference = |x: f64| at(one, x) - at(other, x);
    Some(root::between(difference, from, to)).filter(|x| x.is_finite())
}

/// The lowest crossing of the curve on a coarse grid, made exact: mole fraction of the first component and kelvins.
pub fn lowest(system: &System, places: &[(f64, Option<(usize, f64)>)]) -> Option<(f64, f64)> {
    let changes = places.windows(2).filter_map(|window| {
        let ((from, Some((one, _))), (to, Some((other, _)))) = (window[0], window[1]) else { return None };
        if one == other {
            return None;
        }
        let x = crossing(system, (from, to), (one, other))?;
        Some((x, system.saturation(one, &pair(x))?))
    });
    changes.min_by(|one, other| one.1.total_cmp(&other.1))
}

/// Neighbouring points that split, as ranges whose ends are made exact.
fn ranges(system: &System, points: &[LiquidusPoint]) -> Vec<Split> {
    let mut ranges = Vec::new();
    let mut at = 0;
    while at < points.len() {
        if !points[at].splits {
            at += 1;
            continue;
        }
        let last = (at..points.len()).take_while(|next| points[*next].splits).last().unwrap_or(at);
        let outside =
            |next: Option<usize>| next.and_then(|next| points.get(next)).map(|own| own.fractions[0]);
        let from = edge(system, points[at].fractions[0], outside(at.checked_sub(1)));
        let to = edge(system, points[last].fractions[0], outside(Some(last + 1)));
        let kelvin = system.liquidus(&pair(to)).map_or(f64::NAN, |(_, kelvin)| kelvin);
        ranges.push(Split { from, to, temperature: Temperature::from_kelvin(kelvin) });
        at = last + 1;
    }
    ranges
}

/// The composition at which splitting ends, between one that splits and one that does not.
fn edge(system: &System, inside: f64, outside: Option<f64>) -> f64 {
    let Some(outside) = outside else { return inside };
    let does =
        |x: f64| system.liquidus(&pair(x)).is_some_and(|(_, kelvin)| splits(&system.model, &pair(x), kelvin));
    let (mut inside, mut outside) = (inside, outside);
    for _ in 0..30 {
        let middle = (inside + outside) / 2.0;
        if does(middle) { inside = middle } else { outside = middle }
    }
    outside
}
