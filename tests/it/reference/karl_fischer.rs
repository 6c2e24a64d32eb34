//! Karl Fischer titration against W18, a table of conversions, and what two standards say; see the README of
//! `tests/fixtures/practice`.

use std::sync::Arc;

use approx::assert_relative_eq;
use meltbook::component::Component;
use meltbook::plan::{
    COULOMETRIC_AIM, Disturbance, Found, MassGain, StatedUncertainty, Titration, TitrationError,
    TitrationMethod, charge_of, coulometric_sample, disturbances, method_for, titrant_of, titrated,
    volumetric_sample,
};
use meltbook::quantity::{
    Drift, ElectricCharge, FractionInterval, Mass, MassFraction, Relative, TimeSpan, Titre, Volume,
};

use super::worked_case::case;
use crate::setup::{balance, table};

fn ppm(value: f64) -> MassFraction {
    MassFraction::new(value * 1e-6)
}

/// Without drift and blank.
fn plain(sample: f64, found: Found) -> Titration {
    let (drift, time, blank) = (Drift::ZERO, TimeSpan::ZERO, Mass::ZERO);
    Titration { sample: Mass::new(sample), found, drift, time, blank }
}

#[test]
fn w18_sizing() {
    let case = case("W18");
    let (sample, expected) = (case.input("sample_g"), ppm(case.input("water_ppm")));
    let water = Mass::new(sample) * expected.get();
    case.check("water_ug", water.get() * 1e6);
    case.check("charge_C_per_mg_water", charge_of(Mass::new(1e-3)).get());
    case.check("charge_C", charge_of(water).get());
    let titre = Titre::new(case.input("titrant_mg_per_mL"));
    let titrant = titrant_of(water, titre).unwrap();
    case.check("titrant_volume_mL", titrant.get());
    case.check("sample_g_for_1_mg_water", coulometric_sample(expected, COULOMETRIC_AIM).unwrap().get());
    assert_relative_eq!(
        volumetric_sample(expected, titrant, titre).unwrap().get(),
        sample,
        max_relative = 1e-12
    );
    let drift = Drift::new(case.input("drift_ug_per_min"));
    let time = TimeSpan::new(case.input("minutes") * 60.0);
    let drifted = Titration { drift, time, ..plain(sample, Found::Water(Mass::ZERO)) }.drifted();
    case.check("drift_ug", drifted.get() * 1e6);
    let found = Found::Charge(charge_of(water + drifted));
    let titration = Titration { drift, time, ..plain(sample, found) };
    case.check("apparent_ppm_without_drift_correction", titration.fraction_without_drift().ppm());
    assert_relative_eq!(titration.fraction().ppm(), case.input("water_ppm"), max_relative = 1e-12);
    case.finish();
}

#[test]
fn units_of_water_found() {
    let mut reader =
        csv::Reader::from_reader(&include_bytes!("../../fixtures/practice/karl_fischer.csv")[..]);
    let mut rows = 0;
    for row in reader.records() {
        let row: Vec<f64> = row.unwrap().iter().map(|cell| cell.parse().unwrap()).collect();
        let [found, sample, in_ppm, percent, mmol] = row[..] else { panic!("{row:?}") };
        let result =
            titrated(&[plain(sample, Found::Water(Mass::new(found * 1e-3)))], &StatedUncertainty::default())
                .unwrap();
        assert_relative_eq!(result.water().ppm(), in_ppm, max_relative = 1e-9);
        assert_relative_eq!(result.water().percent(), percent, max_relative = 1e-9);
        // Half of the last printed digit.
        let amount = Mass::new(found * 1e-3) / table().get("water").unwrap().molar_mass().unwrap();
        assert_relative_eq!(amount.get() * 1e3, mmol, epsilon = 5.1e-9);
        rows += 1;
    }
    assert_eq!(rows, 4);
}

/// The value of a fact by its id, up to the unit.
fn fact(id: &str) -> (String, String) {
    let text = include_bytes!("../../fixtures/practice/karl_fischer_facts.csv");
    let mut reader = csv::Reader::from_reader(&text[..]);
    let row = reader.records().map(|row| row.unwrap()).find(|row| &row[0] == id).unwrap();
    (row[3].to_owned(), row[6].to_owned())
}

#[test]
fn the_method_is_that_of_the_standards() {
    let (preferred, source) = fact("F24");
    let preferred = ppm(preferred.parse().unwrap());
    let advice = method_for(preferred);
    assert_eq!((advice.method, advice.coulometric_in_range), (TitrationMethod::Coulometric, true));
    assert!(source.starts_with(advice.source), "{}", advice.source);
    let above = method_for(preferred * 1.001);
    assert_eq!((above.method, above.coulometric_in_range), (TitrationMethod::Volumetric, true));
    let (range, source) = fact("F25");
    let end: f64 = range.split(" to ").nth(1).unwrap().parse().unwrap();
    let end = MassFraction::new(end / 100.0);
    assert!(method_for(end).coulometric_in_range);
    let beyond = method_for(end * 1.001);
    assert_eq!((beyond.method, beyond.coulometric_in_range), (TitrationMethod::Volumetric, false));
    assert!(source.starts_with(beyond.source), "{}", beyond.source);
}

fn found_in(names: &[&str]) -> Vec<Disturbance> {
    let components: Vec<Arc<Component>> =
        names.iter().map(|name| Arc::clone(table().find(name).unwrap())).collect();
    disturbances(&components)
}

#[test]
fn acids_of_the_standard_are_named_with_it() {
    let (acids, source) = fact("F29");
    for acid in acids.split(", ") {
        let id = format!("{acid}-acid");
        // Adipic acid is not in the built-in table.
        if table().get(&id).is_none() {
            assert_eq!(acid, "adipic");
            continue;
        }
        let found = found_in(&[&id]);
        let own = found.iter().find(|found| found.code == "slow_esterification").unwrap();
        assert_eq!(own.source, source);
        assert!(found.iter().all(|found| found.code != "acid_may_esterify"));
    }
}

/// Which rule each component meets: general chemistry, from memory.
#[test]
fn what_disturbs_is_told() {
    let cases: [(&str, &[&str]); 17] = [
        ("oxalic-acid", &["acid_may_esterify"]),
        ("lactic-acid", &["acid_may_esterify"]),
        ("levulinic-acid", &["acid_may_esterify", "carbonyl_makes_water"]),
        ("acetone", &["carbonyl_makes_water"]),
        ("camphor", &["carbonyl_makes_water"]),
        ("vanillin", &["carbonyl_makes_water"]),
        ("manganese-dioxide", &["oxidises_iodide"]),
        ("copper-ii-chloride", &["oxidises_iodide"]),
        ("iron-iii-chloride", &["oxidises_iodide"]),
        ("potassium-permanganate", &["oxidises_iodide"]),
        ("sodium-hypochlorite", &["oxidises_iodide"]),
        ("thiourea", &["reduces_iodine"]),
        ("zinc-powder", &["reduces_iodine"]),
        ("potassium-hydroxide", &["base_raises_ph"]),
        ("zinc-oxide", &["oxide_makes_water"]),
        ("zinc-nitrate-hexahydrate", &[]),
        ("sodium-perchlorate", &[]),
    ];
    for (name, codes) in cases {
        let found: Vec<&str> = found_in(&[name]).iter().map(|found| found.code).collect();
        assert_eq!(found, codes, "{name}");
    }
    assert_eq!(found_in(&["ChCl", "urea", "EG", "glycerol", "ZnCl2", "water"]), []);
    let several = found_in(&["malonic-acid", "ChCl", "citric-acid"]);
    assert_eq!(several.len(), 1);
    let message = several[0].warning().message;
    assert!(message.starts_with("malonic-acid, citric-acid: a carboxylic acid"), "{message}");
}

/// Three replicates of 4190, 4230, 4210 ppm: mean 4210, s = √((20² + 20² + 0)/2) = 20, s/√3 = 11.547.
/// With 1 % of the titre (42.1 ppm) and 2 µg/min of drift over 3 min in 0.25 g (24 ppm):
/// u² = 11.547² + 42.1² + 24² (JCGM 100:2008, 5.1).
#[test]
fn replicates_and_what_they_share() {
    let (drift, time) = (Drift::new(10.0), TimeSpan::new(180.0));
    let one = |in_ppm: f64| {
        let found = Mass::new(0.25 * in_ppm * 1e-6 + 30e-6);
        Titration { drift, time, ..plain(0.25, Found::Water(found)) }
    };
    let titrations = [4190.0, 4230.0, 4210.0].map(one);
    let alone = titrated(&titrations, &StatedUncertainty::default()).unwrap();
    assert_relative_eq!(alone.water().ppm(), 4210.0, max_relative = 1e-9);
    assert_relative_eq!(alone.standard_deviation.unwrap().ppm(), 20.0, max_relative = 1e-9);
    assert_relative_eq!(alone.standard_uncertainty().ppm(), 20.0 / 3f64.sqrt(), max_relative = 1e-9);
    assert_eq!(alone.mean.budget.effective_degrees_of_freedom(), 2.0);
    assert_eq!(alone.mean.budget.unstated.len(), 2, "{:?}", alone.mean.budget.unstated);
    let stated = StatedUncertainty {
        calibration: Some(Relative::new(0.01)),
        drift: Some(Drift::new(2.0)),
        weighing: Some(Mass::new(0.1)),
        blank: None,
    };
    let all = titrated(&titrations, &stated).unwrap();
    let expected = (400.0 / 3.0 + 42.1f64.powi(2) + 24f64.powi(2)).sqrt();
    assert_relative_eq!(all.standard_uncertainty().ppm(), expected, max_relative = 1e-9);
    assert!(all.mean.budget.unstated.is_empty() && all.warnings().is_empty());
    // A single one has no scatter, so the weighing counts: 4210 ppm × 0.001/0.25.
    let weighing = StatedUncertainty { weighing: Some(Mass::new(0.001)), ..StatedUncertainty::default() };
    let single = titrated(&titrations[2..], &weighing).unwrap();
    assert_eq!(single.standard_deviation, None);
    assert_relative_eq!(single.standard_uncertainty().ppm(), 4210.0 * 0.001 / 0.25, max_relative = 1e-9);
}

/// 0.5 mL at 5 mg/mL are 2.5 mg; 0.1 mg of blank off, in 0.8 g: 3000 ppm. The same from a charge.
#[test]
fn titrant_charge_and_blank() {
    let blank = Mass::new(0.1e-3);
    let found = Found::Titrant { volume: Volume::new(0.5), titre: Titre::new(5.0) };
    let volumetric = Titration { blank, ..plain(0.8, found) };
    assert_relative_eq!(volumetric.fraction().ppm(), 3000.0, max_relative = 1e-12);
    // 2 × 96485.33212 C/mol ÷ 18.015 g/mol for each gram.
    let charge = ElectricCharge::new(2.0 * 96485.33212 / 18.015 * 2.5e-3);
    let coulometric = Titration { blank, ..plain(0.8, Found::Charge(charge)) };
    assert_relative_eq!(coulometric.fraction().ppm(), 3000.0, max_relative = 1e-9);
}

#[test]
fn what_gives_no_result_is_told() {
    let stated = StatedUncertainty::default();
    assert_eq!(titrated(&[], &stated).unwrap_err(), TitrationError::NoTitration);
    let empty = plain(0.0, Found::Water(Mass::new(1e-3)));
    let error = titrated(&[plain(1.0, Found::Water(Mass::ZERO)), empty], &stated).unwrap_err();
    assert_eq!(error.to_string(), "the sample of titration 2 has no mass");
    let below = Titration { blank: Mass::new(2e-6), ..plain(1.0, Found::Water(Mass::new(1e-6))) };
    let codes: Vec<_> = titrated(&[below], &stated).unwrap().warnings();
    assert_eq!(codes[0].code, "below_blank");
    assert_eq!(coulometric_sample(MassFraction::ZERO, COULOMETRIC_AIM), None);
    assert_eq!(titrant_of(Mass::new(1.0), Titre::ZERO), None);
}

/// 50.000 g at 0.42 wt% become 51.000 g: (51 − 50 + 0.21)/51. Sensitivities by hand, u(m) = 2 mg.
#[test]
fn water_from_mass_gain() {
    let before = FractionInterval::with_uncertainty(MassFraction::new(0.0042), MassFraction::new(0.0001));
    let scale = balance("d=0.000000001g repeatability=0.002g");
    let gain = MassGain {
        before: Mass::new(50.0),
        after: Mass::new(51.0),
        water_before: &before,
        balance: Some(&scale),
    };
    let water = gain.water().unwrap();
    assert_relative_eq!(water.value, 1.21 / 51.0, max_relative = 1e-12);
    let by_masses = (0.9958f64 / 51.0).powi(2) + (50.0 * 0.9958 / 51f64.powi(2)).powi(2);
    let variance = by_masses * 0.002f64.powi(2) + (50.0 / 51.0 * 0.0001f64).powi(2);
    assert_relative_eq!(water.standard_uncertainty(), variance.sqrt(), max_relative = 1e-9);
    let nothing = MassGain { before: Mass::ZERO, ..gain };
    assert!(nothing.water().is_none());
    let still = MassGain { after: gain.before, ..gain };
    assert_relative_eq!(still.water().unwrap().value, 0.0042, max_relative = 1e-12);
}
