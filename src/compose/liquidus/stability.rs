//! Whether a liquid stays one liquid.

use super::model::ActivityModel;

/// How far below the tangent plane a trial liquid must lie, in units of R T.
const DEEP: f64 = 1e-7;
/// Steps of the trial compositions of two components.
const STEPS: usize = 100;
/// Steps of those of three, from which the lowest are followed further.
const COARSE: usize = 12;
/// Substitutions on the way down from a trial liquid.
const SUBSTITUTIONS: usize = 100;
/// A substitution that moves no fraction by more ends the way.
const STILL: f64 = 1e-9;
/// A trial liquid this near to the liquid itself is that liquid.
const SAME: f64 = 1e-4;

/// True if a liquid of this composition and temperature in kelvin would come apart into two by its model: some trial
/// liquid lies below the tangent plane of its Gibbs energy (M. L. Michelsen, Fluid Phase Equilibria 9 (1982) 1).
pub fn splits(model: &ActivityModel, x: &[f64], kelvin: f64) -> bool {
    if model.is_ideal() {
        return false;
    }
    let plane = Plane::of(model, x, kelvin);
    match x.len() {
        2 => (1..STEPS).any(|step| {
            let share = step as f64 / STEPS as f64;
            plane.depth(&[share, 1.0 - share]) < -DEEP
        }),
        _ => plane.is_undercut(),
    }
}

/// The tangent plane of the Gibbs energy of a liquid.
struct Plane<'m> {
    model: &'m ActivityModel,
    kelvin: f64,
    x: &'m [f64],
    /// ln(x γ) of each component; `None` of one that is not there.
    own: Vec<Option<f64>>,
}

impl<'m> Plane<'m> {
    fn of(model: &'m ActivityModel, x: &'m [f64], kelvin: f64) -> Self {
        let potential = |at: usize, share: f64| share.ln() + model.ln_gamma(x, kelvin, at);
        let own =
            x.iter().enumerate().map(|(at, share)| (0.0 < *share).then(|| potential(at, *share))).collect();
        Self { model, kelvin, x, own }
    }

    /// By how much a trial liquid lies above the plane, in units of R T.
    fn depth(&self, y: &[f64]) -> f64 {
        let parts = (0..y.len()).filter(|at| 0.0 < y[*at]).map(|at| match self.own[at] {
            Some(own) => y[at] * (y[at].ln() + self.model.ln_gamma(y, self.kelvin, at) - own),
            // What is not there at all can't come out.
            None => f64::INFINITY,
        });
        parts.sum()
    }

    /// True if a trial liquid of three components lies below: one of a coarse lattice, or one on the way down from where
    /// the lattice is lowest. A shallow gap lies between the places of the lattice.
    fn is_undercut(&self) -> bool {
        let trial =
            |one: usize, two: usize| [one, two, COARSE - one - two].map(|part| part as f64 / COARSE as f64);
        let places = || (0..=COARSE).flat_map(|one| (0..=COARSE - one).map(move |two| (one, two)));
        let mut depths = [[f64::INFINITY; COARSE + 1]; COARSE + 1];
        for (one, two) in places() {
            depths[one][two] = self.depth(&trial(one, two));
            if depths[one][two] < -DEEP {
                return true;
            }
        }
        let is_low = |one: usize, two: usize| {
            let around = NEIGHBOURS.iter().filter_map(|(by_one, by_two)| {
                let (one, two) = (one.checked_add_signed(*by_one)?, two.checked_add_signed(*by_two)?);
                (one + two <= COARSE).then(|| depths[one][two])
            });
            depths[one][two].is_finite() && around.into_iter().all(|other| depths[one][two] <= other)
        };
        // From a pure component a low place is found that lies between those of the lattice.
        let is_pure = |one: usize, two: usize| matches!((one, two), (0, 0) | (0, COARSE) | (COARSE, 0));
        places()
            .filter(|(one, two)| is_pure(*one, *two) || is_low(*one, *two))
            .any(|(one, two)| self.falls_below(trial(one, two)))
    }

    /// Follows a trial liquid down by Michelsen's substitution ln yᵢ = ln(xᵢ γᵢ) − ln γᵢ(y): whether any on the way lies
    /// below. A pure component is begun a little inside, as its neighbours can't come in otherwise.
    fn falls_below(&self, start: [f64; 3]) -> bool {
        let mut y = start.map(|share| 0.99 * share + 0.01 / 3.0);
        for _ in 0..SUBSTITUTIONS {
            let mut next = [0.0; 3];
            for (at, share) in next.iter_mut().enumerate() {
                let gamma = self.model.ln_gamma(&y, self.kelvin, at);
                *share = self.own[at].map_or(0.0, |own| (own - gamma).exp());
            }
            let sum: f64 = next.iter().sum();
            let next = next.map(|share| share / sum);
            if !sum.is_finite() || self.depth(&next) < -DEEP {
                return sum.is_finite();
            }
            let distance =
                |other: &[f64]| next.iter().zip(other).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            if distance(&y) < STILL || distance(self.x) < SAME {
                return false;
            }
            y = next;
        }
        false
    }
}

/// The neighbours of a place in a lattice over a triangle.
const NEIGHBOURS: [(isize, isize); 6] = [(1, -1), (1, 0), (0, 1), (-1, 1), (-1, 0), (0, -1)];
