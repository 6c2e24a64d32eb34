//! The window of a mass: how far it may be off so that every ratio stays within the recipe's tolerance.
//!
//! Two masses at opposite ends of windows of relative half-width δ give a ratio off by (1+δ)/(1−δ) − 1.
//! With the tolerance T less the guard band U (the largest expanded uncertainty of a ratio, k = 2), that
//! is T − U for δ = (T − U)/(2 + T − U): the same share for every component, however many there are.
//! Guard bands: JCGM 106:2012, 8.3.

use serde::{Deserialize, Serialize};

use super::balance::{Balance, on_step};
use super::flag::Flag;
use crate::quantity::Mass;

/// What may stand on the display.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Window {
    /// The least.
    pub low: Mass,
    /// The most.
    pub high: Mass,
}

/// The relative half-width for a tolerance.
pub(super) fn half_width(tolerance: f64) -> f64 {
    tolerance / (2.0 + tolerance)
}

/// The window around a target; `None` if the guard leaves nothing.
pub(super) fn window(target: Mass, tolerance: f64, guard: f64) -> Option<Window> {
    let left = tolerance - guard;
    if left <= 0.0 {
        return None;
    }
    let delta = half_width(left);
    Some(Window { low: target * (1.0 - delta), high: target * (1.0 + delta) })
}

/// Flags a window between two digits of the display, which nobody can hit. A window as wide as a step holds a
/// digit wherever it lies.
pub(super) fn no_step_inside(window: Window, batch: Mass, balance: &Balance) -> Option<Flag> {
    let step = balance.readability;
    let (low, high) = window.on_display(balance);
    if low <= high {
        return None;
    }
    let growth = step / (window.high - window.low);
    let mass_that_would_do = (window.low + window.high) * (0.5 * growth);
    let batch_that_would_do = batch * growth;
    Some(Flag::NoStepInWindow { step, mass_that_would_do, batch_that_would_do })
}

impl Window {
    /// Its ends rounded inward to digits of the display; the lower is above the upper if none lies inside.
    pub fn on_display(&self, balance: &Balance) -> (Mass, Mass) {
        (inward(self.low, balance, f64::ceil), inward(self.high, balance, f64::floor))
    }
}

/// A window that ends on a digit of the display keeps that digit despite the dust of a division.
fn inward(end: Mass, balance: &Balance, direction: fn(f64) -> f64) -> Mass {
    let steps = end / balance.readability;
    let near = steps.round();
    let steps = if (steps - near).abs() < 1e-9 * near.abs().max(1.0) { near } else { direction(steps) };
    on_step(steps, balance.readability)
}

/// Flags a mass whose balance uses more than half of the window that the tolerance alone would give.
pub(super) fn too_coarse(target: Mass, batch: Mass, tolerance: f64, balance: &Balance) -> Option<Flag> {
    let half = target.get() * half_width(tolerance);
    let expanded = 2.0 * balance.net_uncertainty().get();
    if expanded <= half / 2.0 {
        return None;
    }
    let mass_that_would_do = Mass::new(2.0 * expanded / half_width(tolerance));
    let factor = if Mass::ZERO < target { mass_that_would_do / target } else { f64::INFINITY };
    Some(Flag::BalanceTooCoarse {
        mass_that_would_do,
        batch_that_would_do: batch * factor,
        balance_that_would_do: Mass::new(half / 4.0),
    })
}
