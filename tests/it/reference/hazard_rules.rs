//! Alerts against the pair rules, situations and practice in `tests/fixtures/hazards`.
//!
//! Read more narrowly than the fixture, on purpose: only strong oxidisers block with organic matter;
//! zinc sheet beside manganese dioxide is a cell and no MNO2-RED (zinc powder is); zinc chloride is not
//! acidic enough for MNO2-HCL; ESTER-CHCL needs the hydroxyl of choline; urea with base is a note cold.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use meltbook::caution::{
    Alert, Context, Material, Named, Review, Severity, Subject, WayPast, all_practice, find_named,
    heat_rule_ids, review, rule_ids,
};
use meltbook::component::{Component, ComponentTable, GROUPS};
use meltbook::input::Place;
use meltbook::quantity::Temperature;
use serde::Deserialize;

/// Reviews what is named, as the fixtures name it.
pub(super) fn reviewed(names: &[&str], context: &Context) -> Review {
    let table = ComponentTable::builtin();
    let mut components: Vec<Arc<Component>> = Vec::new();
    let mut materials: Vec<Material> = Vec::new();
    for name in names {
        let name = name.trim_end_matches(" (anhydrous)");
        match find_named(name, &table, Place::named("test")).unwrap_or_else(|f| panic!("{}", f.message)) {
            Named::Component(component) => components.push(component),
            Named::Material(material) => materials.push(material.clone()),
        }
    }
    review(&Subject { components: &components, materials: &materials, composition: None }, context)
}

fn severity_of(review: &Review, id: &str) -> Option<Severity> {
    review.alerts.iter().filter(|alert| alert.id == id).map(|alert| alert.severity).max()
}

pub(super) fn ids(review: &Review) -> Vec<&str> {
    review.alerts.iter().map(|alert| alert.id.as_str()).collect()
}

pub(super) fn heated(celsius: f64) -> Context {
    Context { heat: Some(Temperature::from_celsius(celsius)), ..Context::default() }
}

#[derive(Deserialize)]
struct Scenarios {
    scenario: Vec<Scenario>,
}

#[derive(Deserialize)]
struct Scenario {
    id: String,
    materials: Vec<String>,
    context: String,
    #[serde(default)]
    must: Vec<String>,
    #[serde(default)]
    must_thermal: Vec<String>,
    #[serde(default)]
    must_not: Vec<String>,
    severity: Option<Severity>,
}

fn context_of(text: &str) -> Context {
    let nothing = Context::default();
    match text {
        "sealed cell" => Context { sealed: true, cell: true, ..nothing },
        "stirred at 90 C" => heated(90.0),
        "evaporated to dry" => Context { to_dryness: true, ..nothing },
        "damp room" => Context { damp_air: true, ..nothing },
        "paste anode" => Context { cell: true, ..nothing },
        "heated closed vial" => Context { heated: true, sealed: true, ..nothing },
        "short-circuit current reading of a finished cell" => {
            Context { cell: true, short_circuit: true, ..nothing }
        }
        "mixing" | "cleaning a spill" => nothing,
        "open beaker, room temperature, no acid, no oxidiser" => heated(22.0),
        other => panic!("no context for {other:?}"),
    }
}

#[test]
fn situations_raise_what_they_must() {
    let fixture = include_str!("../../fixtures/hazards/warning-scenarios.toml");
    let scenarios: Scenarios = toml::from_str(fixture).unwrap();
    assert_eq!(scenarios.scenario.len(), 10);
    for scenario in scenarios.scenario {
        let names: Vec<&str> = scenario.materials.iter().map(String::as_str).collect();
        let review = reviewed(&names, &context_of(&scenario.context));
        let fired = ids(&review);
        for id in &scenario.must {
            assert!(fired.contains(&id.as_str()), "{}: {id} missing in {fired:?}", scenario.id);
        }
        for id in &scenario.must_not {
            assert!(!fired.contains(&id.as_str()), "{}: {id} in {fired:?}", scenario.id);
        }
        for name in &scenario.must_thermal {
            let titles: Vec<&str> = review.alerts.iter().map(|alert| alert.title.as_str()).collect();
            assert!(titles.contains(&format!("heating {name}").as_str()), "{}: {titles:?}", scenario.id);
        }
        if let Some(severity) = scenario.severity {
            assert_eq!(review.worst(), Some(severity), "{}", scenario.id);
        }
    }
}

#[derive(Deserialize)]
struct Incompatibilities {
    pair: Vec<PairRow>,
    single: Vec<SingleRow>,
}

#[derive(Deserialize)]
struct PairRow {
    id: String,
    severity: Severity,
}

#[derive(Deserialize)]
struct SingleRow {
    id: String,
}

/// A member of each side of the fixture's rules, several where the rule has several kinds.
const REPRESENTATIVES: &[(&str, &[&str])] = &[
    ("OX-ORG", &["sodium perchlorate", "choline chloride"]),
    ("OX-ORG", &["potassium permanganate", "glycerol"]),
    ("OX-ORG", &["hydrogen peroxide", "acetonitrile"]),
    ("OX-ORG", &["sodium hypochlorite", "citric acid"]),
    ("OX-ORG", &["zinc nitrate hexahydrate", "activated carbon"]),
    ("OX-ORG", &["nitric acid", "sucrose"]),
    ("OX-RED", &["potassium permanganate", "zinc powder"]),
    ("OX-RED", &["sodium perchlorate", "zinc metal"]),
    ("OX-RED", &["sodium persulfate", "thiourea"]),
    ("OX-RED", &["sodium nitrate", "magnesium"]),
    ("CLO4-EVAP", &["potassium chlorate", "urea"]),
    ("CLO4-EVAP", &["zinc nitrate hexahydrate", "ethylene glycol"]),
    ("MNO2-RED", &["manganese dioxide", "oxalic acid"]),
    ("MNO2-RED", &["manganese dioxide", "formic acid"]),
    ("MNO2-RED", &["manganese dioxide", "zinc powder"]),
    ("MNO2-RED", &["iron-iii-chloride", "thiourea"]),
    ("MNO2-RED", &["copper-ii-sulfate", "sodium thiosulfate"]),
    ("MNO2-PEROX", &["manganese dioxide", "hydrogen peroxide"]),
    ("MNO2-HCL", &["manganese dioxide", "hydrochloric acid"]),
    ("MNO2-HCL", &["manganese dioxide", "sulfuric acid", "sodium chloride"]),
    ("MNO2-C-DRY", &["manganese dioxide", "graphite"]),
    ("ACID-METAL", &["lactic acid", "zinc"]),
    ("ACID-METAL", &["acetic acid", "magnesium"]),
    ("MACID-METAL", &["sulfuric acid", "iron"]),
    ("MACID-METAL", &["zinc chloride", "zinc"]),
    ("BASE-METAL", &["potassium hydroxide", "zinc"]),
    ("BASE-METAL", &["sodium hydroxide", "aluminium"]),
    ("NH4-METAL", &["ammonium chloride", "zinc"]),
    ("ACID-BASE", &["succinic acid", "potassium hydroxide"]),
    ("MACID-BASE", &["phosphoric acid", "lithium hydroxide"]),
    ("BASE-NH4", &["choline hydroxide", "ammonium bromide"]),
    ("BASE-QUAT", &["potassium hydroxide", "tetrabutylammonium bromide"]),
    ("HYPO-N", &["calcium hypochlorite", "ammonium chloride"]),
    ("HYPO-N", &["bleach", "imidazole"]),
    ("HYPO-ACID", &["chlorinated cleaner", "acetic acid"]),
    ("HYPO-MACID", &["sodium hypochlorite", "hydrochloric acid"]),
    ("CN-ACID", &["sodium sulfide", "malic acid"]),
    ("CN-MACID", &["sodium cyanide", "sulfuric acid"]),
    ("AZIDE-METAL", &["sodium azide", "copper"]),
    ("AZIDE-METAL", &["sodium azide", "copper-ii-chloride"]),
    ("AZIDE-METAL", &["sodium azide", "lead"]),
    ("WATER-RX", &["aluminium chloride (anhydrous)", "water"]),
    ("WATER-RX", &["sodium hydride", "humid air"]),
    ("WATER-RX", &["acetyl chloride", "oxalic-acid-dihydrate"]),
    ("ALCL3-HBD", &["iron-iii-chloride", "ethylene glycol"]),
    ("ALCL3-HBD", &["aluminium chloride (anhydrous)", "acetamide"]),
    ("HYGRO", &["zinc chloride", "water"]),
    ("HYGRO", &["LiTFSI", "humid air"]),
    ("ALD-N", &["formaldehyde", "urea"]),
    ("ALD-N", &["furfural", "phenol"]),
    ("ALD-ACID", &["glyoxal", "sulfuric acid"]),
    ("ESTER-CHCL", &["choline chloride", "levulinic acid"]),
    ("ESTER-GLYCOL", &["glycerol", "lactic acid"]),
    ("HALIDE-MINACID", &["tetrabutylammonium chloride", "sulfuric acid"]),
    ("HALIDE-MINACID", &["sodium chloride", "nitric acid"]),
    ("NITRILE-ACID", &["acetonitrile", "sulfuric acid"]),
    ("NITRILE-ACID", &["acetonitrile", "potassium permanganate"]),
    ("DMSO-ACCL", &["DMSO", "thionyl chloride"]),
    ("DMSO-ACCL", &["DMSO", "lithium perchlorate"]),
    ("PHENOL-OX", &["manganese dioxide", "thymol"]),
    ("PHENOL-OX", &["iron-iii-chloride-hexahydrate", "resorcinol"]),
];

#[test]
fn every_pair_rule_fires_as_gravely_as_its_source_or_more() {
    let fixture = include_str!("../../fixtures/hazards/incompatibilities.toml");
    let Incompatibilities { pair, .. } = toml::from_str(fixture).unwrap();
    assert_eq!(pair.len(), 32);
    let wanted: BTreeMap<&str, Severity> = pair.iter().map(|row| (row.id.as_str(), row.severity)).collect();
    let covered: BTreeSet<&str> = REPRESENTATIVES.iter().map(|(id, _)| *id).collect();
    assert_eq!(wanted.keys().copied().collect::<BTreeSet<_>>(), covered);
    for (id, names) in REPRESENTATIVES {
        let review = reviewed(names, &Context::default());
        let severity = severity_of(&review, id);
        assert!(Some(wanted[id]) <= severity, "{id} of {names:?}: {:?}", ids(&review));
        for alone in *names {
            // HYGRO is said of the salt alone too: open air holds water.
            let quiet = *id == "HYGRO" || severity_of(&reviewed(&[alone], &Context::default()), id).is_none();
            assert!(quiet, "{id} fires for {alone} alone");
        }
    }
}

#[test]
fn every_single_rule_fires() {
    let fixture = include_str!("../../fixtures/hazards/incompatibilities.toml");
    let Incompatibilities { single, .. } = toml::from_str(fixture).unwrap();
    let nothing = Context::default;
    let cases: Vec<(&str, Vec<&str>, Context)> = vec![
        ("DUST-ZN", vec!["zinc powder"], nothing()),
        ("CELL-SEAL", vec!["zinc", "ammonium chloride"], Context { sealed: true, ..nothing() }),
        ("CELL-SEAL", vec!["zinc", "choline chloride"], Context { sealed: true, ..nothing() }),
        ("CELL-SHORT", vec![], Context { short_circuit: true, ..nothing() }),
        ("EXT-PH", vec!["oxalic acid"], nothing()),
        ("EXT-PH", vec!["potassium hydroxide"], nothing()),
        ("CMR", vec!["phenol"], nothing()),
        ("CMR", vec!["ammonium bromide"], nothing()),
        ("PHENOL-SKIN", vec!["phenol"], nothing()),
        ("CR6", vec!["chromium-iii-chloride-hexahydrate", "potassium permanganate"], nothing()),
        ("CR6", vec!["chromium-iii-chloride", "potassium hydroxide"], heated(80.0)),
    ];
    let covered: BTreeSet<&str> = cases.iter().map(|(id, ..)| *id).collect();
    assert_eq!(single.iter().map(|row| row.id.as_str()).collect::<BTreeSet<_>>(), covered);
    for (id, names, context) in cases {
        assert!(Some(Severity::Warn) <= severity_of(&reviewed(&names, &context), id), "{id} {names:?}");
    }
    let review = reviewed(&["ammonium bromide"], &nothing());
    let cmr = review.alerts.iter().find(|alert| alert.id == "CMR").unwrap();
    assert_eq!(cmr.because, ["ammonium bromide (H360FD, H362)"]);
}

/// Common practice: a cathode mix and a zinc chloride cell are what this bench is for.
#[test]
fn ordinary_cells_are_not_blocked() {
    for carbon in ["graphite", "carbon black", "activated carbon"] {
        for sealed in [false, true] {
            let context = Context { sealed, cell: sealed, ground: true, ..Context::default() };
            let review = reviewed(&["manganese dioxide", carbon], &context);
            assert_eq!(ids(&review), ["MNO2-C-DRY"], "{carbon}");
            assert_eq!(review.worst(), Some(Severity::Note));
        }
    }
    let cell =
        ["zinc sheet", "zinc chloride", "ammonium chloride", "manganese dioxide", "carbon black", "water"];
    let context = Context { sealed: true, cell: true, ..Context::default() };
    let review = reviewed(&cell, &context);
    assert_eq!(review.worst(), Some(Severity::Warn), "{:?}", ids(&review));
    assert!(ids(&review).contains(&"CELL-SEAL"));
    assert_eq!(severity_of(&review, "MNO2-RED"), None);
}

pub(super) fn the<'r>(review: &'r Review, id: &str) -> &'r Alert {
    review.alerts.iter().find(|alert| alert.id == id).unwrap_or_else(|| panic!("{id}: {:?}", ids(review)))
}

#[test]
fn a_reducing_acid_closed_up_with_manganese_dioxide_blocks() {
    for acid in ["oxalic acid", "oxalic-acid-dihydrate", "formic acid", "lactic acid", "citric acid"] {
        let names = ["manganese dioxide", acid];
        let open = reviewed(&names, &Context::default());
        assert_eq!(the(&open, "MNO2-RED").severity, Severity::Warn, "{acid}");
        let sealed = reviewed(&names, &Context { sealed: true, ..Context::default() });
        let alert = the(&sealed, "MNO2-RED");
        assert_eq!(
            (alert.severity, alert.way_past),
            (Severity::Block, WayPast::ProcedureAndPerson),
            "{acid}"
        );
    }
    // The graver variant does not hide what the other has to say of a further material.
    let three = ["manganese dioxide", "oxalic acid", "thiourea"];
    let review = reviewed(&three, &Context { sealed: true, ..Context::default() });
    let both: Vec<&Alert> = review.alerts.iter().filter(|alert| alert.id == "MNO2-RED").collect();
    assert_eq!(both.len(), 2);
    assert!(
        both[1].because.contains(&"thiourea".to_owned()) && !both[0].because.contains(&"thiourea".to_owned())
    );
}

#[test]
fn what_is_never_done_has_no_way_past() {
    let dry = Context { to_dryness: true, ..Context::default() };
    for oxidiser in ["sodium perchlorate", "potassium chlorate", "zinc nitrate hexahydrate", "nitric acid"] {
        let names = [oxidiser, "choline chloride"];
        let review = reviewed(&names, &dry);
        assert_eq!(review.alerts[0].id, "CLO4-EVAP");
        assert_eq!(review.alerts[0].way_past, WayPast::None, "{oxidiser}");
        let wet = reviewed(&names, &Context::default());
        assert_eq!(wet.without_way_past().count(), 0);
        assert!(wet.needing_procedure().any(|alert| alert.id == "CLO4-EVAP"));
    }
    let ground = Context { ground: true, ..Context::default() };
    for fuel in ["carbon black", "graphite", "zinc powder", "urea"] {
        let review = reviewed(&["potassium permanganate", fuel], &ground);
        assert_eq!(review.alerts[0].id, "OX-GRIND");
        assert_eq!(review.alerts[0].way_past, WayPast::None, "{fuel}");
    }
}

#[test]
fn fluoride_with_acid_gives_first_measures() {
    let review = reviewed(&["sodium fluoride", "oxalic acid"], &Context::default());
    let alert = the(&review, "HF-ACID");
    assert_eq!(alert.severity, Severity::Warn);
    assert!(alert.message.contains("calcium gluconate") && alert.source.contains("from memory"));
    let review = reviewed(&["sodium fluoride", "sulfuric acid"], &Context::default());
    let alert = the(&review, "HF-ACID");
    assert_eq!((alert.severity, alert.way_past), (Severity::Block, WayPast::ProcedureAndPerson));
    assert!(alert.message.contains("hospital even without pain"));
}

#[test]
fn practice_reaches_every_topic_and_defers() {
    #[derive(Deserialize)]
    struct Topics {
        topic: Vec<Topic>,
    }
    #[derive(Deserialize)]
    struct Topic {
        id: String,
    }
    let fixture: Topics = toml::from_str(include_str!("../../fixtures/hazards/practice.toml")).unwrap();
    let wanted: Vec<&str> = fixture.topic.iter().map(|topic| topic.id.as_str()).collect();
    let all = all_practice();
    assert_eq!(all.iter().map(|practice| practice.topic.as_str()).collect::<Vec<_>>(), wanted);
    let full = reviewed(&[], &Context { all_practice: true, ..Context::default() });
    assert_eq!(full.practice, all[..wanted.len() - 1]);
    assert_eq!(full.deferral, all[wanted.len() - 1].points);
    // `must_say` of the fixture, by the words that carry the meaning.
    let deferral = reviewed(&["water"], &Context::default()).deferral.join(" ");
    for meaning in [
        "current safety data sheet (SDS) of every component: it wins",
        "differ by supplier, purity, hydrate and jurisdiction",
        "is an aid, not a legal classification",
        "local law, site rules and waste codes",
        "competent or licensed person for anything marked block",
        "(CMR), and for pressure",
        "absence of a warning is not proof of safety",
    ] {
        assert!(deferral.contains(meaning), "{meaning}");
    }
}

#[test]
fn rules_are_all_read_and_mean_known_groups_and_components() {
    #[derive(Deserialize)]
    struct Id {
        id: String,
    }
    #[derive(Deserialize)]
    struct File {
        #[serde(default, alias = "mixture")]
        rule: Vec<Id>,
    }
    let texts = [
        include_str!("../../../data/alerts/pairs.toml"),
        include_str!("../../../data/alerts/singles.toml"),
        include_str!("../../../data/alerts/heat.toml"),
        include_str!("../../../data/alerts/practice.toml"),
    ];
    let in_files: Vec<String> = texts[..3]
        .iter()
        .flat_map(|text| toml::from_str::<File>(text).unwrap().rule)
        .map(|rule| rule.id)
        .collect();
    assert_eq!(rule_ids().chain(heat_rule_ids()).collect::<Vec<_>>(), in_files);
    let table = ComponentTable::builtin();
    let selectors = texts.iter().flat_map(|text| text.split("any = [").skip(1));
    let selectors = selectors.chain(texts[2].split("sides = [").skip(1));
    for list in selectors {
        // The list of a heat rule holds lists, so it ends with its line.
        let end = if list.starts_with('[') { '\n' } else { ']' };
        let list = list.split(end).next().unwrap();
        for selector in list.split('"').skip(1).step_by(2) {
            match selector.strip_prefix("component:") {
                Some(id) => assert!(table.get(id).is_some(), "{id}"),
                None => selector.split('+').for_each(|group| assert!(GROUPS.contains(&group), "{group}")),
            }
        }
    }
    for material in meltbook::caution::materials() {
        assert!(material.groups.iter().all(|group| GROUPS.contains(&group.as_str())), "{}", material.name);
        let names = std::iter::once(&material.name).chain(&material.aliases);
        for name in names {
            let found = find_named(name, &table, Place::named("test")).unwrap();
            assert_eq!(found, Named::Material(material), "{name} means something else too");
        }
    }
    assert_eq!(meltbook::caution::materials().len(), 71);
}

#[test]
fn unknown_materials_come_with_the_nearest_name() {
    let table = ComponentTable::builtin();
    let fault = find_named("hydrogen peroxyde", &table, Place::named("--with")).unwrap_err();
    assert_eq!(fault.code, "unknown_material");
    assert_eq!(fault.hint.as_deref(), Some("Did you mean \"hydrogen peroxide\"?"));
}
