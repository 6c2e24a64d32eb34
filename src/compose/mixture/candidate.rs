//! Points to choose from: those of a region that its shape suggests, and an even filling.

use super::arrange::{Point, PointKind};
use super::cut::between;
use super::region::{Region, is_same};
use super::simplex::{lattice, lattice_size};

/// Vertices, the middles of edges, sides and larger faces, the mean of the vertices, and the points half-way from
/// there to each vertex. Faces are left out where there are too many of them.
pub fn candidates(region: &Region) -> Vec<Point> {
    let centroid = region.centroid();
    let vertices = region.vertices().map(|at| Point::new(PointKind::Vertex, at.to_vec()));
    let mut points: Vec<Point> = vertices.collect();
    let half_way: Vec<Point> =
        region.vertices().map(|at| Point::new(PointKind::Axial, between(&centroid, at, 0.5))).collect();
    let mut faces = region.faces().unwrap_or_default();
    // The largest is the region itself, whose middle is the centre.
    let whole = faces.iter().map(|face| face.dimension).max().unwrap_or_default();
    faces.retain(|face| face.dimension < whole);
    let kind = |dimension: usize| if dimension == 1 { PointKind::Edge } else { PointKind::Face };
    points.extend(faces.into_iter().map(|face| Point::new(kind(face.dimension), face.centroid)));
    points.extend(half_way);
    points.push(Point::new(PointKind::Centre, centroid));
    distinct(points)
}

/// The points of the finest lattice of at most `most` points over the lower bounds that lie in the region.
pub fn fill(region: &Region, most: usize) -> Vec<Point> {
    let size = |steps: usize| lattice_size(region.q(), steps).unwrap_or(usize::MAX);
    let steps = (1..=most.max(2)).take_while(|steps| size(*steps) <= most).last().unwrap_or(1);
    let inside = lattice(region.q(), steps).into_iter().map(|z| region.of_share(&z));
    inside.filter(|x| region.holds(x)).map(|x| Point::new(PointKind::Lattice, x)).collect()
}

/// The first of each composition.
pub(super) fn distinct(points: Vec<Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for point in points {
        if !kept.iter().any(|known| is_same(&known.fractions, &point.fractions)) {
            kept.push(point);
        }
    }
    kept
}
