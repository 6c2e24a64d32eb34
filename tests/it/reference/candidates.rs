//! Candidates against values computed independently and against published melting points; sources beside the fixtures.

use std::sync::Arc;

use approx::assert_relative_eq;
use meltbook::component::ComponentTable;
use meltbook::compose::candidates::{
    Combination, combinations, ideal_liquidus, measured_melting, seen_liquid,
};

use super::rows::rows;

const BINARY: &str = include_str!("../../fixtures/phases/eutectic_ideal_binary.csv");
const MEASURED: &str = include_str!("../../fixtures/phases/phase_points_measured.csv");

fn combination(parts: &[(&str, f64)]) -> Combination {
    let table = ComponentTable::builtin();
    let part = |(name, moles): &(&str, f64)| (Arc::clone(table.find(name).expect("in the table")), *moles);
    Combination { parts: parts.iter().map(part).collect() }
}

/// At the fixture's eutectic composition the liquidus is its eutectic temperature, out of the table's own fusion data:
/// for every pair of which the table has the data that the fixture names.
#[test]
fn ideal_liquidus_at_eutectic_compositions() {
    let pairs = [
        ("choline chloride (2017)", "urea"),
        ("choline chloride (2023)", "urea"),
        ("choline chloride (2017)", "ethylene glycol"),
        ("choline chloride (2017)", "glycerol"),
        ("choline chloride (2017)", "levulinic acid"),
        ("thymol", "decanoic acid"),
        ("phenol", "acetamide"),
    ];
    let rows = rows(BINARY, 12);
    for (one, other) in pairs {
        let row = rows
            .iter()
            .find(|row| row.text("component_1") == one && row.text("component_2") == other)
            .expect("a row");
        let name = one.split(" (").next().expect("a name");
        let x = (row.number("x1_eutectic"), row.number("x2_eutectic"));
        let found = ideal_liquidus(&combination(&[(name, x.0), (other, x.1)]));
        let melting = row.number("Tm1_K");
        let set = found.sets.iter().find(|set| (set.fusion[0].0.melting.kelvin() - melting).abs() < 1e-9);
        let kelvin = set.expect("a set with these data").temperature.kelvin();
        assert_relative_eq!(kelvin, row.number("T_eutectic_K"), max_relative = 1e-7);
    }
}

/// ln x = −(ΔH/R)(1/T − 1/Tm) turned round by hand for urea, 405.55 K and 13 900 J/mol, at x = 2/3 beside choline
/// chloride of 2017: T = 1/(1/405.55 − 8.314462618 ln(2/3)/13900) = 1/(0.00246578720 + 0.00024253391) = 369.2324 K;
/// choline chloride, 597 K and 4300 J/mol, at x = 1/3: 1/(0.00167504188 + 0.00212429034) = 263.2036 K comes later.
#[test]
fn the_solid_that_comes_first_counts() {
    let found = ideal_liquidus(&combination(&[("ChCl", 1.0), ("urea", 2.0)]));
    assert_eq!(found.sets.len(), 2);
    assert_eq!(found.sets[0].solid, "urea");
    assert_relative_eq!(found.sets[0].temperature.kelvin(), 369.2324, epsilon = 2e-3);
}

/// Without an enthalpy of fusion there is no liquidus and no guess.
#[test]
fn missing_fusion_data_are_named() {
    let found = ideal_liquidus(&combination(&[("choline-acetate", 1.0), ("urea", 2.0)]));
    assert!(found.sets.is_empty());
    assert_eq!(found.missing, ["melting point and enthalpy of fusion of choline acetate"]);
}

/// Every published melting point that comes with the program is one of the fixture.
#[test]
fn melting_points_are_those_published() {
    let fixture = rows(MEASURED, 13);
    let known: Vec<f64> = fixture.iter().map(|row| row.number("T_K")).collect();
    let kept = include_str!("../../../data/phases/measured.csv");
    for row in rows(kept, 6) {
        assert!(known.contains(&row.number("temperature_k")), "{}", row.text("temperature_k"));
        assert!(!row.text("source").is_empty() && !row.text("what").is_empty());
        let moles: Vec<f64> =
            row.text("ratio").split(':').map(|part| part.parse().expect("a number")).collect();
        let made = combination(&[(row.text("acceptor"), moles[0]), (row.text("donor"), moles[1])]);
        let points = measured_melting(&made);
        assert!(points.iter().any(|point| point.temperature.kelvin() == row.number("temperature_k")));
    }
    // Whatever the order and the size of its numbers; and not at another ratio.
    assert_eq!(measured_melting(&combination(&[("urea", 4.0), ("ChCl", 2.0)])).len(), 2);
    assert_eq!(measured_melting(&combination(&[("ChCl", 1.0), ("urea", 1.0)])), []);
    // Smith, Abbott, Ryder 2014 give the viscosity of choline chloride and urea 1:2 from 298 K on.
    let seen = seen_liquid(&combination(&[("ChCl", 1.0), ("urea", 2.0)])).expect("measured");
    assert_relative_eq!(seen.temperature.kelvin(), 298.0);
}

/// Choline chloride and ethylene glycol 1:2 by weight, as in example S05 of the worked mixtures: 52.9353 and 47.0647 %.
/// Oxalic acid dihydrate brings its crystal water: 2 × 18.015 of 126.064 g/mol.
#[test]
fn fractions_by_mass() {
    let made = combination(&[("ChCl", 1.0), ("EG", 2.0)]);
    let shares = made.mass_fractions().expect("both have a molar mass");
    assert_relative_eq!(shares[0], 0.529353, epsilon = 1e-5);
    let hydrate = combination(&[("ChCl", 1.0), ("oxalic-acid-dihydrate", 1.0)]);
    let composition = hydrate.composition().expect("both have a molar mass");
    assert_relative_eq!(composition.water.get(), 36.03, epsilon = 1e-2);
    assert_relative_eq!(composition.mass().get(), 139.623 + 126.064, epsilon = 1e-2);
}

/// Each composition once: neither a component with itself nor the same the other way round.
#[test]
fn each_composition_comes_once() {
    let table = ComponentTable::builtin();
    let list: Vec<_> =
        ["thymol", "l-menthol", "urea"].iter().map(|name| Arc::clone(table.find(name).unwrap())).collect();
    let found = combinations(&[list.clone(), list], &[vec![1.0, 1.0], vec![1.0, 2.0]]);
    // 9 pairs at 2 ratios: 3 pairs are of one component; of the other 6, 1:1 comes twice.
    assert_eq!((found.list.len(), found.with_itself, found.again), (9, 6, 3));
}
