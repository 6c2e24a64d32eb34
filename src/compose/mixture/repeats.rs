//! Which results are repeats of one setting.

use super::model::Model;
use super::study::Observed;

/// The results with repeats set to the mean of their settings, and for each the first that it is a repeat of. Repeats lie in
/// one block, and their fractions and coded process variables differ from the first by at most `alike`.
///
/// What is a repeat for the error is one for the model too: a difference that passes for weighing must not tell a
/// coefficient, and so pure error is never more than the error that it is a part of.
pub fn settled(model: &Model, observed: &[Observed], alike: f64) -> (Vec<Observed>, Vec<usize>) {
    let group = groups(model, observed, alike);
    let mean = |at: usize, of: &dyn Fn(&Observed) -> &[f64]| -> Vec<f64> {
        let own: Vec<&[f64]> = (0..observed.len())
            .filter(|other| group[*other] == group[at])
            .map(|other| of(&observed[other]))
            .collect();
        if own.iter().all(|other| *other == own[0]) {
            return own[0].to_vec();
        }
        let count = own.len() as f64;
        (0..own[0].len()).map(|place| own.iter().map(|own| own[place]).sum::<f64>() / count).collect()
    };
    let settled = (0..observed.len()).map(|at| Observed {
        fractions: mean(at, &|own| &own.fractions),
        setting: mean(at, &|own| &own.setting),
        ..observed[at].clone()
    });
    (settled.collect(), group)
}

/// The first result that each is a repeat of: in the same block, since blocks differ.
fn groups(model: &Model, observed: &[Observed], alike: f64) -> Vec<usize> {
    let place = |own: &Observed| -> Vec<f64> {
        let coded =
            model.variables().iter().zip(&own.setting).map(|(variable, value)| variable.coded(*value));
        own.fractions.iter().copied().chain(coded).collect()
    };
    let places: Vec<Vec<f64>> = observed.iter().map(place).collect();
    let is_repeat = |one: usize, other: usize| {
        observed[one].block == observed[other].block
            && places[one].iter().zip(&places[other]).all(|(a, b)| (a - b).abs() <= alike)
    };
    let mut group: Vec<usize> = Vec::new();
    for at in 0..places.len() {
        let first = (0..at).find(|other| group[*other] == *other && is_repeat(at, *other));
        group.push(first.unwrap_or(at));
    }
    group
}
