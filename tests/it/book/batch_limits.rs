//! Release against the recipe's own limits.

use meltbook::quantity::{Property, Temperature};
use meltbook::record::limit::{Facts, FrozenLimit, LimitOf, compare};

use super::bench::{Bench, LIMITED};

fn ready(bench: &Bench) {
    bench.write("recipes/limited.toml", LIMITED);
    bench.said(&["batch", "start", "limited", "--mass", "60 g"], 0);
    bench.said(&["batch", "weigh", "E1", "ChCl", "31.761 g"], 0);
    bench.said(&["batch", "weigh", "E1", "EG", "28.239 g"], 0);
    bench.said(&["batch", "finish", "E1"], 0);
    bench.said(&["batch", "water", "E1", "--result", "0.4 wt%"], 0);
    bench.said(&["batch", "measure", "E1", "density", "1.117 g/mL", "--at", "25 °C"], 0);
    bench.said(&["batch", "appearance", "E1", "--clarity", "clear"], 0);
}

#[test]
fn what_was_released_and_then_changed_is_not_released() {
    let bench = Bench::new();
    ready(&bench);
    assert_eq!(bench.json(&["batch", "release", "E1"], 0)["status"], "released");
    bench.refused(&["batch", "release", "E1"], "refused");
    let changed = bench.json(&["batch", "add", "E1", "--component", "water", "1 g"], 0);
    assert_eq!(changed["status"], "finished");
    assert!(bench.said(&["batch", "show", "E1"], 0).contains("changed since it was released"));
    bench.verify();
}

#[test]
fn a_limit_that_is_not_met_needs_a_reason() {
    let mut bench = Bench::new();
    ready(&bench);
    bench.said(&["batch", "appearance", "E1", "--clarity", "hazy"], 0);
    let refusal = bench.refused(&["batch", "release", "E1"], "needs_reason");
    assert!(refusal.contains("appearance: hazy, limit clear: not met"), "{refusal}");
    let released = bench.json(&["batch", "release", "E1", "--because", "haze is gone at 30 °C"], 0);
    assert_eq!(released["released"]["because"], "haze is gone at 30 °C");
    let rejected = bench.json(&["batch", "reject", "E1", "--because", "crystals"], 0);
    assert_eq!(
        (&rejected["status"], &rejected["rejected"]["reason"]),
        (&"rejected".into(), &"crystals".into())
    );
    // Nothing goes in or out of it without a reason.
    bench.refused(&["batch", "add", "E1", "--component", "water", "1 g"], "needs_reason");
    bench.at("2027-11-25T09:00:00Z");
    let late = bench.json(&["batch", "show", "E1"], 0);
    let limits = late["limits"].as_array().expect("a list");
    assert!(
        limits
            .iter()
            .any(|limit| limit["met"] == false && limit["sentence"].to_string().contains("age: 365 d"))
    );
    assert_eq!(bench.json(&["batch", "list"], 0).as_array().map(Vec::len), Some(0));
    assert_eq!(bench.json(&["batch", "list", "--all"], 0).as_array().map(Vec::len), Some(1));
}

#[test]
fn a_ratio_out_of_tolerance_is_not_met() {
    let bench = Bench::new();
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g"], 0);
    bench.said(&["batch", "weigh", "E1", "ChCl", "31.761 g"], 0);
    bench.said(&["batch", "finish", "E1"], 0);
    let refusal = bench.refused(&["batch", "release", "E1"], "needs_reason");
    assert!(refusal.contains("ethylene-glycol: nothing of it is in"), "{refusal}");
    // 2 % too little: 27.674 g instead of 28.239 g.
    bench.said(&["batch", "add", "E1", "--component", "EG", "27.674 g"], 0);
    let refusal = bench.refused(&["batch", "release", "E1"], "needs_reason");
    assert!(refusal.contains("ethylene-glycol: 2.0 % off the recipe, tolerance 1.0 %: not met"), "{refusal}");
    bench.said(&["batch", "add", "E1", "--component", "EG", "0.565 g"], 0);
    assert_eq!(bench.json(&["batch", "release", "E1"], 0)["status"], "released");
}

/// A property counts at the limit's temperature alone, and the latest counts.
#[test]
fn the_latest_at_the_right_temperature_counts() {
    let at = |celsius: f64| Some(Temperature::from_celsius(celsius));
    let limit = FrozenLimit {
        of: LimitOf::Property(Property::Viscosity),
        low: None,
        high: Some(40.0),
        word: None,
        at: at(25.0),
        text: "max 40 mPa·s at 25 °C".to_owned(),
    };
    let found = |properties| {
        compare(std::slice::from_ref(&limit), &Facts { properties, ..Facts::default() }).remove(0)
    };
    let viscosity = |value: f64, celsius: f64| (Property::Viscosity, value, at(celsius));
    assert_eq!(found(vec![]).met, None);
    assert_eq!(found(vec![viscosity(30.0, 40.0)]).met, None, "measured, but not at 25 °C");
    assert_eq!(found(vec![(Property::Viscosity, 30.0, None)]).met, None, "at nobody knows what temperature");
    assert_eq!(found(vec![viscosity(41.0, 25.0), viscosity(39.0, 25.5)]).met, Some(true));
    assert_eq!(found(vec![viscosity(39.0, 25.0), viscosity(41.0, 25.0)]).met, Some(false));
    assert_eq!(found(vec![viscosity(40.0, 25.0)]).met, Some(true), "the limit itself meets it");
}

/// Each property in its own unit, whatever it was typed in.
#[test]
fn every_property_has_its_unit() {
    let bench = Bench::new();
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g"], 0);
    let cases: [(&str, &str, f64, &str); 9] = [
        ("density", "1117 kg/m3", 1.117, "g/mL"),
        ("viscosity", "0.037 Pa·s", 37.0, "mPa·s"),
        ("conductivity", "0.761 S/m", 7.61, "mS/cm"),
        ("pH", "5.2", 5.2, ""),
        ("melting-onset", "286 K", 12.85, "°C"),
        ("liquidus", "287.15 K", 14.0, "°C"),
        ("glass-transition", "-103.4 °C", -103.4, "°C"),
        ("crystallisation-on-cooling", "-40 °C", -40.0, "°C"),
        ("cold-crystallisation", "-60 °C", -60.0, "°C"),
    ];
    for (at, (property, text, value, unit)) in cases.into_iter().enumerate() {
        let show = bench.json(&["batch", "measure", "E1", property, text, "--scan-rate", "-5 K/min"], 0);
        let measured = &show["properties"][at];
        approx::assert_relative_eq!(super::bench::number(&measured["value"]), value, max_relative = 1e-9);
        assert_eq!((&measured["property"], &measured["unit"]), (&property.into(), &unit.into()));
        assert_eq!(measured["scan_rate_k_per_min"], -5.0);
    }
}
