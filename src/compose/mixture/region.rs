//! What may be tested: fractions within bounds, adding up to 1.

use super::cut::{Corner, Half, MOST_CORNERS, MOST_PLANES, cut, is_edge};
use super::face::{Face, faces};

/// Closer than this fractions are the same: bounds are typed to a few digits.
const SAME: f64 = 1e-9;

/// The least and the most of one component.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bound {
    /// From 0.
    pub low: f64,
    /// To 1.
    pub high: f64,
}

/// low ≤ Σ coefficient × fraction ≤ high; either may be infinite.
#[derive(Debug, Clone, PartialEq)]
pub struct Constraint {
    /// One for each component.
    pub coefficients: Vec<f64>,
    /// The least.
    pub low: f64,
    /// The most.
    pub high: f64,
}

/// All compositions that bounds and constraints allow.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    bounds: Vec<Bound>,
    constraints: Vec<Constraint>,
    corners: Vec<Corner>,
}

/// Why there is no such region.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RegionError {
    /// No component.
    #[error("there is no component")]
    Nothing,
    /// A bound from above 1, below 0, or with the least above the most.
    #[error("the fraction of a component can't lie between {low} and {high}")]
    BadBound {
        /// Which component.
        component: usize,
        /// The least.
        low: f64,
        /// The most.
        high: f64,
    },
    /// The lower bounds leave nothing to share.
    #[error("the lower bounds add up to {0}, which is above 1")]
    TooMuch(f64),
    /// The upper bounds don't make a whole.
    #[error("the upper bounds add up to {0}, which is below 1")]
    TooLittle(f64),
    /// The constraints leave nothing.
    #[error("no composition meets the bounds and constraint number {}", .0 + 1)]
    Empty(usize),
    /// More than can be worked with.
    #[error("there are too many bounds and constraints to work with, or too many corners between them")]
    TooMany,
}

impl Bound {
    /// From nothing to all.
    pub const FREE: Self = Self { low: 0.0, high: 1.0 };
}

impl Region {
    /// The region of these bounds, one for each component, and constraints.
    ///
    /// # Errors
    /// If it would be empty, or is too large to work with.
    pub fn new(bounds: Vec<Bound>, constraints: Vec<Constraint>) -> Result<Self, RegionError> {
        check(&bounds)?;
        let mut region = Self { corners: start(&bounds), bounds, constraints };
        let mut plane = region.bounds.len();
        for at in 0..region.bounds.len() {
            // A bound that its component can't reach anyway cuts nothing.
            let high = region.bounds[at].high;
            if high < 1.0 {
                let mut normal = vec![0.0; region.bounds.len()];
                normal[at] = -1.0;
                region.cut(&Half { normal, offset: -high }, &mut plane, 0)?;
            }
        }
        for at in 0..region.constraints.len() {
            let Constraint { coefficients, low, high } = region.constraints[at].clone();
            if high.is_finite() {
                let normal = coefficients.iter().map(|value| -value).collect();
                region.cut(&Half { normal, offset: -high }, &mut plane, at)?;
            }
            if low.is_finite() {
                region.cut(&Half { normal: coefficients, offset: low }, &mut plane, at)?;
            }
        }
        region.merge();
        Ok(region)
    }

    /// All of the simplex.
    ///
    /// # Errors
    /// If there is no component.
    pub fn whole(q: usize) -> Result<Self, RegionError> {
        Self::new(vec![Bound::FREE; q], Vec::new())
    }

    fn cut(&mut self, half: &Half, plane: &mut usize, constraint: usize) -> Result<(), RegionError> {
        if MOST_PLANES <= *plane {
            return Err(RegionError::TooMany);
        }
        self.corners = cut(&self.corners, half, *plane);
        *plane += 1;
        match self.corners.len() {
            0 => Err(RegionError::Empty(constraint)),
            many if MOST_CORNERS < many => Err(RegionError::TooMany),
            _ => Ok(()),
        }
    }

    /// Planes that nearly meet leave corners side by side; they are one.
    fn merge(&mut self) {
        let mut merged: Vec<Corner> = Vec::new();
        for corner in std::mem::take(&mut self.corners) {
            match merged.iter_mut().find(|known| is_same(&known.at, &corner.at)) {
                Some(known) => known.planes |= corner.planes,
                None => merged.push(corner),
            }
        }
        // The first component falls first, so that the order does not tell how they were found.
        let descending = |one: &Corner, other: &Corner| {
            let differing = one.at.iter().zip(&other.at).find(|(one, other)| SAME < (*one - *other).abs());
            differing.map_or(std::cmp::Ordering::Equal, |(one, other)| other.total_cmp(one))
        };
        merged.sort_by(descending);
        self.corners = merged;
    }

    /// How many components.
    pub fn q(&self) -> usize {
        self.bounds.len()
    }

    /// The bounds as they were given.
    pub fn bounds(&self) -> &[Bound] {
        &self.bounds
    }

    /// The constraints as they were given.
    pub fn constraints(&self) -> &[Constraint] {
        &self.constraints
    }

    /// The extreme vertices.
    pub fn vertices(&self) -> impl Iterator<Item = &[f64]> + Clone {
        self.corners.iter().map(|corner| corner.at.as_slice())
    }

    /// The least and the most of a component that the region really has.
    pub fn reach(&self, component: usize) -> Bound {
        let values = || self.vertices().map(|vertex| vertex[component]);
        Bound {
            low: values().fold(f64::INFINITY, f64::min),
            high: values().fold(f64::NEG_INFINITY, f64::max),
        }
    }

    /// The mean of the vertices: a point inside, not the centre of the volume.
    pub fn centroid(&self) -> Vec<f64> {
        mean(self.vertices(), self.q())
    }

    /// Every face from the edges up to the region itself, with its dimension and the mean of its vertices. `None`
    /// if there are too many.
    pub fn faces(&self) -> Option<Vec<Face>> {
        faces(&self.corners)
    }

    /// The way along each edge, from one vertex to the other.
    pub(super) fn edges(&self) -> Vec<Vec<f64>> {
        let mut ways = Vec::new();
        for (at, one) in self.corners.iter().enumerate() {
            for (other, end) in self.corners.iter().enumerate().skip(at + 1) {
                if is_edge(&self.corners, (at, other), one.planes & end.planes) {
                    ways.push(one.at.iter().zip(&end.at).map(|(from, to)| to - from).collect());
                }
            }
        }
        ways
    }

    /// True if a composition lies in it.
    pub fn holds(&self, x: &[f64]) -> bool {
        self.holds_within(x, SAME)
    }

    /// The same but for the last few bits, so that many steps don't lead out.
    pub(super) fn holds_exactly(&self, x: &[f64]) -> bool {
        self.holds_within(x, 1e-14)
    }

    fn holds_within(&self, x: &[f64], room: f64) -> bool {
        let within = |value: f64, low: f64, high: f64| low - room <= value && value <= high + room;
        let bounded = x.iter().zip(&self.bounds).all(|(x, bound)| within(*x, bound.low, bound.high));
        let total: f64 = x.iter().sum();
        bounded
            && x.len() == self.q()
            && (total - 1.0).abs() <= SAME
            && self.constraints.iter().all(|own| within(own.of(x), own.low, own.high))
    }

    /// What is left to share when each component has its least.
    fn free(&self) -> f64 {
        1.0 - self.bounds.iter().map(|bound| bound.low).sum::<f64>()
    }

    /// True if it is a simplex like the whole one, only smaller: no upper bound or constraint cuts it.
    pub fn is_simplex(&self) -> bool {
        let corner = |own: usize| -> Vec<f64> {
            let pure = (0..self.q()).map(|at| if at == own { 1.0 } else { 0.0 });
            self.of_share(&pure.collect::<Vec<f64>>())
        };
        self.corners.len() == self.q()
            && (0..self.q()).all(|own| self.vertices().any(|vertex| is_same(vertex, &corner(own))))
    }

    /// The composition in which what is left above the lower bounds is shared so: z are the fractions that the
    /// literature calls L-pseudocomponents.
    pub fn of_share(&self, z: &[f64]) -> Vec<f64> {
        let free = self.free();
        self.bounds.iter().zip(z).map(|(bound, z)| bound.low + free * z).collect()
    }
}

impl Constraint {
    /// Σ coefficient × fraction.
    pub fn of(&self, x: &[f64]) -> f64 {
        self.coefficients.iter().zip(x).map(|(coefficient, x)| coefficient * x).sum()
    }
}

fn check(bounds: &[Bound]) -> Result<(), RegionError> {
    if bounds.is_empty() {
        return Err(RegionError::Nothing);
    }
    for (component, Bound { low, high }) in bounds.iter().copied().enumerate() {
        if !(0.0 <= low && low <= high && high <= 1.0) {
            return Err(RegionError::BadBound { component, low, high });
        }
    }
    let sum = |of: fn(&Bound) -> f64| bounds.iter().map(of).sum::<f64>();
    let (least, most) = (sum(|bound| bound.low), sum(|bound| bound.high));
    if 1.0 + SAME < least {
        return Err(RegionError::TooMuch(least));
    }
    if most < 1.0 - SAME {
        return Err(RegionError::TooLittle(most));
    }
    Ok(())
}

/// The corners of the simplex above the lower bounds, or its one point if these leave nothing.
fn start(bounds: &[Bound]) -> Vec<Corner> {
    let lowest: Vec<f64> = bounds.iter().map(|bound| bound.low).collect();
    let free = 1.0 - lowest.iter().sum::<f64>();
    let all = if bounds.len() < MOST_PLANES { (1 << bounds.len()) - 1 } else { u128::MAX };
    if free <= SAME {
        return vec![Corner { at: lowest, planes: all }];
    }
    let corner = |own: usize| {
        let mut at = lowest.clone();
        at[own] += free;
        Corner { at, planes: all & !(1u128.checked_shl(own as u32).unwrap_or(0)) }
    };
    (0..bounds.len()).map(corner).collect()
}

/// The mean of points.
pub(super) fn mean<'p>(points: impl Iterator<Item = &'p [f64]> + Clone, q: usize) -> Vec<f64> {
    let count = points.clone().count() as f64;
    (0..q).map(|at| points.clone().map(|point| point[at]).sum::<f64>() / count).collect()
}

/// True if two compositions are one.
pub(super) fn is_same(one: &[f64], other: &[f64]) -> bool {
    one.iter().zip(other).all(|(one, other)| (one - other).abs() <= SAME)
}
