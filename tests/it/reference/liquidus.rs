//! Eutectics, solubilities and liquidus curves against values computed independently and against measured diagrams;
//! sources beside the fixtures.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use meltbook::component::ComponentTable;
use meltbook::compose::liquidus::{
    ActivityModel, Fusion, ModelForm, PairModel, Solid, SolidTransition, System, diagram, surface,
};
use meltbook::quantity::{MolarEnthalpy, MolarHeatCapacity, Temperature};

use super::rows::{Row, rows};

macro_rules! fixture {
    ($name:literal) => {
        include_str!(concat!("../../fixtures/phases/", $name))
    };
}

fn fusion(melting: f64, enthalpy: f64) -> Fusion {
    Fusion::new(Temperature::from_kelvin(melting), MolarEnthalpy::new(enthalpy))
}

/// The components of a row: columns `component_1`, `Tm1_K`, `dHfus1_J_mol` and so on.
fn system(row: &Row, count: usize, model: ActivityModel) -> System {
    let of = |number: usize| {
        let fusion =
            fusion(row.number(&format!("Tm{number}_K")), row.number(&format!("dHfus{number}_J_mol")));
        Solid::pure(row.text(&format!("component_{number}")), number - 1, count, fusion)
    };
    let solids: Vec<Solid> = (1..=count).map(of).collect();
    System { components: solids.iter().map(|own| own.name.clone()).collect(), solids, model }
}

#[test]
fn ideal_binary_eutectics() {
    for row in rows(fixture!("eutectic_ideal_binary.csv"), 12) {
        let found = diagram(&system(&row, 2, ActivityModel::Ideal), 100);
        let eutectics: Vec<_> = found.eutectics().collect();
        let [own] = eutectics[..] else { panic!("{} eutectics", eutectics.len()) };
        assert_abs_diff_eq!(own.fractions[0], row.number("x1_eutectic"), epsilon = 1e-6);
        assert_abs_diff_eq!(own.fractions[1], row.number("x2_eutectic"), epsilon = 1e-6);
        assert_relative_eq!(own.temperature.kelvin(), row.number("T_eutectic_K"), max_relative = 1e-7);
    }
}

#[test]
fn the_ideal_ternary_eutectic_and_its_edges() {
    for row in rows(fixture!("eutectic_ideal_ternary.csv"), 1) {
        let system = system(&row, 3, ActivityModel::Ideal);
        let found = surface(&system, 100);
        let [own] = &found.eutectics[..] else { panic!("{} eutectics", found.eutectics.len()) };
        for (at, key) in ["x1", "x2", "x3"].into_iter().enumerate() {
            assert_abs_diff_eq!(own.fractions[at], row.number(key), epsilon = 1e-6);
        }
        assert_relative_eq!(own.temperature.kelvin(), row.number("T_eutectic_K"), max_relative = 1e-7);
        for (pair, key) in [((0, 1), "T_binary_12_K"), ((0, 2), "T_binary_13_K"), ((1, 2), "T_binary_23_K")] {
            let edge = diagram(&system.edge(pair, &[]), 100);
            let kelvin = edge.eutectics().next().expect("an edge has a eutectic").temperature.kelvin();
            assert_relative_eq!(kelvin, row.number(key), max_relative = 1e-7);
        }
    }
}

#[test]
fn ideal_solubilities_with_and_without_a_heat_capacity() {
    for row in rows(fixture!("solubility_ideal_points.csv"), 24) {
        let heat_capacity = MolarHeatCapacity::new(row.number("dCp_J_mol_K"));
        let fusion = Fusion { heat_capacity, ..fusion(row.number("Tm_K"), row.number("dHfus_J_mol")) };
        assert_relative_eq!(fusion.activity(row.number("T_K")), row.number("x_ideal"), max_relative = 1e-9);
        // And back: a liquid of this composition begins to freeze there.
        let solids =
            vec![Solid::pure("it", 0, 2, fusion), Solid::pure("another", 1, 2, self::fusion(1.5, 1.0))];
        let system =
            System { components: vec!["it".into(), "another".into()], solids, model: ActivityModel::Ideal };
        let x = row.number("x_ideal");
        let kelvin = system.saturation(0, &[x, 1.0 - x]).expect("it freezes");
        assert_relative_eq!(kelvin, row.number("T_K"), max_relative = 1e-9);
    }
}

/// The two-term excess of the fixture, as Redlich–Kister, as Margules and as what they are of each other.
fn two_terms(a: f64, b: f64) -> Vec<PairModel> {
    let pair = |form, parameters| PairModel { first: 0, second: 1, form, parameters };
    let mut models = vec![
        pair(ModelForm::RedlichKister(2), vec![a, b]),
        // A₀ = (A₁₂ + A₂₁)/2 and A₁ = (A₂₁ − A₁₂)/2, turned round.
        pair(ModelForm::ThreeSuffix, vec![a - b, a + b]),
    ];
    if b == 0.0 {
        models.push(pair(ModelForm::TwoSuffix, vec![a]));
    }
    models
}

#[test]
fn liquidus_with_an_excess_energy() {
    for row in rows(fixture!("liquidus_nonideal.csv"), 33) {
        for pair in two_terms(row.number("A_J_mol"), row.number("B_J_mol")) {
            let system = system(&row, 2, ActivityModel::of(2, &[pair]));
            let x = [row.number("x1"), 1.0 - row.number("x1")];
            let (_, kelvin) = system.liquidus(&x).expect("it has a liquidus");
            assert_relative_eq!(kelvin, row.number("T_liquidus_K"), max_relative = 1e-7);
            for (solid, key) in ["T_liquidus_1_K", "T_liquidus_2_K"].into_iter().enumerate() {
                if !row.text(key).is_empty() {
                    let own = system.saturation(solid, &x).expect("it has a branch");
                    assert_relative_eq!(own, row.number(key), max_relative = 1e-7);
                }
            }
            let gammas = system.model.ln_gammas(&x, row.number("T_liquidus_K"));
            assert_abs_diff_eq!(gammas[0], row.number("ln_gamma1"), epsilon = 1e-9);
            assert_abs_diff_eq!(gammas[1], row.number("ln_gamma2"), epsilon = 1e-9);
            if row.text("kind") == "eutectic" {
                let found = diagram(&system, 100);
                let own = found.eutectics().next().expect("it has a eutectic");
                assert_abs_diff_eq!(own.fractions[0], row.number("x1"), epsilon = 1e-6);
                assert_relative_eq!(own.temperature.kelvin(), kelvin, max_relative = 1e-7);
            }
        }
    }
}

/// Naphthalene and biphenyl are nearly ideal: the curve is within 1.6 K everywhere, the eutectic within 1.2 K and 0.002.
#[test]
fn a_measured_diagram_that_is_nearly_ideal() {
    let measured = rows(fixture!("liquidus_naphthalene_biphenyl_measured.csv"), 22);
    let solids = vec![
        Solid::pure("naphthalene", 0, 2, fusion(353.37, 19010.0)),
        Solid::pure("biphenyl", 1, 2, fusion(342.08, 18570.0)),
    ];
    let system = System {
        components: vec!["naphthalene".into(), "biphenyl".into()],
        solids,
        model: ActivityModel::Ideal,
    };
    for row in &measured {
        let x = row.number("x_naphthalene");
        let (_, kelvin) = system.liquidus(&[x, 1.0 - x]).expect("it has a liquidus");
        assert_abs_diff_eq!(kelvin, row.number("T_ideal_K"), epsilon = 1e-6);
        assert_abs_diff_eq!(kelvin, row.number("T_measured_K"), epsilon = 1.6);
    }
    let lowest = rows(fixture!("phase_points_measured.csv"), 13)
        .into_iter()
        .find(|row| row.text("component_2") == "biphenyl" && row.text("kind") == "measured eutectic")
        .expect("the eutectic was measured");
    let found = diagram(&system, 100);
    let own = found.eutectics().next().expect("it has a eutectic");
    assert_abs_diff_eq!(own.temperature.kelvin(), lowest.number("T_K"), epsilon = 1.2);
    assert_abs_diff_eq!(own.fractions[0], lowest.number("x1"), epsilon = 0.002);
}

/// Kremann 1904: a 1:1 compound of naphthalene and 1,3-dinitrobenzene melts near 324.0 K between two eutectics at
/// 0.42, 323.6 K and 0.60, 323.7 K. A single simple eutectic is the wrong answer; with the compound there are two.
///
/// The one parameter comes from the first eutectic alone, where 1,3-dinitrobenzene (360.7 K of the same table,
/// 17 400 J/mol from memory) is saturated:
///
///   R T ln γ₂ = −17400 (1 − 323.6/360.7) − 8.314463 · 323.6 · ln 0.58 = −1789.69 + 1465.64 = −324.05 = A · 0.42²
///   A = −1837 J/mol
///
/// It must then give the second one, and its own of course.
#[test]
fn a_stated_compound_parts_one_eutectic_in_two() {
    let measured: Vec<Row> = rows(fixture!("phase_points_measured.csv"), 13)
        .into_iter()
        .filter(|row| row.text("component_2") == "1,3-dinitrobenzene")
        .collect();
    let mut solids = vec![
        Solid::pure("naphthalene", 0, 2, fusion(353.8, 19010.0)),
        Solid::pure("1,3-dinitrobenzene", 1, 2, fusion(360.7, 17400.0)),
    ];
    let pair = PairModel { first: 0, second: 1, form: ModelForm::TwoSuffix, parameters: vec![-1837.0] };
    let components = vec!["naphthalene".to_owned(), "1,3-dinitrobenzene".to_owned()];
    let without = System { components, solids: solids.clone(), model: ActivityModel::of(2, &[pair]) };
    assert_eq!(diagram(&without, 100).eutectics().count(), 1);
    // The enthalpy of the compound is not known: that of both parts, which the result hardly depends on.
    solids.push(Solid::compound(
        "naphthalene:1,3-dinitrobenzene 1:1",
        vec![1.0, 1.0],
        fusion(324.0, 36410.0),
    ));
    let with = diagram(&System { solids, ..without }, 100);
    let found: Vec<_> = with.eutectics().collect();
    assert_eq!(found.len(), measured.len());
    for (own, row) in found.iter().zip(&measured) {
        assert_abs_diff_eq!(own.fractions[0], row.number("x1"), epsilon = 0.005);
        assert_abs_diff_eq!(own.temperature.kelvin(), row.number("T_K"), epsilon = 1.0);
    }
    // At its own composition the compound melts where it was said to.
    let top = with.points.iter().find(|point| point.fractions[0] == 0.5).expect("the grid holds it");
    assert_abs_diff_eq!(top.temperature.kelvin(), 324.0, epsilon = 1e-9);
    assert_eq!(top.solid, 2);
}

/// A transition between solids, worked by hand. The solid melts at 600 K with 4300 J/mol; below 351 K another form is
/// stable, and 16 300 J/mol are taken up on going over. At 300 K:
///
///   fusion:      4300/8.314462618 · (1/300 − 1/600) =  517.1711 · 0.001666667 = 0.861952
///   transition: 16300/8.314462618 · (1/300 − 1/351) = 1960.4394 · 0.000484330 = 0.949501
///   ln x = −(0.861952 + 0.949501) = −1.811452,  x = 0.163417
///
/// At 400 K, above the transition, only fusion counts: 517.1711 · (1/400 − 1/600) = 0.430976, x = 0.649875.
#[test]
fn a_transition_between_solids_worked_by_hand() {
    let transition =
        SolidTransition { at: Temperature::from_kelvin(351.0), enthalpy: MolarEnthalpy::new(16300.0) };
    let own = Fusion { transitions: vec![transition], ..fusion(600.0, 4300.0) };
    assert_abs_diff_eq!(own.activity(300.0), 0.163417, epsilon = 5e-7);
    assert_abs_diff_eq!(own.activity(300.0).ln(), -1.811452, epsilon = 1e-6);
    assert_abs_diff_eq!(own.activity(400.0), 0.649875, epsilon = 5e-7);
    // Continuous at the transition, where both forms dissolve alike.
    assert_relative_eq!(own.activity(351.0 - 1e-9), own.activity(351.0 + 1e-9), max_relative = 1e-9);
    let solids = vec![Solid::pure("it", 0, 2, own), Solid::pure("another", 1, 2, fusion(100.0, 5000.0))];
    let system =
        System { components: vec!["it".into(), "another".into()], solids, model: ActivityModel::Ideal };
    let at = |x: f64| system.saturation(0, &[x, 1.0 - x]).expect("it freezes");
    assert_abs_diff_eq!(at(0.163417), 300.0, epsilon = 1e-3);
    assert_abs_diff_eq!(at(0.649875), 400.0, epsilon = 1e-3);
}

/// Both complete sets of choline chloride are in the table as published; what is not complete is not made up.
#[test]
fn the_published_fusion_data_of_choline_chloride_are_all_kept() {
    let published = rows(fixture!("choline_chloride_fusion.csv"), 4);
    let table = ComponentTable::builtin();
    let own = table.get("choline-chloride").expect("it is in the table");
    let complete: Vec<&Row> = published.iter().filter(|row| !row.text("u_Tm_K").is_empty()).collect();
    assert_eq!(own.fusion.len(), complete.len());
    for (set, row) in own.fusion.iter().zip(complete) {
        assert_eq!(set.at.kelvin(), row.number("Tm_K"));
        assert_eq!(set.at_u_k, Some(row.number("u_Tm_K")));
        assert_eq!(set.enthalpy.get(), row.number("dHfus_J_mol"));
        assert_eq!(set.enthalpy_u.map(MolarEnthalpy::get), Some(row.number("u_dHfus_J_mol")));
    }
}
