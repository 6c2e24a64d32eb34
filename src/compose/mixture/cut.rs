//! Corners of what is left of a polytope after a cut.
//!
//! A plane is put through at a time: corners beyond it go, and each edge that it cuts gives a new one. That is how
//! CONVRT makes the extreme vertices of a constrained mixture (G. F. Piepel, J. Qual. Technol. 20 (1988) 125); the test
//! for edges is that of the double description method (K. Fukuda and A. Prodon, Combinatorics and Computer Science,
//! LNCS 1120 (1996) 91): two corners share an edge exactly if no third lies on all planes that both lie on.

/// Planes that a region can have: as many as a corner can name.
pub(super) const MOST_PLANES: usize = 128;
/// Corners that are worked with; edges are searched among all pairs.
pub(super) const MOST_CORNERS: usize = 3000;
/// Nearer than this to a plane of unit normal is on it: fractions are typed to fewer digits.
const ON: f64 = 1e-10;

/// A corner, and the planes that it lies on, a bit for each.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Corner {
    pub(super) at: Vec<f64>,
    pub(super) planes: u128,
}

/// Half of the space: normal · x ≥ offset.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Half {
    pub(super) normal: Vec<f64>,
    pub(super) offset: f64,
}

impl Half {
    /// The distance inward from its plane.
    fn depth(&self, x: &[f64]) -> f64 {
        let length = self.normal.iter().map(|value| value * value).sum::<f64>().sqrt();
        let along: f64 = self.normal.iter().zip(x).map(|(normal, x)| normal * x).sum();
        if 0.0 < length { (along - self.offset) / length } else { -self.offset }
    }
}

/// The corners after a cut; `plane` is the number of the new plane.
pub(super) fn cut(corners: &[Corner], half: &Half, plane: usize) -> Vec<Corner> {
    let depth: Vec<f64> = corners.iter().map(|corner| half.depth(&corner.at)).collect();
    let places = |fits: &dyn Fn(f64) -> bool| -> Vec<usize> {
        (0..corners.len()).filter(|at| fits(depth[*at])).collect()
    };
    let (inside, beyond) = (places(&|depth| ON < depth), places(&|depth| depth < -ON));
    let mut left: Vec<Corner> = Vec::new();
    for (corner, depth) in corners.iter().zip(&depth).filter(|(_, depth)| -ON <= **depth) {
        let on = if *depth <= ON { 1 << plane } else { 0 };
        left.push(Corner { at: corner.at.clone(), planes: corner.planes | on });
    }
    for one in &inside {
        for other in &beyond {
            let shared = corners[*one].planes & corners[*other].planes;
            if is_edge(corners, (*one, *other), shared) {
                let part = depth[*one] / (depth[*one] - depth[*other]);
                let at = between(&corners[*one].at, &corners[*other].at, part);
                left.push(Corner { at, planes: shared | 1 << plane });
            }
        }
    }
    left
}

/// True if no third corner lies on all planes that the two share.
pub(super) fn is_edge(corners: &[Corner], (one, other): (usize, usize), shared: u128) -> bool {
    let needed = corners[one].at.len().saturating_sub(2);
    needed <= shared.count_ones() as usize
        && corners
            .iter()
            .enumerate()
            .all(|(at, corner)| at == one || at == other || corner.planes & shared != shared)
}

/// A point on the way from one to another.
pub(super) fn between(one: &[f64], other: &[f64], part: f64) -> Vec<f64> {
    one.iter().zip(other).map(|(one, other)| one + part * (other - one)).collect()
}
