//! Edges, sides and larger faces of a region.

use std::collections::BTreeSet;

use nalgebra::DMatrix;

use super::cut::Corner;
use super::region::mean;

/// Faces that are listed; a region with more is no region to test by its faces.
const MOST_FACES: usize = 20_000;
/// A direction that spreads less than this, beside the others, is none.
const FLAT: f64 = 1e-8;

/// A face of a region.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// 1 for an edge, 2 for a side with corners, and so on.
    pub dimension: usize,
    /// The mean of its vertices.
    pub centroid: Vec<f64>,
}

/// All faces of dimension 1 and more, the region itself last; `None` if there are too many.
///
/// A face is the set of the corners on some planes, so all come from those of one plane by intersection.
pub(super) fn faces(corners: &[Corner]) -> Option<Vec<Face>> {
    let planes = corners.iter().fold(0u128, |all, corner| all | corner.planes);
    let on = |plane: u32| -> Vec<usize> {
        (0..corners.len()).filter(|at| corners[*at].planes >> plane & 1 == 1).collect()
    };
    let sides: BTreeSet<Vec<usize>> =
        (0..u128::BITS).filter(|plane| planes >> plane & 1 == 1).map(on).collect();
    let mut found: BTreeSet<Vec<usize>> = BTreeSet::from([(0..corners.len()).collect()]);
    let mut open: Vec<Vec<usize>> = found.iter().cloned().collect();
    while let Some(face) = open.pop() {
        for side in &sides {
            let shared: Vec<usize> =
                face.iter().copied().filter(|at| side.binary_search(at).is_ok()).collect();
            if 2 <= shared.len() && found.insert(shared.clone()) {
                open.push(shared);
            }
        }
        if MOST_FACES < found.len() {
            return None;
        }
    }
    let q = corners.first()?.at.len();
    let face = |face: Vec<usize>| {
        let points = face.iter().map(|at| corners[*at].at.as_slice());
        Face { dimension: dimension(points.clone()), centroid: mean(points, q) }
    };
    let mut faces: Vec<Face> = found.into_iter().map(face).filter(|face| 0 < face.dimension).collect();
    faces.sort_by_key(|face| face.dimension);
    Some(faces)
}

/// In how many directions points differ.
pub(super) fn dimension<'p>(mut points: impl Iterator<Item = &'p [f64]>) -> usize {
    let Some(first) = points.next() else { return 0 };
    let rows: Vec<Vec<f64>> =
        points.map(|point| point.iter().zip(first).map(|(own, first)| own - first).collect()).collect();
    if rows.is_empty() {
        return 0;
    }
    let singular = DMatrix::from_fn(rows.len(), first.len(), |row, at| rows[row][at]).singular_values();
    let greatest = singular.max();
    singular.iter().filter(|value| FLAT * greatest.max(FLAT) < **value).count()
}
