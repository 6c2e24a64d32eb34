//! Whether a liquid of three components comes apart, against a search through every trial liquid of a fine lattice.

use meltbook::compose::liquidus::{ActivityModel, ModelForm, PairModel, splits};

fn model(form: ModelForm, parameters: [&[f64]; 3]) -> ActivityModel {
    let pairs = [(0, 1), (0, 2), (1, 2)];
    let pair = |((first, second), own): ((usize, usize), &[f64])| PairModel {
        first,
        second,
        form,
        parameters: own.to_vec(),
    };
    ActivityModel::of(3, &pairs.into_iter().zip(parameters).map(pair).collect::<Vec<_>>())
}

/// Compositions of a lattice inside the triangle.
fn inside(steps: usize) -> impl Iterator<Item = [f64; 3]> {
    let part = move |at: usize| at as f64 / steps as f64;
    (1..steps).flat_map(move |one| (1..steps - one).map(move |two| [one, two, steps - one - two].map(part)))
}

fn potentials(model: &ActivityModel, x: &[f64; 3], kelvin: f64) -> Vec<f64> {
    model.ln_gammas(x, kelvin).iter().zip(x).map(|(gamma, x)| x.ln() + gamma).collect()
}

/// The lowest trial liquid against the tangent plane: Σ yᵢ (ln aᵢ(y) − ln aᵢ(x)), in units of R T (M. L. Michelsen, Fluid
/// Phase Equilibria 9 (1982) 1).
fn lowest(trials: &[([f64; 3], Vec<f64>)], own: &[f64]) -> f64 {
    let depth = |(y, at): &([f64; 3], Vec<f64>)| -> f64 {
        y.iter().zip(at).zip(own).map(|((y, at), own)| y * (at - own)).sum()
    };
    trials.iter().map(depth).fold(0.0, f64::min)
}

/// Gaps that are steep, shallow, lopsided, or reach no edge of the triangle but one.
#[test]
fn no_gap_falls_between_the_trials() {
    let cases = [
        (ModelForm::TwoSuffix, [&[6500.0][..], &[-1000.0], &[0.0]], 324.15),
        (ModelForm::TwoSuffix, [&[6500.0], &[-1000.0], &[3000.0]], 313.15),
        (ModelForm::TwoSuffix, [&[6000.0], &[1000.0], &[1000.0]], 320.0),
        (ModelForm::ThreeSuffix, [&[8500.0, 3000.0], &[500.0, 500.0], &[-500.0, 0.0]], 320.0),
        (ModelForm::Nrtl(0.2), [&[4500.0, 3500.0], &[800.0, -500.0], &[0.0, 900.0]], 300.0),
    ];
    for (form, parameters, kelvin) in cases {
        let model = model(form, parameters);
        let trials: Vec<_> = inside(120).map(|y| (y, potentials(&model, &y, kelvin))).collect();
        let (mut apart, mut missed) = (0, Vec::new());
        for x in inside(40) {
            let is_apart = lowest(&trials, &potentials(&model, &x, kelvin)) < -1e-6;
            apart += usize::from(is_apart);
            if is_apart && !splits(&model, &x, kelvin) {
                missed.push(x);
            }
        }
        assert!(20 < apart, "{form:?}: the case says little, {apart}");
        assert!(missed.is_empty(), "{form:?}: {} of {apart} missed, such as {:?}", missed.len(), missed[0]);
    }
}

/// Attracting components stay one liquid however strongly, and so does an ideal liquid.
#[test]
fn what_attracts_stays_one_liquid() {
    let model = model(ModelForm::TwoSuffix, [&[-12_000.0], &[-6000.0], &[-9000.0]]);
    for x in inside(20) {
        assert!(!splits(&model, &x, 300.0), "{x:?}");
        assert!(!splits(&ActivityModel::Ideal, &x, 300.0), "{x:?}");
    }
}
