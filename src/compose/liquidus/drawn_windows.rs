//! Where drawn liquids stay liquid down to a temperature, window by window.

use super::bands::{LiquidAt, Spread, WindowSpread};
use super::binary::lowest;
use super::miscibility::{Gap, Split, gaps};
use super::system::System;

/// A mole fraction of the first component, with the first solid and its temperature in kelvin.
type Found = (f64, Option<(usize, f64)>);

/// The stretch in which one window is looked for, and where it began and ended in the draws so far.
struct Stretch {
    /// Places of the curve.
    first: usize,
    last: usize,
    from: Vec<f64>,
    to: Vec<f64>,
}

/// What the draws so far gave for the windows at a temperature.
pub(super) struct DrawnWindows {
    kelvin: f64,
    stretches: Vec<Stretch>,
    pub(super) with_any: usize,
}

impl DrawnWindows {
    /// The stretches part at the highest place of the curve between two windows.
    pub(super) fn new(at: LiquidAt<'_>, curve: &[Found]) -> Self {
        let kelvin = |place: &usize| curve[*place].1.map_or(f64::INFINITY, |(_, kelvin)| kelvin);
        let between = |pair: &[super::window::Window]| {
            let inside = |place: &usize| pair[0].to <= curve[*place].0 && curve[*place].0 <= pair[1].from;
            let highest = (0..curve.len()).filter(inside).max_by(|a, b| kelvin(a).total_cmp(&kelvin(b)));
            highest.unwrap_or_else(|| curve.partition_point(|(x, _)| *x < pair[0].to))
        };
        let mut borders = vec![0];
        borders.extend(at.windows.windows(2).map(between));
        borders.push(curve.len().saturating_sub(1));
        let stretch =
            |pair: &[usize]| Stretch { first: pair[0], last: pair[1], from: Vec::new(), to: Vec::new() };
        Self { kelvin: at.kelvin, stretches: borders.windows(2).map(stretch).collect(), with_any: 0 }
    }

    /// Takes in one drawn liquid: its curve at the same places, and where it comes apart.
    pub(super) fn see(&mut self, drawn: &System, found: &[Found], apart: &[Split]) {
        let mut any = false;
        for stretch in &mut self.stretches {
            let own = found.get(stretch.first..=stretch.last).unwrap_or_default();
            let Some(low) = low_place(drawn, own, apart).filter(|(_, kelvin)| *kelvin <= self.kelvin) else {
                continue;
            };
            let (from, to) = around(drawn, found, low, self.kelvin);
            stretch.from.push(from);
            stretch.to.push(to);
            any = true;
        }
        self.with_any += usize::from(any);
    }

    /// What it came to.
    pub(super) fn spreads(self, draws: usize, coverage: f64) -> Vec<WindowSpread> {
        let spread = |own: Stretch| WindowSpread {
            share: own.from.len() as f64 / draws.max(1) as f64,
            ends: Spread::of(own.from, coverage).zip(Spread::of(own.to, coverage)),
        };
        self.stretches.into_iter().map(spread).collect()
    }
}

/// The eutectic of a stretch; where it has none, such as beside two liquids, its lowest place.
fn low_place(drawn: &System, stretch: &[Found], apart: &[Split]) -> Option<(f64, f64)> {
    lowest(drawn, stretch, apart).or_else(|| {
        let one_liquid = stretch.iter().filter(|(x, _)| !apart.iter().any(|own| own.holds(*x)));
        let known = one_liquid.filter_map(|(x, found)| found.map(|(_, kelvin)| (*x, kelvin)));
        known.min_by(|one, other| one.1.total_cmp(&other.1))
    })
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
