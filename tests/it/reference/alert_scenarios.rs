//! Every alert of `data/alerts`, each in a situation where it must speak and in a near one where it must not.
//!
//! The situations are common practice and general chemistry, from memory; those of the fixtures stand in
//! `hazard_rules.rs` with their sources. A new alert without a row here fails.

use std::collections::BTreeSet;

use meltbook::caution::{Context, Severity, WayPast, heat_rule_ids, rule_ids};
use meltbook::quantity::{Temperature, TimeSpan};

use super::hazard_rules::{ids, reviewed};

/// What is done with the materials, in a word.
fn done(how: &str) -> Context {
    let heat = |celsius: f64| Some(Temperature::from_celsius(celsius));
    let nothing = Context::default();
    match how {
        "" => nothing,
        "sealed" => Context { sealed: true, ..nothing },
        "cell" => Context { cell: true, ..nothing },
        "dried up" => Context { to_dryness: true, ..nothing },
        "ground" => Context { ground: true, ..nothing },
        "shorted" => Context { short_circuit: true, ..nothing },
        "heated" => Context { heated: true, ..nothing },
        "at 25 °C" => Context { heat: heat(25.0), ..nothing },
        "at 60 °C" => Context { heat: heat(60.0), ..nothing },
        "at 90 °C" => Context { heat: heat(90.0), ..nothing },
        "10 h at 85 °C" => Context { heat: heat(85.0), time: Some(TimeSpan::new(36_000.0)), ..nothing },
        "sealed at 60 °C" => Context { sealed: true, heat: heat(60.0), ..nothing },
        other => panic!("no context for {other:?}"),
    }
}

type Situation = (&'static str, &'static str);

/// Id; materials and what is done with them where it speaks; where it is quiet.
#[rustfmt::skip]
const SITUATIONS: &[(&str, Situation, Situation)] = &[
    ("OX-ORG", ("sodium perchlorate, ethylene glycol", ""), ("manganese dioxide, ethylene glycol", "")),
    ("OX-GRIND", ("potassium permanganate, carbon black", "ground"), ("manganese dioxide, carbon black", "ground")),
    ("OX-RED", ("sodium nitrate, zinc", ""), ("manganese dioxide, zinc", "cell")),
    ("CLO4-EVAP", ("sodium perchlorate, choline chloride", "dried up"), ("zinc chloride, choline chloride", "dried up")),
    ("MNO2-RED", ("manganese dioxide, oxalic acid", "sealed"), ("manganese dioxide, zinc, zinc chloride", "sealed")),
    ("MNO2-PEROX", ("manganese dioxide, hydrogen peroxide", ""), ("manganese dioxide, water", "")),
    ("MNO2-HCL", ("manganese dioxide, hydrochloric acid", ""), ("manganese dioxide, zinc chloride, water", "cell")),
    ("MNO2-C-DRY", ("manganese dioxide, graphite", ""), ("zinc, graphite", "cell")),
    ("ACID-METAL", ("citric acid, zinc", ""), ("glycerol, zinc", "")),
    ("MACID-METAL", ("zinc chloride, zinc", ""), ("potassium chloride, zinc", "")),
    ("BASE-METAL", ("potassium hydroxide, zinc", ""), ("potassium hydroxide, graphite", "")),
    ("NH4-METAL", ("ammonium chloride, zinc", ""), ("choline chloride, zinc", "")),
    ("ACID-BASE", ("lactic acid, potassium hydroxide", ""), ("lactic acid, urea", "")),
    ("MACID-BASE", ("hydrochloric acid, sodium hydroxide", ""), ("glycerol, sodium hydroxide", "")),
    ("BASE-NH4", ("ammonium chloride, potassium hydroxide", ""), ("ammonium chloride, water", "")),
    ("BASE-QUAT", ("choline chloride, potassium hydroxide", ""), ("potassium chloride, potassium hydroxide", "")),
    ("HYPO-N", ("sodium hypochlorite, urea", ""), ("sodium hypochlorite, potassium chloride", "")),
    ("HYPO-ACID", ("bleach, citric acid", ""), ("bleach, potassium hydroxide", "")),
    ("HYPO-MACID", ("bleach, hydrochloric acid", ""), ("bleach, potassium hydroxide", "")),
    ("CN-ACID", ("sodium sulfide, acetic acid", ""), ("sodium chloride, acetic acid", "")),
    ("CN-MACID", ("sodium cyanide, hydrochloric acid", ""), ("sodium cyanide, sodium hydroxide", "")),
    ("AZIDE-METAL", ("sodium azide, lead", ""), ("sodium azide, potassium chloride", "")),
    ("WATER-RX", ("aluminium chloride, humid air", ""), ("zinc chloride, humid air", "")),
    ("ALCL3-HBD", ("aluminium chloride, urea", ""), ("zinc chloride, urea", "")),
    ("HOT-WATER", ("zinc chloride, water", ""), ("choline chloride, water", "")),
    ("ALD-N", ("formaldehyde, urea", ""), ("glucose, urea", "")),
    ("ALD-ACID", ("glyoxal, hydrochloric acid", ""), ("ethylene glycol, hydrochloric acid", "")),
    ("ESTER-CHCL", ("choline chloride, malonic acid", ""), ("choline chloride, glycerol", "")),
    ("ESTER-GLYCOL", ("glycerol, lactic acid", ""), ("glycerol, urea", "")),
    ("HALIDE-MINACID", ("choline chloride, sulfuric acid", ""), ("choline chloride, phosphoric acid", "")),
    ("NITRILE-ACID", ("acetonitrile, sulfuric acid", ""), ("acetonitrile, urea", "")),
    ("DMSO-ACCL", ("DMSO, acetyl chloride", ""), ("DMSO, zinc chloride", "")),
    ("PHENOL-OX", ("manganese dioxide, thymol", ""), ("manganese dioxide, glycerol", "")),
    ("CR6", ("chromium-iii-chloride, potassium hydroxide", "at 60 °C"), ("chromium-iii-chloride, urea", "at 60 °C")),
    ("HF-ACID", ("sodium fluoride, citric acid", ""), ("sodium chloride, citric acid", "")),
    ("DUST-ZN", ("zinc powder", ""), ("zinc sheet", "")),
    ("CELL-SEAL", ("zinc, choline chloride", "sealed"), ("zinc, choline chloride", "")),
    ("CLOSED-HEAT", ("choline chloride, glycerol", "sealed at 60 °C"), ("choline chloride, glycerol", "at 60 °C")),
    ("HEAT-UNKNOWN", ("urea", "heated"), ("urea", "at 60 °C")),
    ("CELL-SHORT", ("", "shorted"), ("zinc, zinc chloride", "cell")),
    ("EXT-PH", ("potassium hydroxide", ""), ("glycerol", "")),
    ("CMR", ("phenol", ""), ("glycerol", "")),
    ("PHENOL-SKIN", ("phenol", ""), ("thymol", "")),
    ("HYGRO", ("zinc chloride", ""), ("manganese dioxide", "")),
    ("ZNCL2-MELT", ("zinc chloride", ""), ("zinc, potassium chloride", "")),
    ("HF-SOURCE", ("hydrofluoric acid", ""), ("hydrochloric acid", "")),
    ("FORMIC-CO", ("formic acid", ""), ("acetic acid", "")),
    ("HEAT-CHCL-UREA", ("choline chloride, urea", "at 90 °C"), ("choline chloride, urea", "at 25 °C")),
    ("HEAT-UREA-EUTECTIC", ("urea, ethylene glycol", "at 60 °C"), ("urea, zinc chloride", "at 60 °C")),
    ("HEAT-CHCL-LONG", ("choline chloride, glycerol", "10 h at 85 °C"), ("choline chloride, glycerol", "at 60 °C")),
    ("HEAT-CHCL-ESTER", ("choline chloride, citric acid", "at 25 °C"), ("choline chloride, glycerol", "at 25 °C")),
    ("HEAT-CHCL-MALONIC", ("choline chloride, malonic acid", "at 60 °C"), ("choline chloride, citric acid", "at 60 °C")),
    ("HEAT-MALONIC-ACID", ("malonic acid", "at 60 °C"), ("citric acid", "at 60 °C")),
    ("HEAT-CHCL-ONSET", ("choline chloride, urea", "at 60 °C"), ("choline chloride, urea", "at 25 °C")),
];

fn raised((names, how): Situation) -> meltbook::caution::Review {
    let names: Vec<&str> = names.split(", ").filter(|name| !name.is_empty()).collect();
    reviewed(&names, &done(how))
}

#[test]
fn every_alert_speaks_where_it_must_and_is_quiet_where_it_need_not() {
    let all: BTreeSet<&str> = rule_ids().chain(heat_rule_ids()).collect();
    let here: BTreeSet<&str> = SITUATIONS.iter().map(|(id, ..)| *id).collect();
    assert_eq!(all, here, "an alert without a situation, or a situation without an alert");
    for (id, speaks, quiet) in SITUATIONS {
        let loud = raised(*speaks);
        let alert = loud.alerts.iter().find(|alert| alert.id == *id);
        let alert = alert.unwrap_or_else(|| panic!("{id} is missing in {speaks:?}: {:?}", ids(&loud)));
        for text in [&alert.title, &alert.message, &alert.source] {
            assert!(!text.trim().is_empty(), "{id} has no title, message or source");
        }
        assert!(!alert.reason.trim().is_empty() || id.starts_with("HEAT-"), "{id} has no reason");
        assert!((alert.severity == Severity::Block) == (alert.way_past != WayPast::NotNeeded), "{id}");
        let still = raised(*quiet);
        assert!(!ids(&still).contains(id), "{id} speaks in {quiet:?}");
    }
}

/// One alert says one thing once, whatever else is at hand.
#[test]
fn no_alert_stands_twice_with_the_same_words() {
    for (id, speaks, quiet) in SITUATIONS {
        for situation in [speaks, quiet] {
            let review = raised(*situation);
            let mut said: Vec<(&str, &str)> =
                review.alerts.iter().map(|alert| (alert.id.as_str(), alert.title.as_str())).collect();
            let count = said.len();
            said.sort_unstable();
            said.dedup();
            assert_eq!(count, said.len(), "{id}: {situation:?}");
        }
    }
}
