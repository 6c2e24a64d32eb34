//! Which compositions of three components stay one liquid down to a temperature.

use serde::{Deserialize, Serialize};

use super::stability::splits;
use super::system::System;
use super::ternary::Surface;

/// The range of one component over a region.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LiquidRange {
    /// Its least mole fraction.
    pub from: f64,
    /// Its greatest.
    pub to: f64,
}

/// Compositions that stay one liquid down to a temperature.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Region {
    /// Their share of the lattice, counted.
    pub share: f64,
    /// The places of the lattice that are among them, in its order.
    pub liquid: Vec<bool>,
    /// The range of each component, its ends made exact; empty if there is no such composition.
    pub ranges: Vec<LiquidRange>,
}

/// Halvings of a step of the lattice.
const HALVINGS: usize = 12;
/// Steps along a line on which the lowest liquidus is looked for.
const ALONG: usize = 24;
/// Narrowings of the best of them.
const NARROWINGS: usize = 24;

/// The region at a temperature in kelvin. It begins at the places of the lattice that stay liquid and at the given low
/// places, such as eutectics; what is smaller than a step of the lattice and holds none of them is missed.
pub fn region(system: &System, kelvin: f64, surface: &Surface, lows: &[[f64; 3]]) -> Region {
    let is_liquid = |x: &[f64]| {
        system.liquidus(x).is_some_and(|(_, found)| found <= kelvin)
            && system.untold(x, kelvin).is_empty()
            && !splits(&system.model, x, kelvin)
    };
    let liquid: Vec<bool> = surface
        .lattice
        .iter()
        .map(|point| {
            point.as_ref().is_some_and(|own| own.temperature.kelvin() <= kelvin && is_liquid(&own.fractions))
        })
        .collect();
    let known = surface.lattice.iter().flatten().count().max(1);
    let share = liquid.iter().filter(|liquid| **liquid).count() as f64 / known as f64;
    let on_lattice = surface.lattice.iter().zip(&liquid).filter(|(_, liquid)| **liquid);
    let starts: Vec<[f64; 3]> = on_lattice
        .filter_map(|(point, _)| point.as_ref()?.fractions[..].try_into().ok())
        .chain(lows.iter().copied().filter(|x| is_liquid(x)))
        .collect();
    let step = 1.0 / surface.steps as f64;
    let range = |at: usize| {
        let by_share = |one: &&[f64; 3], other: &&[f64; 3]| one[at].total_cmp(&other[at]);
        let (low, high) = (starts.iter().min_by(by_share)?, starts.iter().max_by(by_share)?);
        let end = |start: &[f64; 3], way: f64| reach(&is_liquid, system, start, at, way * step);
        Some(LiquidRange { from: end(low, -1.0), to: end(high, 1.0) })
    };
    Region { share, ranges: (0..3).filter_map(range).collect(), liquid }
}

/// How far the share of a component can be changed from a composition in the region, step by step and then by halves,
/// while some composition near by stays liquid.
fn reach(is_liquid: &dyn Fn(&[f64]) -> bool, system: &System, start: &[f64; 3], at: usize, step: f64) -> f64 {
    let (mut inside, mut held) = (start[at], *start);
    let mut size = step;
    for _ in 0..(1.0 / step.abs()) as usize + HALVINGS {
        let next = (inside + size).clamp(0.0, 1.0);
        let low = (next != inside).then(|| lowest_along(system, &held, at, next, step.abs()));
        match low.filter(|x| is_liquid(x)) {
            Some(low) => (inside, held) = (next, low),
            None if size.abs() * f64::powi(2.0, HALVINGS as i32) < step.abs() => break,
            None => size /= 2.0,
        }
    }
    inside
}

/// The composition with the lowest liquidus at a given share of one component, near another composition: along the line
/// first on a grid, then by thirds.
fn lowest_along(system: &System, near: &[f64; 3], at: usize, share: f64, step: f64) -> [f64; 3] {
    let [one, other] = [(at + 1) % 3, (at + 2) % 3];
    let rest = 1.0 - share;
    let place = |part: f64| {
        let mut x = [0.0; 3];
        (x[at], x[one], x[other]) = (share, part, rest - part);
        x
    };
    let kelvin = |part: f64| system.liquidus(&place(part)).map_or(f64::INFINITY, |(_, kelvin)| kelvin);
    let (low, high) = ((near[one] - 4.0 * step).max(0.0), (near[one] + 4.0 * step).min(rest));
    let width = (high - low).max(0.0) / ALONG as f64;
    let parts = (0..=ALONG).map(|part| (low + width * part as f64).min(rest));
    let best = parts.min_by(|a, b| kelvin(*a).total_cmp(&kelvin(*b))).unwrap_or(low);
    let (mut from, mut to) = ((best - width).max(0.0), (best + width).min(rest));
    for _ in 0..NARROWINGS {
        let (left, right) = (from + (to - from) / 3.0, to - (to - from) / 3.0);
        if kelvin(left) < kelvin(right) { to = right } else { from = left }
    }
    // The ends of the line are compositions without one component, which may lie lower than all beside them.
    let ends = [best, (from + to) / 2.0];
    place(ends.into_iter().min_by(|a, b| kelvin(*a).total_cmp(&kelvin(*b))).unwrap_or(best))
}
