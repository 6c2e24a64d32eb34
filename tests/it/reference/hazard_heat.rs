//! Heat against the limits in `tests/fixtures/hazards/thermal-limits.csv`, whose rows name their sources.

use std::collections::BTreeMap;

use meltbook::caution::{Context, Severity};
use meltbook::quantity::TimeSpan;

use super::hazard_rules::{heated, ids, reviewed, the};

#[test]
fn heat_beyond_a_limit_names_the_product() {
    let fixture = include_str!("../../fixtures/hazards/thermal-limits.csv");
    let rows: Vec<BTreeMap<String, String>> =
        csv::Reader::from_reader(fixture.as_bytes()).deserialize().collect::<Result<_, _>>().unwrap();
    assert_eq!(rows.len(), 23);
    let mut compared = 0;
    for row in &rows {
        let material = row["material"].trim_end_matches(" (neat)");
        let Ok(limit) = row["value"].parse::<f64>() else { continue };
        if material.contains([':', ',']) {
            continue;
        }
        compared += 1;
        let review = reviewed(&[material], &heated(limit + 1.0));
        let products = row["products"].as_str();
        let word = if products.is_empty() { "flash point" } else { products };
        let word = word.split([',', ';', '(']).next().unwrap().split(" of ").next().unwrap().trim();
        let word = word.split(" from ").next().unwrap().trim_end_matches(" smell possible");
        let word = word.trim_end_matches(" in damp air");
        let stem = word.split(' ').next().unwrap();
        let named = review.alerts.iter().any(|alert| {
            alert.severity == Severity::Warn
                && (alert.id.starts_with("HEAT-") || alert.id.starts_with("FLASH-"))
                && alert.message.contains(stem)
        });
        assert!(named, "{material} at {limit}: {stem:?} in {:?}", review.alerts);
        let cold = reviewed(&[material], &Context::default());
        assert!(
            cold.alerts.iter().all(|alert| alert.severity < Severity::Warn || !alert.id.starts_with("FLASH"))
        );
    }
    assert_eq!(compared, 15);
}

#[test]
fn limits_of_mixtures_and_their_disagreements_are_shown() {
    let at = |names: &[&str], celsius: f64| reviewed(names, &heated(celsius));
    let review = at(&["choline chloride", "urea"], 100.0);
    assert_eq!(the(&review, "HEAT-CHCL-UREA").severity, Severity::Warn);
    assert_eq!(the(&review, "HEAT-UREA-EUTECTIC").severity, Severity::Warn);
    // Both onsets of urea stand side by side: Schaber 2004 and Zhu 2021.
    let urea = &the(&at(&["urea"], 155.0), "HEAT-UREA").message.clone();
    assert!(urea.contains("152 °C") && urea.contains("160 °C"), "{urea}");
    assert_eq!(the(&at(&["urea"], 124.0), "HEAT-UREA").severity, Severity::Note);
    assert!(!ids(&at(&["urea"], 120.0)).contains(&"HEAT-UREA"));
    assert!(ids(&at(&["urea", "ethylene glycol"], 80.0)).contains(&"HEAT-UREA-EUTECTIC"));
    for donor in ["oxalic-acid-dihydrate", "glycerol", "glycolic acid", "malic acid", "citric acid"] {
        let review = at(&["choline chloride", donor], 80.0);
        assert_eq!(the(&review, "HEAT-CHCL-LONG").severity, Severity::Warn, "{donor}");
    }
    // The recommendation is for long treatment (10 h).
    let hour = Context { time: Some(TimeSpan::new(3600.0)), ..heated(80.0) };
    let review = reviewed(&["choline chloride", "glycerol"], &hour);
    assert_eq!(the(&review, "HEAT-CHCL-LONG").severity, Severity::Note);
    assert!(ids(&at(&["choline chloride", "succinic acid"], 20.0)).contains(&"HEAT-CHCL-ESTER"));
    let unheated = reviewed(&["choline chloride", "malonic acid"], &Context::default());
    assert_eq!(the(&unheated, "HEAT-CHCL-MALONIC").severity, Severity::Note);
    assert!(the(&unheated, "HEAT-CHCL-MALONIC").message.contains("carbon dioxide"));
    // Rows without a temperature.
    assert!(the(&at(&["zinc chloride"], 110.0), "HEAT-ZINC-CHLORIDE").message.contains("hydrogen chloride"));
    assert!(
        the(&reviewed(&["formic acid"], &Context::default()), "FORMIC-CO").reason.contains("carbon monoxide")
    );
    assert!(ids(&at(&["choline chloride", "ethylene glycol"], 60.0)).contains(&"HEAT-CHCL-ONSET"));
}

#[test]
fn heat_without_a_temperature_is_said_to_be_unknown() {
    let context = Context { heated: true, ..Context::default() };
    assert!(ids(&reviewed(&["urea"], &context)).contains(&"HEAT-UNKNOWN"));
    assert!(!ids(&reviewed(&["urea"], &heated(80.0))).contains(&"HEAT-UNKNOWN"));
}
