//! Which compositions stay liquid down to a temperature.

use serde::{Deserialize, Serialize};

use super::miscibility::{Gap, gaps};
use super::system::System;
use crate::statistics::root;

/// A range of compositions of two components, by the mole fraction of the first.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Window {
    /// Where it begins.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
}

/// The ranges in which at a temperature in kelvin there is one liquid and no solid. What the data do not tell is not
/// among them. Looked for on a grid: a range narrower than one of its steps can be missed, unless it holds one of the
/// crossings that are given.
pub fn windows(system: &System, kelvin: f64, steps: usize, crossings: &[f64]) -> Vec<Window> {
    let without_solid = without_solid(system, kelvin, steps, crossings);
    gaps(&system.model, kelvin)
        .into_iter()
        .fold(without_solid, |windows, gap| windows.into_iter().flat_map(|own| own.without(gap)).collect())
}

/// The ranges in which at a temperature in kelvin there are two liquids in equilibrium and no solid.
pub fn two_liquids(system: &System, kelvin: f64) -> Vec<Window> {
    let dissolves = |x: f64| system.liquidus(&[x, 1.0 - x]).is_some_and(|(_, found)| found <= kelvin);
    let gaps = gaps(&system.model, kelvin).into_iter();
    gaps.filter(|gap| dissolves(gap.from)).map(|gap| Window { from: gap.from, to: gap.to }).collect()
}

/// The ranges in which no solid comes out above a temperature in kelvin, as if the liquid were one everywhere.
fn without_solid(system: &System, kelvin: f64, steps: usize, crossings: &[f64]) -> Vec<Window> {
    let mut places: Vec<f64> = (0..=steps).map(|step| step as f64 / steps as f64).collect();
    places.extend(crossings);
    places.sort_by(f64::total_cmp);
    let above = |x: f64| {
        let found =
            system.liquidus(&[x, 1.0 - x]).filter(|_| system.untold(&[x, 1.0 - x], kelvin).is_empty());
        found.map_or(f64::NAN, |(_, found)| found - kelvin)
    };
    let liquid: Vec<bool> = places.iter().map(|x| above(*x) <= 0.0).collect();
    let end = |one: usize, other: usize| {
        let found = root::between(above, places[one], places[other]);
        // Where there is no liquidus on one side, the grid is all that is known.
        if found.is_finite() { found } else { places[one] }
    };
    let mut windows = Vec::new();
    let mut at = 0;
    while at < places.len() {
        if !liquid[at] {
            at += 1;
            continue;
        }
        let last = (at..places.len()).take_while(|next| liquid[*next]).last().unwrap_or(at);
        let from = if at == 0 { 0.0 } else { end(at, at - 1) };
        let to = if last + 1 == places.len() { 1.0 } else { end(last, last + 1) };
        windows.push(Window { from, to });
        at = last + 1;
    }
    windows
}

impl Window {
    /// What is left of it outside of a miscibility gap.
    pub(super) fn without(self, gap: Gap) -> impl Iterator<Item = Self> {
        let left = Self { to: self.to.min(gap.from), ..self };
        let right = Self { from: self.from.max(gap.to), ..self };
        [left, right].into_iter().filter(|own| own.from < own.to)
    }

    /// How wide it is.
    pub fn width(&self) -> f64 {
        self.to - self.from
    }
}
