//! Values at even steps over a triangle.

use super::Place;

/// Values row by row: first fraction from 0 up, in each row the second from 0 up.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Lattice {
    pub(super) steps: usize,
    values: Vec<Option<f64>>,
}

/// A place of the lattice by steps of the first and second fraction.
pub(super) type Node = (usize, usize);

impl Lattice {
    /// Values that are not finite count as missing, as do those beyond the end.
    pub(super) fn new(steps: usize, values: Vec<Option<f64>>) -> Self {
        let values = values.into_iter().map(|value| value.filter(|value| value.is_finite())).collect();
        Self { steps: steps.max(1), values }
    }

    pub(super) fn value(&self, (one, two): Node) -> Option<f64> {
        let before = one * (self.steps + 1) - one * one.saturating_sub(1) / 2;
        self.values.get(before + two).copied().flatten()
    }

    pub(super) fn place(&self, (one, two): Node) -> Place {
        let part = |steps: usize| steps as f64 / self.steps as f64;
        [part(one), part(two), part(self.steps - one - two)]
    }

    /// Least and greatest value.
    pub(super) fn range(&self) -> (f64, f64) {
        let known = self.values.iter().flatten();
        known.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(*value), high.max(*value))
        })
    }

    /// The small triangles between the places.
    pub(super) fn cells(&self) -> impl Iterator<Item = [Node; 3]> {
        let steps = self.steps;
        let rows = (0..steps).flat_map(move |one| (0..steps - one).map(move |two| (one, two)));
        rows.flat_map(move |(one, two)| {
            let up = [(one, two), (one + 1, two), (one, two + 1)];
            let down = [(one + 1, two), (one + 1, two + 1), (one, two + 1)];
            let fits = one + two + 2 <= steps;
            std::iter::once(up).chain(fits.then_some(down))
        })
    }

    /// The value at any place, by the plane through the three places around it; `None` if one of them has none.
    pub(super) fn at(&self, place: Place) -> Option<f64> {
        let scaled = [place[0], place[1]].map(|part| part.clamp(0.0, 1.0) * self.steps as f64);
        let (mut one, mut two) = (scaled[0].floor() as usize, scaled[1].floor() as usize);
        // On the far edge the cell before is meant.
        if self.steps <= one + two {
            if 0 < two { two = self.steps.saturating_sub(one + 1) } else { one = self.steps - 1 }
        }
        let (a, b) = (scaled[0] - one as f64, scaled[1] - two as f64);
        if a + b <= 1.0 + 1e-9 {
            let [corner, right, up] =
                [(one, two), (one + 1, two), (one, two + 1)].map(|node| self.value(node));
            return Some(corner? * (1.0 - a - b) + right? * a + up? * b);
        }
        let [corner, right, up] =
            [(one + 1, two + 1), (one + 1, two), (one, two + 1)].map(|node| self.value(node));
        Some(corner? * (a + b - 1.0) + right? * (1.0 - b) + up? * (1.0 - a))
    }
}
