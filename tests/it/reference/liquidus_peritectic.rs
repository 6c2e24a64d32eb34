//! A compound that melts incongruently, and a weighted fit: both against arithmetic done outside of the program.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::compose::liquidus::{
    ActivityModel, Diagram, FittedModel, Fusion, InvariantKind, MeasuredPoint, ModelForm, Solid, System,
    diagram, fit_model,
};
use meltbook::quantity::{MolarEnthalpy, Temperature};

/// J/(mol K), CODATA 2018.
const R: f64 = 8.314462618;

fn fusion(melting: f64, enthalpy: f64) -> Fusion {
    Fusion::new(Temperature::from_kelvin(melting), MolarEnthalpy::new(enthalpy))
}

fn pair(one: (f64, f64), other: (f64, f64)) -> System {
    let solids =
        vec![Solid::pure("A", 0, 2, fusion(one.0, one.1)), Solid::pure("B", 1, 2, fusion(other.0, other.1))];
    System { components: vec!["A".into(), "B".into()], solids, model: ActivityModel::Ideal }
}

/// A melts at 400 K with 20 kJ/mol, B at 300 K with 10 kJ/mol; the compound A:B 1:1 takes 20 kJ per mole of A + B. The
/// liquid is ideal, so by hand, with the peritectic put at 330 K:
///
///   A in the liquid at 330 K:   ln x = −20000/8.314462618 (1/330 − 1/400) = −1.2756165, x = 0.2792589
///   the compound there:         R T ln(4 x (1 − x)) = 8.314462618 · 330 · ln 0.8050935 = −594.84 J/mol
///   so its own liquid freezes:  20000 (1 − 330/Tc) = 594.84, Tc = 330/0.9702580 = 340.1157 K
///
/// At the compound's own composition A comes out at 1/T = 1/400 + R ln 2/20000, T = 358.66 K, far above that Tc: on
/// heating the compound comes apart at 330 K into A and a liquid of 0.279, and never melts as itself.
#[test]
fn a_compound_that_comes_apart_before_it_melts() {
    let melts = 340.115_7;
    let mut system = pair((400.0, 20_000.0), (300.0, 10_000.0));
    system.solids.push(Solid::compound("A:B 1:1", vec![1.0, 1.0], fusion(melts, 20_000.0)));
    let found = diagram(&system, 100);
    let of = |kind: InvariantKind| found.invariants.iter().filter(move |own| own.kind == kind);
    let peritectic: Vec<_> = of(InvariantKind::Peritectic).collect();
    let [own] = peritectic[..] else { panic!("{} peritectics", peritectic.len()) };
    assert_abs_diff_eq!(own.temperature.kelvin(), 330.0, epsilon = 2e-3);
    assert_abs_diff_eq!(own.fractions[0], 0.279_258_9, epsilon = 2e-5);
    let mut solids = own.solids.clone();
    solids.sort_unstable();
    assert_eq!(solids, [0, 2]);
    // Of a liquid of its own composition A comes out first, and 19 K above where the compound would.
    let (first, kelvin) = system.liquidus(&[0.5, 0.5]).expect("it freezes");
    assert_eq!(first, 0);
    assert_abs_diff_eq!(kelvin, 1.0 / (1.0 / 400.0 + R * 2f64.ln() / 20_000.0), epsilon = 1e-9);
    assert_abs_diff_eq!(system.saturation(2, &[0.5, 0.5]).expect("it freezes"), melts, epsilon = 1e-9);
    assert_first_solids(&found);
    // The only eutectic is that of the compound and B: both relations hold in it, written out.
    let eutectics: Vec<_> = found.eutectics().collect();
    let [own] = eutectics[..] else { panic!("{} eutectics", eutectics.len()) };
    let (x, kelvin) = (own.fractions[0], own.temperature.kelvin());
    assert_abs_diff_eq!(R * kelvin * (1.0 - x).ln(), -10_000.0 * (1.0 - kelvin / 300.0), epsilon = 1e-4);
    assert_abs_diff_eq!(
        R * kelvin * (4.0 * x * (1.0 - x)).ln(),
        -20_000.0 * (1.0 - kelvin / melts),
        epsilon = 1e-4
    );
}

/// B, then the compound up to the peritectic, then A alone.
fn assert_first_solids(found: &Diagram) {
    let eutectic = found.eutectics().next().expect("there is one").fractions[0];
    for point in &found.points {
        let x = point.fractions[0];
        let expected = if x < eutectic {
            1
        } else if x < 0.279_258_9 {
            2
        } else {
            0
        };
        assert_eq!(point.solid, expected, "{x}");
    }
}

/// Points of the branch of A with their weights, off the ideal curve by what no model gives.
const POINTS: [(f64, f64, f64); 6] = [
    (0.55, 331.2, 1.0),
    (0.62, 343.9, 3.0),
    (0.70, 357.5, 2.0),
    (0.78, 369.6, 1.0),
    (0.86, 381.9, 4.0),
    (0.93, 391.3, 1.0),
];

fn fitted(points: impl Iterator<Item = (f64, f64, f64)>) -> FittedModel {
    let points: Vec<MeasuredPoint> = points
        .map(|(fraction, kelvin, weight)| MeasuredPoint {
            fraction,
            temperature: Temperature::from_kelvin(kelvin),
            weight,
        })
        .collect();
    // B melts so low that A comes out first of all of them.
    fit_model(&pair((400.0, 20_000.0), (60.0, 10_000.0)), ModelForm::TwoSuffix, &points, 0.95)
        .expect("there are enough points")
}

/// With A saturated, R T ln x + a (1 − x)² = −ΔH (1 − T/Tm) makes T linear in a:
/// T = (ΔH + a (1 − x)²)/(ΔH/Tm − R ln x) = T₀ + a g. So weighted least squares has the closed form
/// a = Σ w g (T − T₀)/Σ w g², with s² = Σ w r²/(n − 1) and the standard error s/√(Σ w g²).
#[test]
fn a_weighted_fit_is_the_closed_form() {
    let found = fitted(POINTS.into_iter());
    let below = |x: f64| 20_000.0 / 400.0 - R * x.ln();
    let (ideal, slope) = (|x: f64| 20_000.0 / below(x), |x: f64| (1.0 - x).powi(2) / below(x));
    let sum = |of: &dyn Fn(f64, f64) -> f64| POINTS.iter().map(|(x, t, w)| w * of(*x, *t)).sum::<f64>();
    let squares = sum(&|x, _| slope(x).powi(2));
    let a = sum(&|x, t| slope(x) * (t - ideal(x))) / squares;
    let rss = sum(&|x, t| (t - ideal(x) - a * slope(x)).powi(2));
    let s = (rss / 5.0).sqrt();
    assert_relative_eq!(found.estimates[0].value, a, max_relative = 1e-6);
    assert_relative_eq!(found.rss, rss, max_relative = 1e-6);
    assert_relative_eq!(found.residual_sd_k, s, max_relative = 1e-6);
    assert_relative_eq!(found.estimates[0].sd, s / squares.sqrt(), max_relative = 1e-5);
    // Weights matter here: without them it is another parameter.
    let plain = fitted(POINTS.into_iter().map(|(x, t, _)| (x, t, 1.0)));
    assert!((plain.estimates[0].value - a).abs() > 1e-3 * a.abs());
}

/// A weight of three is the point three times, but for the degrees of freedom that it does not make.
#[test]
fn a_weight_is_the_point_repeated() {
    let weighted = fitted(POINTS.into_iter());
    let repeated = POINTS.into_iter().flat_map(|(x, t, weight)| vec![(x, t, 1.0); weight as usize]);
    let repeated = fitted(repeated);
    assert_eq!((weighted.used, repeated.used), (6, 12));
    assert_relative_eq!(weighted.estimates[0].value, repeated.estimates[0].value, max_relative = 1e-7);
    assert_relative_eq!(weighted.rss, repeated.rss, max_relative = 1e-7);
    let ratio = weighted.estimates[0].sd / repeated.estimates[0].sd;
    assert_relative_eq!(ratio, (11.0_f64 / 5.0).sqrt(), max_relative = 1e-5);
}
