//! Laws that every activity model and every ideal diagram keeps, and the way back from a curve to its parameters.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::compose::liquidus::{
    ActivityModel, Draws, Fusion, LiquidAt, MeasuredPoint, ModelForm, ModelSpread, PairModel, Solid, System,
    bands, diagram, fit_model, splits, surface, windows,
};
use meltbook::quantity::{MolarEnthalpy, Temperature};
use proptest::prelude::*;

fn pure(name: &str, place: usize, of: usize, melting: f64, enthalpy: f64) -> Solid {
    let fusion = Fusion::new(Temperature::from_kelvin(melting), MolarEnthalpy::new(enthalpy));
    Solid::pure(name, place, of, fusion)
}

fn binary(one: (f64, f64), other: (f64, f64), model: ActivityModel) -> System {
    System {
        components: vec!["a".to_owned(), "b".to_owned()],
        solids: vec![pure("a", 0, 2, one.0, one.1), pure("b", 1, 2, other.0, other.1)],
        model,
    }
}

fn melt() -> impl Strategy<Value = (f64, f64)> {
    (250.0..700.0, 3000.0..40000.0)
}

fn form() -> impl Strategy<Value = ModelForm> {
    prop_oneof![
        Just(ModelForm::TwoSuffix),
        Just(ModelForm::ThreeSuffix),
        (1_usize..=4).prop_map(ModelForm::RedlichKister),
        (0.1..0.6).prop_map(ModelForm::Nrtl),
    ]
}

/// Any model of a pair, from strongly attracting to strongly repelling.
fn pair((first, second): (usize, usize)) -> impl Strategy<Value = PairModel> {
    (form(), prop::collection::vec(-6000.0..6000.0, 4)).prop_map(move |(form, mut parameters)| {
        parameters.truncate(form.parameters().len());
        PairModel { first, second, form, parameters }
    })
}

/// Models of all three pairs, of one kind.
fn pairs() -> impl Strategy<Value = Vec<PairModel>> {
    let same = |form: ModelForm, values: Vec<f64>| {
        let count = form.parameters().len();
        [(0, 1), (0, 2), (1, 2)]
            .into_iter()
            .enumerate()
            .map(|(at, (first, second))| PairModel {
                first,
                second,
                form,
                parameters: values[4 * at..4 * at + count].to_vec(),
            })
            .collect()
    };
    (form(), prop::collection::vec(-4000.0..4000.0, 12)).prop_map(move |(form, values)| same(form, values))
}

/// Σ x dlnγ along any way through the compositions, by central differences: 0 after Gibbs and Duhem.
fn gibbs_duhem(model: &ActivityModel, x: &[f64], way: &[f64], kelvin: f64) -> f64 {
    let step = 1e-5;
    let moved = |by: f64| -> Vec<f64> { x.iter().zip(way).map(|(own, way)| own + by * way).collect() };
    let (ahead, behind) = (model.ln_gammas(&moved(step), kelvin), model.ln_gammas(&moved(-step), kelvin));
    x.iter().zip(ahead.iter().zip(behind)).map(|(share, (a, b))| share * (a - b) / (2.0 * step)).sum()
}

proptest! {
    #[test]
    fn activity_models_keep_gibbs_and_duhem(pair in pair((0, 1)), x in 0.02..0.98, kelvin in 220.0..600.0) {
        let model = ActivityModel::of(2, &[pair]);
        let sum = gibbs_duhem(&model, &[x, 1.0 - x], &[1.0, -1.0], kelvin);
        prop_assert!(sum.abs() < 1e-6, "{sum}");
    }

    #[test]
    fn three_components_keep_gibbs_and_duhem(
        pairs in pairs(), a in 0.05..0.9, b in 0.05..0.9, way in (-1.0..1.0, -1.0..1.0), kelvin in 220.0..600.0,
    ) {
        prop_assume!(a + b < 0.95);
        let model = ActivityModel::of(3, &pairs);
        let sum = gibbs_duhem(&model, &[a, b, 1.0 - a - b], &[way.0, way.1, -way.0 - way.1], kelvin);
        prop_assert!(sum.abs() < 1e-6, "{sum}");
    }

    #[test]
    fn a_pure_component_has_activity_coefficient_one(pairs in pairs(), kelvin in 220.0..600.0) {
        let model = ActivityModel::of(3, &pairs);
        for at in 0..3 {
            let mut x = [0.0; 3];
            x[at] = 1.0;
            prop_assert!(model.ln_gammas(&x, kelvin)[at].abs() < 1e-12);
        }
    }

    /// Named the other way round, a pair has its parameters the other way round, and nothing changes.
    #[test]
    fn components_can_be_swapped(pair in pair((0, 1)), one in melt(), other in melt(), x in 0.01..0.99) {
        let mut parameters = pair.parameters.clone();
        match pair.form {
            ModelForm::ThreeSuffix | ModelForm::Nrtl(_) => parameters.reverse(),
            // (x₁ − x₂)ᵏ changes its sign for every odd k.
            _ => parameters.iter_mut().skip(1).step_by(2).for_each(|own| *own = -*own),
        }
        let turned = PairModel { parameters, ..pair.clone() };
        let straight = binary(one, other, ActivityModel::of(2, &[pair]));
        let swapped = binary(other, one, ActivityModel::of(2, &[turned]));
        let found = (straight.liquidus(&[x, 1.0 - x]), swapped.liquidus(&[1.0 - x, x]));
        let (Some((solid, kelvin)), Some((twin, other))) = found else {
            prop_assert_eq!(found.0.is_none(), found.1.is_none());
            return Ok(());
        };
        prop_assert!((kelvin - other).abs() < 1e-8 * kelvin, "{kelvin} {other}");
        prop_assert!(solid != twin || (kelvin - other).abs() < 1e-8 * kelvin);
    }

    /// An ideal liquid has one eutectic, below both melting points, and falls towards it from both sides.
    #[test]
    fn an_ideal_eutectic_lies_below_both_melting_points(one in melt(), other in melt()) {
        let found = diagram(&binary(one, other, ActivityModel::Ideal), 100);
        let eutectics: Vec<_> = found.eutectics().collect();
        prop_assert_eq!(eutectics.len(), 1);
        let own = eutectics[0];
        prop_assert!(own.temperature.kelvin() <= one.0.min(other.0));
        prop_assert!(found.splits.is_empty());
        for pair in found.points.windows(2) {
            let falls = pair[1].fractions[0] <= own.fractions[0];
            let rises = own.fractions[0] <= pair[0].fractions[0];
            prop_assert!(!falls || pair[1].temperature <= pair[0].temperature);
            prop_assert!(!rises || pair[0].temperature <= pair[1].temperature);
        }
    }

    /// On its edges the surface of three is the curve of two.
    #[test]
    fn ternary_edges_are_the_binaries(pairs in pairs(), melts in prop::collection::vec(melt(), 3)) {
        let model = ActivityModel::of(3, &pairs);
        let solids = melts.iter().enumerate().map(|(at, own)| pure(["a", "b", "c"][at], at, 3, own.0, own.1)).collect();
        let system = System { components: ["a", "b", "c"].map(str::to_owned).to_vec(), solids, model };
        for (one, other) in [(0, 1), (0, 2), (1, 2)] {
            let edge = system.edge((one, other), &pairs);
            for step in 0..=20 {
                let x = f64::from(step) / 20.0;
                let mut whole = [0.0; 3];
                (whole[one], whole[other]) = (x, 1.0 - x);
                match (system.liquidus(&whole), edge.liquidus(&[x, 1.0 - x])) {
                    (Some((_, a)), Some((_, b))) => prop_assert!((a - b).abs() < 1e-8 * a, "{a} {b}"),
                    (a, b) => prop_assert_eq!(a.is_none(), b.is_none()),
                }
            }
        }
    }

    /// A solid is saturated where its saturation temperature says, for whatever model.
    #[test]
    fn saturation_is_where_activities_are_equal(pair in pair((0, 1)), one in melt(), x in 0.05..0.95) {
        let system = binary(one, (300.0, 10000.0), ActivityModel::of(2, &[pair]));
        let Some(kelvin) = system.saturation(0, &[x, 1.0 - x]) else { return Ok(()) };
        let liquid = x * system.model.ln_gammas(&[x, 1.0 - x], kelvin)[0].exp();
        let solid = system.solids[0].fusion.activity(kelvin);
        prop_assert!((liquid / solid - 1.0).abs() < 1e-9, "{liquid} {solid}");
    }
}

/// A synthetic diagram with known parameters and errors of a known size comes back within its errors.
#[test]
fn parameters_come_back_from_a_curve() {
    let (one, other) = ((597.0, 4300.0), (405.55, 13900.0));
    for (form, parameters) in [
        (ModelForm::TwoSuffix, vec![-4000.0]),
        (ModelForm::ThreeSuffix, vec![-3000.0, -4500.0]),
        (ModelForm::RedlichKister(3), vec![-3500.0, 800.0, -300.0]),
        (ModelForm::Nrtl(0.3), vec![-1500.0, -900.0]),
    ] {
        let pair = PairModel { first: 0, second: 1, form, parameters: parameters.clone() };
        let system = binary(one, other, ActivityModel::of(2, &[pair]));
        let noise = |step: usize| 0.3 * ((step as f64 * 12.9898).sin() * 43758.5453).fract();
        let points = |size: f64| -> Vec<MeasuredPoint> {
            (1..24)
                .map(|step| {
                    let fraction = step as f64 / 24.0;
                    let (_, kelvin) =
                        system.liquidus(&[fraction, 1.0 - fraction]).expect("it has a liquidus");
                    let temperature = Temperature::from_kelvin(kelvin + size * noise(step));
                    MeasuredPoint { fraction, temperature, weight: 1.0 }
                })
                .collect()
        };
        let blank = System { model: ActivityModel::Ideal, ..system.clone() };
        let exact = fit_model(&blank, form, &points(0.0), 0.95).expect("there are enough points");
        assert!(exact.converged, "{form:?}");
        for (found, known) in exact.model.parameters.iter().zip(&parameters) {
            assert_relative_eq!(*found, *known, max_relative = 1e-5);
        }
        let noisy = fit_model(&blank, form, &points(1.0), 0.95).expect("there are enough points");
        assert!(noisy.converged && noisy.identifiable, "{form:?}");
        for (own, known) in noisy.estimates.iter().zip(&parameters) {
            assert!(
                (own.value - known).abs() < 4.0 * own.sd,
                "{form:?}: {} ± {} is not {known}",
                own.value,
                own.sd
            );
        }
        assert!(noisy.residual_sd_k < 0.3);
    }
}

/// With strong repulsion the liquid comes apart: the spinodal of A x (1 − x) ends at A = 2 R T (at x = 1/2), so above
/// it one half splits and below it does not.
#[test]
fn a_liquid_comes_apart_above_twice_r_t() {
    let kelvin = 300.0;
    let twice = 2.0 * 8.314462618 * kelvin;
    for (a, expected) in [(0.99 * twice, false), (1.05 * twice, true), (-twice, false)] {
        let pair = PairModel { first: 0, second: 1, form: ModelForm::TwoSuffix, parameters: vec![a] };
        assert_eq!(splits(&ActivityModel::of(2, &[pair]), &[0.5, 0.5], kelvin), expected, "{a}");
    }
    let pair = PairModel { first: 0, second: 1, form: ModelForm::TwoSuffix, parameters: vec![9000.0] };
    let found = diagram(&binary((353.37, 19010.0), (342.08, 18570.0), ActivityModel::of(2, &[pair])), 100);
    let [split] = found.splits[..] else { panic!("{} ranges", found.splits.len()) };
    // The two liquids that meet one solid do so at one temperature.
    let system = binary(
        (353.37, 19010.0),
        (342.08, 18570.0),
        ActivityModel::of(
            2,
            &[PairModel { first: 0, second: 1, form: ModelForm::TwoSuffix, parameters: vec![9000.0] }],
        ),
    );
    let at = |x: f64| system.liquidus(&[x, 1.0 - x]).expect("it has a liquidus").1;
    assert_abs_diff_eq!(at(split.from), at(split.to), epsilon = 0.5);
}

/// Each draw of a liquid that comes apart is searched from the one in the middle; its level must be that of a diagram of
/// its own. Of data that are shifted as a whole the band's middle is the diagram's level, and moves by as much.
#[test]
fn the_level_of_two_liquids_has_a_band_around_it() {
    for (a, melting) in [(9000.0, 353.37), (7000.0, 353.37), (9000.0, 300.0)] {
        let pair = PairModel { first: 0, second: 1, form: ModelForm::TwoSuffix, parameters: vec![a] };
        let mut system = binary((melting, 19010.0), (342.08, 18570.0), ActivityModel::of(2, &[pair]));
        for solid in &mut system.solids {
            solid.fusion.melting_u_k = Some(1.5);
        }
        let alone = diagram(&system, 50);
        let [split] = alone.splits[..] else { panic!("{} ranges", alone.splits.len()) };
        let found = bands(&system, &ModelSpread::default(), (4000, 3), 50, 0.95, None);
        let x = ((split.from + split.to) / 2.0 * 50.0).round() / 50.0;
        let level = found.curve.iter().find(|(at, _)| (at - x).abs() < 1e-9).expect("it is told of").1;
        assert_abs_diff_eq!(level.middle, split.temperature.kelvin(), epsilon = 0.5);
        // The leading solid's melting point alone sets the level, at a slope of a little less than 1.
        let width = level.high - level.low;
        assert!(0.8 * 2.0 * 1.96 * 1.5 < width && width < 1.2 * 2.0 * 1.96 * 1.5, "{a} {melting}: {width}");
    }
}

/// The band of one uncertain melting point is that of its normal distribution: at the pure end 1.96 standard
/// uncertainties to each side, to within the error of 20 000 draws.
#[test]
fn bands_have_the_width_of_what_was_stated() {
    let mut system = binary((350.0, 15000.0), (320.0, 12000.0), ActivityModel::Ideal);
    system.solids[0].fusion.melting_u_k = Some(2.0);
    let middle = windows(&system, 300.0, 100, &[]);
    let liquid_at = Some(LiquidAt { kelvin: 300.0, windows: &middle });
    let found = bands(&system, &ModelSpread::default(), (20_000, 7), 20, 0.95, liquid_at);
    let (x, end) = found.curve.last().expect("there is a curve");
    assert_eq!(*x, 1.0);
    assert_abs_diff_eq!(end.middle, 350.0, epsilon = 0.1);
    assert_abs_diff_eq!(end.low, 350.0 - 1.96 * 2.0, epsilon = 0.15);
    assert_abs_diff_eq!(end.high, 350.0 + 1.96 * 2.0, epsilon = 0.15);
    // What is not uncertain does not move.
    assert_eq!(found.curve[0].1.low, found.curve[0].1.high);
    let again = bands(&system, &ModelSpread::default(), (20_000, 7), 20, 0.95, liquid_at);
    assert_eq!(found, again, "a seed gives the same draws");
    // The window in the middle of the draws is that without draws.
    let ([window], [spread]) = (&middle[..], &found.windows[..]) else { panic!("one window") };
    let (from, to) = spread.ends.expect("there is a window");
    assert_abs_diff_eq!(from.middle, window.from, epsilon = 5e-3);
    assert_abs_diff_eq!(to.middle, window.to, epsilon = 5e-3);
    assert_eq!(found.with_window, 1.0);
}

/// Parameters of one fit are drawn with their covariance.
#[test]
fn drawn_parameters_have_the_covariance_of_the_fit() {
    let system = binary((350.0, 15000.0), (320.0, 12000.0), ActivityModel::Ideal);
    let pair = PairModel {
        first: 0,
        second: 1,
        form: ModelForm::RedlichKister(2),
        parameters: vec![-1000.0, 200.0],
    };
    // L = [[30, 0], [-40, 9]]: variances 900 and 1681, covariance −1200.
    let spread = ModelSpread { pairs: vec![pair], roots: vec![vec![30.0, 0.0, -40.0, 9.0]] };
    let mut draws = Draws::new(&system, &spread, 3);
    let count = 20_000;
    let (mut sums, mut squares) = ([0.0; 2], [0.0; 3]);
    for _ in 0..count {
        let ActivityModel::Pairs(pairs) = draws.next_system().model else { panic!("it is a polynomial") };
        let [a, b] = pairs.pairs[0].coefficients[..] else { panic!("two terms") };
        let (a, b) = (a + 1000.0, b - 200.0);
        sums = [sums[0] + a, sums[1] + b];
        squares = [squares[0] + a * a, squares[1] + b * b, squares[2] + a * b];
    }
    let n = f64::from(count);
    assert_abs_diff_eq!(sums[0] / n, 0.0, epsilon = 1.0);
    assert_abs_diff_eq!(sums[1] / n, 0.0, epsilon = 1.2);
    assert_relative_eq!(squares[0] / n, 900.0, max_relative = 0.04);
    assert_relative_eq!(squares[1] / n, 1681.0, max_relative = 0.04);
    assert_relative_eq!(squares[2] / n, -1200.0, max_relative = 0.05);
}

/// The ternary eutectic of a non-ideal liquid is saturated with all three solids, and lies below all edges.
#[test]
fn a_ternary_eutectic_is_saturated_with_three_solids() {
    let of = |first, second, a| PairModel { first, second, form: ModelForm::TwoSuffix, parameters: vec![a] };
    let pairs = [of(0, 1, -2000.0), of(0, 2, -500.0), of(1, 2, 800.0)];
    let solids = vec![
        pure("a", 0, 3, 350.0, 15000.0),
        pure("b", 1, 3, 330.0, 18000.0),
        pure("c", 2, 3, 310.0, 12000.0),
    ];
    let system = System {
        components: ["a", "b", "c"].map(str::to_owned).to_vec(),
        solids,
        model: ActivityModel::of(3, &pairs),
    };
    let found = surface(&system, 50);
    let [own] = &found.eutectics[..] else { panic!("{} eutectics", found.eutectics.len()) };
    for solid in 0..3 {
        let kelvin = system.saturation(solid, &own.fractions).expect("it freezes");
        assert_abs_diff_eq!(kelvin, own.temperature.kelvin(), epsilon = 1e-7);
    }
    for pair in [(0, 1), (0, 2), (1, 2)] {
        let edge = diagram(&system.edge(pair, &pairs), 100);
        let lowest = edge.eutectics().next().expect("an edge has a eutectic").temperature;
        assert!(own.temperature < lowest);
    }
}
