//! Weighing and measuring by volume; sources in the README of `tests/fixtures/weighing`.

use std::collections::HashMap;

use approx::assert_relative_eq;
use meltbook::component::Component;
use meltbook::plan::{
    AirDensity, Balance, BottleDensity, LiquidsAt, PlanRequest, Size, Supply, balance_reading, true_mass,
};
use meltbook::quantity::{Density, Mass, Temperature};

use crate::setup::{balance, bottle, grams, planned, request, table, typed};

struct Row(HashMap<String, String>);

impl Row {
    fn text(&self, key: &str) -> &str {
        &self.0[key]
    }

    fn number(&self, key: &str) -> f64 {
        self.0[key].parse().unwrap_or_else(|_| panic!("{key}: {:?}", self.0[key]))
    }

    fn density(&self, key: &str) -> Density {
        Density::new(self.number(key) / 1000.0)
    }
}

fn rows(csv: &str, count: usize) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<Row> = reader.deserialize().map(|row| Row(row.unwrap())).collect();
    assert_eq!(rows.len(), count);
    rows
}

#[test]
fn buoyancy_and_back() {
    for row in rows(include_str!("../../fixtures/weighing/buoyancy.csv"), 5) {
        assert_eq!(row.number("weight_density_kg_m3"), 8000.0, "the conventional weights");
        let reading = Mass::new(row.number("balance_reading_g"));
        let (air, sample) = (row.density("air_density_kg_m3"), row.density("sample_density_kg_m3"));
        let mass = true_mass(reading, sample, air);
        assert_relative_eq!(mass.get(), row.number("true_mass_g"), max_relative = 1e-10);
        let percent = (mass / reading - 1.0) * 100.0;
        assert_relative_eq!(percent, row.number("correction_percent"), epsilon = 1e-8);
        let back = balance_reading(mass, sample, air);
        assert_relative_eq!(back.get(), reading.get(), max_relative = 1e-14);
    }
}

/// A plan says what the display shows for its mass: the second row of the table backwards.
#[test]
fn plan_shows_the_reading_of_its_mass() {
    let rows = rows(include_str!("../../fixtures/weighing/buoyancy.csv"), 5);
    let row = rows.iter().find(|row| row.number("sample_density_kg_m3") == 1261.26).unwrap();
    let value = typed("1261.26 kg/m3");
    let glycerol = Supply { density: Some(BottleDensity { value, at: None }), ..bottle("glycerol") };
    let size = Size::Mass(grams(row.number("true_mass_g")));
    let request = PlanRequest {
        supplies: vec![glycerol],
        air: Some(AirDensity(typed("1.2 kg/m3"))),
        ..request("glycerol 1", size)
    };
    let plan = planned(request);
    let reading = plan.lines[0].reading.unwrap();
    assert_relative_eq!(reading.get(), row.number("balance_reading_g"), max_relative = 1e-10);
}

#[test]
fn minimum_weight_by_usp_41() {
    for row in rows(include_str!("../../fixtures/weighing/minimum_weight.csv"), 6) {
        let mass = |key: &str| Mass::new(row.number(key));
        let repeatability = Some(mass("repeatability_s_g"));
        let readability = mass("readability_d_g");
        let balance = Balance { readability, repeatability, linearity: None, text: String::new() };
        let minimum = balance.minimum_weight();
        assert_relative_eq!(minimum.get(), row.number("minimum_weight_g"), max_relative = 1e-12);
        assert_relative_eq!(minimum.get(), 2000.0 * row.number("s_used_g"), max_relative = 1e-12);
    }
}

#[test]
fn masses_become_volumes() {
    for row in rows(include_str!("../../fixtures/weighing/mass_to_volume.csv"), 3) {
        let value = typed(&format!("{} kg/m3", row.number("density_kg_m3")));
        let density = Some(BottleDensity { value, at: Some(typed("20 °C")) });
        let supply = Supply { density, ..bottle(row.text("name")) };
        let name = row.text("name").replace(' ', "-");
        let request = request(&format!("{name} 1"), Size::Mass(grams(row.number("mass_g"))));
        let plan = planned(PlanRequest { supplies: vec![supply], ..request });
        let volume = match plan.lines[0].volume.as_ref() {
            Some(liquid) => liquid.volume.get(),
            None => panic!("{name} has no volume"),
        };
        assert_relative_eq!(volume, row.number("volume_mL"), max_relative = 1e-10);
    }
}

#[track_caller]
fn check_density(component: &Component, celsius: f64, expected: Density, tolerance: f64) {
    let temperature = Temperature::from_celsius(celsius);
    let Some((density, _)) = component.density_at(temperature) else {
        panic!("no density of {} at {celsius} °C", component.id)
    };
    let off = (density / expected - 1.0).abs();
    assert!(off <= tolerance, "{} at {celsius} °C: {density}, not {expected}", component.id);
}

#[test]
fn liquids_have_their_density_from_15_to_40() {
    for row in rows(include_str!("../../fixtures/weighing/liquid_density.csv"), 48) {
        let component = table().find(row.text("cas")).unwrap();
        assert!(component.is_liquid(), "{}", component.id);
        check_density(component, row.number("t_C"), row.density("density_kg_m3"), 0.005);
    }
}

#[test]
fn water_has_its_density() {
    let water = table().get(Component::WATER).unwrap();
    for row in rows(include_str!("../../fixtures/weighing/water_density.csv"), 17) {
        let celsius = row.number("t_C");
        let tolerance = if (20.0..=30.0).contains(&celsius) { 0.0005 } else { 0.005 };
        check_density(water, celsius, row.density("IAPWS95_CoolProp8_kg_m3"), tolerance);
        check_density(water, celsius, row.density("CIPM_2001_Tanaka_kg_m3"), tolerance);
    }
}

/// No density is stretched beyond the 30 K of its slope, nor used for a volume there.
#[test]
fn density_ends_where_its_source_does() {
    let glycol = table().get("ethylene-glycol").unwrap();
    assert!(glycol.density_at(Temperature::from_celsius(55.0)).is_some());
    assert!(glycol.density_at(Temperature::from_celsius(55.1)).is_none());
    let hot = LiquidsAt { value: Temperature::from_celsius(80.0), typed: Some(typed("80 °C")) };
    let request = request("ChCl:EG 1:2", Size::Mass(grams(50.0)));
    assert!(planned(request.clone()).lines[1].volume.is_some());
    assert!(planned(PlanRequest { liquids_at: hot, ..request }).lines[1].volume.is_none());
}

/// Steps of displays in use, and one finer than any: the rounded mass is a step, with no dust behind it.
#[test]
fn displays_round_to_their_step() {
    let check = |d: &str, mass: f64, shown: f64| {
        assert_eq!(balance(&format!("d={d}")).round(Mass::new(mass)).get(), shown, "{d}");
    };
    check("0.01 g", 32.4849, 32.48);
    check("0.05 g", 32.4849, 32.5);
    check("0.5 g", 32.4849, 32.5);
    check("2 g", 32.9, 32.0);
    check("0.1 mg", 2.740_049, 2.74);
    check("1 µg", 0.001_234_56, 0.001_235);
    check("0.0001 µg", 1.234_567_890_12e-6, 1.234_6e-6);
}
