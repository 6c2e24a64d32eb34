//! Where a liquid of two components is two liquids, and where both of them meet a solid.

use std::cell::Cell;
use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::model::ActivityModel;
use super::system::System;
use crate::quantity::Temperature;
use crate::statistics::root;

/// A range of the curve in which the model's liquid comes apart into two.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Split {
    /// Mole fraction of the first component where it begins.
    pub from: f64,
    /// And where it ends.
    pub to: f64,
    /// The temperature at which both liquids meet the solid (monotectic).
    pub temperature: Temperature,
    /// That solid.
    pub solid: usize,
}

/// Two liquids in equilibrium: the ends of a miscibility gap, by the mole fraction of the first component.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Gap {
    /// The liquid poorer in the first component.
    pub from: f64,
    /// The richer one.
    pub to: f64,
}

/// Logits of the outermost trial compositions: 2 parts in 10⁹.
const FAR: f64 = 20.0;
/// Trial compositions at even steps of the logit, to which those at even percents come.
const LOGITS: usize = 160;
/// Steps of Newton's method.
const STEPS: usize = 50;
/// A gap narrower than this is none.
const NARROW: f64 = 1e-4;
/// Ends of a gap that lie closer are the same.
const SAME: f64 = 1e-6;
/// Halvings of a range of temperature.
const HALVINGS: usize = 50;

impl Split {
    /// True if a composition lies in it.
    pub fn holds(&self, x: f64) -> bool {
        self.from < x && x < self.to
    }
}

impl Gap {
    /// True if a composition lies in it.
    pub fn holds(&self, x: f64) -> bool {
        self.from < x && x < self.to
    }

    fn is_wide(&self) -> bool {
        NARROW < self.to - self.from
    }
}

fn logistic(logit: f64) -> [f64; 2] {
    [1.0 / (1.0 + (-logit).exp()), 1.0 / (1.0 + logit.exp())]
}

fn logit(x: f64) -> f64 {
    (x / (1.0 - x)).ln()
}

/// Both logarithms of the activities.
fn activities(model: &ActivityModel, x: [f64; 2], kelvin: f64) -> [f64; 2] {
    [0, 1].map(|at| x[at].ln() + model.ln_gamma(&x, kelvin, at))
}

/// The trial compositions in ascending order.
static TRIALS: LazyLock<Vec<[f64; 2]>> = LazyLock::new(|| {
    let even = (0..=LOGITS).map(|step| FAR * (2.0 * step as f64 / LOGITS as f64 - 1.0));
    let mut logits: Vec<f64> = even.chain((1..100).map(|step| logit(f64::from(step) / 100.0))).collect();
    logits.sort_by(f64::total_cmp);
    logits.into_iter().map(logistic).collect()
});

/// True if the liquid comes apart into two at some composition: the activity of the first component then does not rise
/// all the way with its share.
pub fn comes_apart(model: &ActivityModel, kelvin: f64) -> bool {
    if model.is_ideal() {
        return false;
    }
    let mut before = f64::NEG_INFINITY;
    TRIALS.iter().any(|x| {
        let own = x[0].ln() + model.ln_gamma(x, kelvin, 0);
        let falls = own < before - 1e-12;
        before = own;
        falls
    })
}

/// The miscibility gaps of two components at a temperature in kelvin: where the lower convex hull of the Gibbs energy of
/// mixing leaves it, made exact by equal activities of both components in both liquids.
pub fn gaps(model: &ActivityModel, kelvin: f64) -> Vec<Gap> {
    if !comes_apart(model, kelvin) {
        return Vec::new();
    }
    let points: Vec<(f64, f64)> = TRIALS
        .iter()
        .map(|&x| {
            let [one, other] = activities(model, x, kelvin);
            (x[0], x[0] * one + x[1] * other)
        })
        .collect();
    let hull = lower_hull(&points);
    let skipping = hull.windows(2).filter(|pair| 1 < pair[1] - pair[0]);
    let gap = |pair: &[usize]| equal_activities(model, kelvin, points[pair[0]].0, points[pair[1]].0);
    skipping.filter_map(gap).filter(Gap::is_wide).collect()
}

/// Places of the points on the lower convex hull, from left to right (A. M. Andrew, Inf. Process. Lett. 9 (1979) 216).
fn lower_hull(points: &[(f64, f64)]) -> Vec<usize> {
    let turns_left = |a: usize, b: usize, c: usize| {
        let (ab, ac) = (points[b].0 - points[a].0, points[c].0 - points[a].0);
        0.0 < ab * (points[c].1 - points[a].1) - ac * (points[b].1 - points[a].1)
    };
    let mut hull: Vec<usize> = Vec::new();
    for next in 0..points.len() {
        while let [.., a, b] = hull[..]
            && !turns_left(a, b, next)
        {
            hull.pop();
        }
        hull.push(next);
    }
    hull
}

/// Newton's method on the logits of both liquids; `None` if it leads nowhere or to one liquid.
fn equal_activities(model: &ActivityModel, kelvin: f64, from: f64, to: f64) -> Option<Gap> {
    let (mut one, mut other) = (logit(from), logit(to));
    let at = |logit: f64| activities(model, logistic(logit), kelvin);
    let slope = |logit: f64| {
        let near = 1e-6;
        let (up, down) = (at(logit + near), at(logit - near));
        [0, 1].map(|of| (up[of] - down[of]) / (2.0 * near))
    };
    for _ in 0..STEPS {
        let (a, b) = (at(one), at(other));
        let value = [a[0] - b[0], a[1] - b[1]];
        let (by_one, by_other) = (slope(one), slope(other).map(|slope| -slope));
        let determinant = by_one[0] * by_other[1] - by_one[1] * by_other[0];
        let step = [
            (value[0] * by_other[1] - value[1] * by_other[0]) / determinant,
            (by_one[0] * value[1] - by_one[1] * value[0]) / determinant,
        ];
        if step.iter().any(|step| !step.is_finite()) {
            return None;
        }
        one -= step[0].clamp(-0.5, 0.5);
        other -= step[1].clamp(-0.5, 0.5);
        if step[0].abs() + step[1].abs() < 1e-9 {
            return Some(Gap { from: logistic(one)[0], to: logistic(other)[0] });
        }
    }
    None
}

/// Where both liquids of a gap meet a solid, looked for from a temperature in kelvin and a composition near by: above it
/// two liquids are in equilibrium, below it one of them and the solid.
pub fn monotectic(system: &System, near: f64, middle: f64) -> Option<Split> {
    // Both liquids have the same activities: what comes out of the one comes out of the other.
    let lead = |kelvin: f64| {
        let gap = gap_around(&system.model, kelvin, middle)?;
        Some((gap, most_over(system, gap.from, kelvin)?))
    };
    let over = |kelvin: f64| lead(kelvin).map_or(f64::NAN, |(_, (_, over))| over);
    let (low, high) = bracket(near, |kelvin| 0.0 < over(kelvin))?;
    let kelvin = settle(over, low, high);
    let (gap, (solid, _)) = lead(kelvin)?;
    Some(Split { from: gap.from, to: gap.to, temperature: Temperature::from_kelvin(kelvin), solid })
}

/// That of a system which differs little from one of which it is known: the gap is followed from there, step by step. The
/// search over all compositions has the last word.
pub fn monotectic_beside(system: &System, known: &Split) -> Option<Split> {
    let middle = (known.from + known.to) / 2.0;
    followed(system, known, middle).or_else(|| monotectic(system, known.temperature.kelvin(), middle))
}

/// `None` where the gap is lost on the way, or is not the one that the whole search finds at the end.
fn followed(system: &System, known: &Split, middle: f64) -> Option<Split> {
    let ends = Cell::new((known.from, known.to));
    let over = |kelvin: f64| {
        let (from, to) = ends.get();
        let gap = equal_activities(&system.model, kelvin, from, to).filter(Gap::is_wide);
        let Some((gap, (_, over))) = gap.and_then(|gap| Some((gap, most_over(system, gap.from, kelvin)?)))
        else {
            return f64::NAN;
        };
        ends.set((gap.from, gap.to));
        over
    };
    let near = known.temperature.kelvin();
    if over(near).is_nan() {
        return None;
    }
    let (low, high) = bracket(near, |kelvin| 0.0 < over(kelvin))?;
    // No number where the gap closes on the way.
    let kelvin = Some(root::between(over, low, high)).filter(|kelvin| kelvin.is_finite())?;
    let gap = gap_around(&system.model, kelvin, middle)?;
    let (from, to) = ends.get();
    let same = (gap.from - from).abs() < SAME && (gap.to - to).abs() < SAME;
    let (solid, _) = most_over(system, gap.from, kelvin)?;
    same.then_some(Split { from: gap.from, to: gap.to, temperature: Temperature::from_kelvin(kelvin), solid })
}

/// The gap that holds a composition, or the widest.
fn gap_around(model: &ActivityModel, kelvin: f64, middle: f64) -> Option<Gap> {
    let gaps = gaps(model, kelvin);
    let held = gaps.iter().find(|gap| gap.holds(middle)).copied();
    held.or_else(|| {
        gaps.into_iter().max_by(|one, other| (one.to - one.from).total_cmp(&(other.to - other.from)))
    })
}

/// Temperatures around that up to which a solid comes out, from one near by in steps that double; `None` if there is
/// none.
fn bracket(near: f64, comes_out: impl Fn(f64) -> bool) -> Option<(f64, f64)> {
    let (mut low, mut high) = (near, near);
    let mut by = 0.25;
    while !comes_out(low) {
        (high, low) = (low, near - by);
        by *= 2.0;
        if low <= 1.0 {
            return None;
        }
    }
    if high == low {
        high = near + 0.25;
        by = 0.5;
    }
    while comes_out(high) {
        (low, high) = (high, near + by);
        by *= 2.0;
        if 2.0 * near < high {
            return None;
        }
    }
    Some((low, high))
}

/// The temperature up to which a solid comes out. At the upper one there may be no gap any more, and nothing to
/// interpolate.
fn settle(over: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let found = root::between(&over, low, high);
    if found.is_finite() {
        return found;
    }
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if 0.0 < over(middle) { low = middle } else { high = middle }
    }
    low
}

/// The solid that a liquid is most supersaturated with, or least below, J/mol.
fn most_over(system: &System, x: f64, kelvin: f64) -> Option<(usize, f64)> {
    let each = system.solids.iter().enumerate().filter(|(_, solid)| solid.fusion.reaches(kelvin));
    each.map(|(at, _)| (at, system.excess_of(at, &[x, 1.0 - x], kelvin).0))
        .max_by(|one, other| one.1.total_cmp(&other.1))
}
