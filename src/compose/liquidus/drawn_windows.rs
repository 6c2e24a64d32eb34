//! Where drawn liquids stay liquid down to a temperature, window by window.

use super::bands::{LiquidAt, Spread, WindowSpread};
use super::binary::lowest;
use super::miscibility::{Gap, Split, gaps};
use super::system::System;
use super::window::Window;

/// A mole fraction of the first component, with the first solid and its temperature in kelvin.
type Found = (f64, Option<(usize, f64)>);

/// The stretch in which one window is looked for, and what it was in the draws so far.
struct Stretch {
    /// Places of the curve.
    first: usize,
    last: usize,
    /// The window of the data as they stand; where they have none, everything.
    own: Window,
    from: Vec<f64>,
    to: Vec<f64>,
    joined: usize,
    parted_by_liquids: usize,
    parted_by_solid: usize,
    parted_near: Vec<f64>,
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
        let between = |pair: &[Window]| {
            let inside = |place: &usize| pair[0].to <= curve[*place].0 && curve[*place].0 <= pair[1].from;
            let highest = (0..curve.len()).filter(inside).max_by(|a, b| kelvin(a).total_cmp(&kelvin(b)));
            highest.unwrap_or_else(|| curve.partition_point(|(x, _)| *x < pair[0].to))
        };
        let mut borders = vec![0];
        borders.extend(at.windows.windows(2).map(between));
        borders.push(curve.len().saturating_sub(1));
        let whole = Window { from: 0.0, to: 1.0 };
        let own = |place: usize| at.windows.get(place).copied().unwrap_or(whole);
        let stretches = borders.windows(2).enumerate();
        let stretches = stretches.map(|(place, pair)| Stretch::new(pair[0], pair[1], own(place))).collect();
        Self { kelvin: at.kelvin, stretches, with_any: 0 }
    }

    /// Takes in one drawn liquid: its curve at the same places, and where it comes apart. Where it has as many windows as
    /// the data as they stand, they belong together in their order; else those that overlap do.
    pub(super) fn see(&mut self, drawn: &System, found: &[Found], apart: &[Split]) {
        let gaps = gaps(&drawn.model, self.kelvin);
        let windows = self.windows_of(drawn, found, apart, &gaps);
        self.with_any += usize::from(!windows.is_empty());
        if windows.len() == self.stretches.len() {
            self.stretches.iter_mut().zip(&windows).for_each(|(stretch, window)| stretch.push(*window));
            return;
        }
        let overlaps =
            |stretch: &Stretch, window: &Window| stretch.own.from < window.to && window.from < stretch.own.to;
        let of_window = |window: &Window| self.stretches.iter().filter(|own| overlaps(own, window)).count();
        let shared: Vec<bool> = windows.iter().map(|window| 1 < of_window(window)).collect();
        for stretch in &mut self.stretches {
            let own: Vec<usize> = (0..windows.len()).filter(|at| overlaps(stretch, &windows[*at])).collect();
            match own[..] {
                [] => {}
                [one] if shared[one] => stretch.joined += 1,
                [one] => stretch.push(windows[one]),
                [one, other, ..] => stretch.part((windows[one].to + windows[other].from) / 2.0, &gaps),
            }
        }
    }

    /// The windows of one drawn liquid, between places of the curve by straight lines.
    fn windows_of(&self, drawn: &System, found: &[Found], apart: &[Split], gaps: &[Gap]) -> Vec<Window> {
        let known = found.iter().filter_map(|(x, found)| found.map(|(_, kelvin)| (*x, kelvin)));
        let lows = self.stretches.iter().filter_map(|stretch| {
            low_place(drawn, found.get(stretch.first..=stretch.last).unwrap_or_default(), apart)
        });
        let mut points: Vec<(f64, f64)> = known.chain(lows).collect();
        points.sort_by(|one, other| one.0.total_cmp(&other.0));
        gaps.iter().fold(below(&points, self.kelvin), |windows, gap| {
            windows.into_iter().flat_map(|own| own.without(*gap)).collect()
        })
    }

    /// What it came to.
    pub(super) fn spreads(self, draws: usize, coverage: f64) -> Vec<WindowSpread> {
        self.stretches.into_iter().map(|own| own.spread(draws.max(1) as f64, coverage)).collect()
    }
}

impl Stretch {
    fn new(first: usize, last: usize, own: Window) -> Self {
        let (from, to, parted_near) = (Vec::new(), Vec::new(), Vec::new());
        Self { first, last, own, from, to, joined: 0, parted_by_liquids: 0, parted_by_solid: 0, parted_near }
    }

    fn push(&mut self, window: Window) {
        self.from.push(window.from);
        self.to.push(window.to);
    }

    fn part(&mut self, near: f64, gaps: &[Gap]) {
        match gaps.iter().any(|gap| gap.from <= near && near <= gap.to) {
            true => self.parted_by_liquids += 1,
            false => self.parted_by_solid += 1,
        }
        self.parted_near.push(near);
    }

    fn spread(self, draws: f64, coverage: f64) -> WindowSpread {
        WindowSpread {
            share: self.from.len() as f64 / draws,
            joined: self.joined as f64 / draws,
            parted_by_liquids: self.parted_by_liquids as f64 / draws,
            parted_by_solid: self.parted_by_solid as f64 / draws,
            parted_near: Spread::of(self.parted_near, coverage).map(|near| near.middle),
            ends: Spread::of(self.from, coverage).zip(Spread::of(self.to, coverage)),
        }
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

/// Where a line through points in rising order lies at or below a temperature.
fn below(points: &[(f64, f64)], kelvin: f64) -> Vec<Window> {
    let mut windows: Vec<Window> = Vec::new();
    let mut before: Option<(f64, f64)> = None;
    for next in points {
        let is_liquid = next.1 <= kelvin;
        let was_liquid = before.is_some_and(|before| before.1 <= kelvin);
        let crossing =
            |before: (f64, f64)| before.0 + (kelvin - before.1) / (next.1 - before.1) * (next.0 - before.0);
        match (windows.last_mut().filter(|_| was_liquid), before) {
            (Some(window), Some(before)) => window.to = if is_liquid { next.0 } else { crossing(before) },
            (_, before) if is_liquid => {
                windows.push(Window { from: before.map_or(0.0, crossing), to: next.0 });
            }
            _ => {}
        }
        before = Some(*next);
    }
    let ends_liquid = before.is_some_and(|last| last.1 <= kelvin);
    if let Some(last) = windows.last_mut().filter(|_| ends_liquid) {
        last.to = 1.0;
    }
    windows
}
