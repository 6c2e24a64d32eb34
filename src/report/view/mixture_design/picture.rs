//! Where the runs lie among three components.

use super::DesignView;
use crate::report::document::{Block, Shape, Stroke};
use crate::report::triangle::{Place, Triangle, TriangleMark};

/// The runs in a triangle, with the outline of what may be mixed; nothing for other numbers of components.
pub(super) fn picture(view: &DesignView<'_>) -> Option<Block> {
    let names: [&str; 3] = view.names.clone().try_into().ok()?;
    let place = |x: &[f64]| -> Place { [x[0], x[1], x[2]] };
    let description = format!("the runs of {} among {}", view.words, names.join(", "));
    let mut triangle = Triangle::new(names, description).caption("Rings: runs, repeats on one another.");
    let outline = outline(view);
    if 2 < outline.len() {
        triangle = triangle.with(TriangleMark::line(outline, Stroke::Dashed));
    }
    let runs = view.runs.iter().map(|run| place(&run.fractions)).collect();
    Some(triangle.with(TriangleMark::points(runs, Shape::Hollow, "")).figure().into())
}

/// The vertices around their middle, closed.
fn outline(view: &DesignView<'_>) -> Vec<Place> {
    let middle = view.region.centroid();
    let mut corners: Vec<Place> = view.region.vertices().map(|x| [x[0], x[1], x[2]]).collect();
    // Any two directions in the plane do, since only the order around the middle counts.
    let angle = |x: &Place| (x[1] - middle[1]).atan2(x[0] - middle[0]);
    corners.sort_by(|one, other| angle(one).total_cmp(&angle(other)));
    let first = corners.first().copied();
    corners.extend(first);
    corners
}
