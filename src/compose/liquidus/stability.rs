//! Whether a liquid stays one liquid.

use super::model::ActivityModel;

/// How far below the tangent plane a trial liquid must lie, in units of R T.
const DEEP: f64 = 1e-7;
/// Steps of the trial compositions of two components.
const STEPS: usize = 100;
/// Steps of those of three.
const COARSE: usize = 12;

/// True if a liquid of this composition and temperature in kelvin would come apart into two by its model: some trial
/// liquid lies below the tangent plane of its Gibbs energy (M. L. Michelsen, Fluid Phase Equilibria 9 (1982) 1).
pub fn splits(model: &ActivityModel, x: &[f64], kelvin: f64) -> bool {
    if model.is_ideal() {
        return false;
    }
    let potential = |y: &[f64], at: usize| y[at].ln() + model.ln_gamma(y, kelvin, at);
    let own: Vec<Option<f64>> =
        x.iter().enumerate().map(|(at, share)| (0.0 < *share).then(|| potential(x, at))).collect();
    let below = |y: &[f64]| {
        let parts = (0..y.len()).filter(|at| 0.0 < y[*at]).map(|at| match own[at] {
            Some(own) => y[at] * (potential(y, at) - own),
            // What is not there at all can't come out.
            None => f64::INFINITY,
        });
        parts.sum::<f64>() < -DEEP
    };
    match x.len() {
        2 => (1..STEPS).any(|step| {
            let share = step as f64 / STEPS as f64;
            below(&[share, 1.0 - share])
        }),
        _ => (0..=COARSE).any(|one| {
            (0..=COARSE - one).any(|two| {
                let rest = COARSE - one - two;
                below(&[one, two, rest].map(|part| part as f64 / COARSE as f64))
            })
        }),
    }
}
