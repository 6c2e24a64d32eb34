//! What a batch is after real weighings, by hand and by the worked cases. Molar masses are those of the
//! fixture's header: choline chloride 139.623, urea 60.056 g/mol.

use std::sync::Arc;

use approx::assert_relative_eq;
use meltbook::component::{Component, Quality, RatioBasis};
use meltbook::plan::{
    AirDensity, Balance, InAir, Made, MadeAddition, MadeAs, MadeContent, PlanRequest, Size, Weighing, made,
};
use meltbook::quantity::{Mass, MassFraction};

use super::worked_case::case;
use crate::setup::{balance, bottle, grams, planned, request, table, typed};

fn component(name: &str) -> &'static Arc<Component> {
    table().find(name).unwrap()
}

fn parts(names: &[&str]) -> Vec<Arc<Component>> {
    names.iter().map(|name| Arc::clone(component(name))).collect()
}

fn view(parts: &[Arc<Component>]) -> MadeAs<'_> {
    MadeAs { basis: RatioBasis::Mole, parts, weighing: Weighing::Each }
}

fn put_in<'q>(
    name: &str,
    quality: &'q Quality,
    bottle: Option<&'q str>,
    mass: f64,
    balance: Option<&'q Balance>,
) -> MadeAddition<'q> {
    let content = MadeContent::Component { component: component(name), quality, bottle };
    MadeAddition { content, reading: Mass::new(mass), balance, in_air: None }
}

fn relative_u(made: &Made) -> f64 {
    made.ratios[0].budget.standard_uncertainty()
}

#[test]
fn w02_bottles_weighed_as_if_they_were_dry() {
    let case = case("W02");
    let bottles = case.assayed_bottles();
    let mass = |key: &str| case.expect[key].as_float().unwrap();
    let parts = parts(&["ChCl", "urea"]);
    // Masses of the case's answers, printed to 12 digits.
    let right = [
        put_in("ChCl", &bottles[0].quality, None, mass("gross_ChCl_g"), None),
        put_in("urea", &bottles[1].quality, None, mass("gross_Urea_g"), None),
    ];
    let batch = made(&right, &view(&parts));
    case.check("total_weighed_g", batch.mass.get());
    case.check("water_carried_g", batch.water.mass.get());
    case.check("water_mass_fraction_of_batch", batch.water.fraction.get());
    case.check("impurity_carried_g", batch.composition.unknown.get());
    assert_relative_eq!(batch.ratios[0].value, 2.0, max_relative = 1e-10);
    // The slip: 100 g of dry actives at 1 : 2 hold 2 × 60.056 / 259.735 of urea; ÷ 0.995.
    let urea = 100.0 * 2.0 * 60.056 / 259.735 / 0.995;
    let slip = [
        put_in("ChCl", &bottles[0].quality, None, mass("gross_ChCl_if_moisture_ignored_g"), None),
        put_in("urea", &bottles[1].quality, None, urea, None),
    ];
    let key = "resulting_mol_urea_per_ChCl_if_both_moistures_ignored";
    case.check(key, made(&slip, &view(&parts)).ratios[0].value);
}

/// Two portions of the acceptor: their weighings add up in squares. Out of one bottle the assay counts once,
/// out of two it counts as two deviations: u² = Σ (mᵢ aᵢ)² (u(mᵢ)²/mᵢ² + u(aᵢ)²/aᵢ²) / (Σ mᵢ aᵢ)².
#[test]
fn several_weighings_of_one_component() {
    let scale = balance("d=0.000000001g repeatability=0.003g");
    let (one, other) = (bottle("ChCl assay=98% assay_u=0.5%").quality, Quality::default());
    let parts = parts(&["urea", "ChCl"]);
    let batch = |second: &str| {
        let additions = [
            put_in("ChCl", &one, Some("B1"), 10.0, Some(&scale)),
            put_in("urea", &other, None, 12.0, Some(&scale)),
            put_in("ChCl", &one, Some(second), 4.0, Some(&scale)),
        ];
        made(&additions, &view(&parts))
    };
    let same = batch("B1");
    assert_relative_eq!(same.ratios[0].value, 14.0 * 0.98 / 139.623 / (12.0 / 60.056), max_relative = 1e-12);
    let weighing = |mass: f64| (0.003 / mass).powi(2);
    let molar_masses: f64 = ["ChCl", "urea"]
        .map(|name| {
            let formula = component(name).formula.as_ref().unwrap();
            (formula.molar_mass_uncertainty() / formula.molar_mass()).powi(2)
        })
        .iter()
        .sum();
    let fixed = 2.0 * weighing(14.0) + weighing(12.0) + molar_masses;
    let assay = (0.005f64 / 0.98).powi(2);
    assert_relative_eq!(relative_u(&same).powi(2), fixed + assay, max_relative = 1e-9);
    let two = fixed + assay * (10f64.powi(2) + 4f64.powi(2)) / 14f64.powi(2);
    assert_relative_eq!(relative_u(&batch("B2")).powi(2), two, max_relative = 1e-9);
    let named: Vec<&str> = same.ratios[0].budget.contributions.iter().map(|c| c.source.as_str()).collect();
    assert!(named.contains(&"mass of choline-chloride, weighing 2"), "{named:?}");
    assert!(named.contains(&"assay of choline-chloride in B1"), "{named:?}");
}

/// A stock solution for a tiny amount: 1 g of additive in 100 g of glycol, 5 g of that into 50 g of glycol.
/// Grams of thymol: 5 × 1/101; the bottle's assay is one deviation wherever it shows.
#[test]
fn a_batch_in_part_brings_its_bottles_deviations() {
    let scale = balance("d=0.000000001g repeatability=0.01g");
    let (thymol, glycol) = (bottle("thymol assay=99% assay_u=0.3%").quality, Quality::default());
    let parts = parts(&["EG", "thymol"]);
    let mut mass_view = view(&parts);
    mass_view.basis = RatioBasis::Mass;
    let stock = made(
        &[
            put_in("thymol", &thymol, Some("T1"), 1.0, Some(&scale)),
            put_in("EG", &glycol, None, 100.0, Some(&scale)),
        ],
        &mass_view,
    );
    let some = MadeContent::Batch { code: "S1", made: &stock };
    let taken = MadeAddition { content: some, reading: Mass::new(5.0), balance: Some(&scale), in_air: None };
    let batch = made(&[put_in("EG", &glycol, None, 50.0, Some(&scale)), taken], &mass_view);
    let (t, g): (f64, f64) = (5.0 / 101.0 * 0.99, 50.0 + 500.0 / 101.0);
    assert_relative_eq!(batch.ratios[0].value, t / g, max_relative = 1e-12);
    // r = a x s / (G + (1 − x) s) with x = m₁/(m₁ + m₂), s taken, G glycol: derivatives by hand.
    let (s, x) = (5.0, 1.0 / 101.0);
    let by_s = 1.0 / s - (1.0 - x) / g;
    let by_g = -1.0 / g;
    let by_x = 1.0 / x + s / g;
    let (x_by_thymol, x_by_glycol) = (100.0 / 101f64.powi(2), -1.0 / 101f64.powi(2));
    let weighings = by_s.powi(2) + by_g.powi(2) + by_x.powi(2) * (x_by_thymol.powi(2) + x_by_glycol.powi(2));
    let variance = weighings * 0.01f64.powi(2) + (0.003f64 / 0.99).powi(2);
    assert_relative_eq!(relative_u(&batch).powi(2), variance, max_relative = 1e-9);
}

/// 60 g made of dry bottles, titrated at 0.42 ± 0.01 wt%: 60 g stay dry, W = 60 × 0.0042/0.9958.
#[test]
fn measured_water_takes_the_place_of_what_the_bottles_said() {
    let pure = Quality::default();
    let parts = parts(&["ChCl", "urea"]);
    let batch = made(
        &[put_in("ChCl", &pure, None, 30.0, None), put_in("urea", &pure, None, 30.0, None)],
        &view(&parts),
    );
    let measured = batch.with_measured_water(
        MassFraction::new(0.0042),
        Some(MassFraction::new(0.0001)),
        "titration of B1",
        &view(&parts),
    );
    assert_relative_eq!(measured.water.mass.get(), 60.0 * 0.0042 / 0.9958, max_relative = 1e-12);
    assert_relative_eq!(measured.mass.get(), 60.0 / 0.9958, max_relative = 1e-12);
    assert_relative_eq!(measured.water.fraction.get(), 0.0042, max_relative = 1e-12);
    assert_relative_eq!(measured.water.standard_uncertainty().get(), 0.0001, max_relative = 1e-9);
    assert_eq!(measured.ratios[0].value, batch.ratios[0].value);
}

/// With buoyancy corrected for, what the display is to show makes the plan's batch again.
#[test]
fn readings_in_air_make_the_plan() {
    let air = AirDensity(typed("1.2 kg/m3"));
    let mut supplies = vec![bottle("EG"), bottle("ChCl")];
    for (supply, density) in supplies.iter_mut().zip(["1.11 g/mL", "1.2 g/mL"]) {
        supply.density = Some(meltbook::plan::BottleDensity { value: typed(density), at: None });
    }
    let request = request("ChCl:EG 1:2", Size::Mass(grams(60.0)));
    let plan = planned(PlanRequest { air: Some(air.clone()), supplies, ..request });
    let additions: Vec<MadeAddition<'_>> = plan
        .lines
        .iter()
        .map(|line| {
            let reading = line.reading.unwrap();
            assert!(reading < line.weigh);
            let sample = line.supply.density.as_ref().unwrap().value.value;
            let one = put_in(line.component.id.as_str(), &line.supply.quality, None, reading.get(), None);
            MadeAddition { in_air: Some(InAir { air: air.0.value, sample }), ..one }
        })
        .collect();
    let parts = parts(&["ChCl", "EG"]);
    let batch = made(&additions, &view(&parts));
    assert_relative_eq!(batch.mass.get(), 60.0, max_relative = 1e-12);
    assert_relative_eq!(batch.ratios[0].value, 2.0, max_relative = 1e-12);
}
