//! What must hold for every review: no word that blesses, nothing missing passed over in silence, and
//! no answer that depends on the order of what was named.

use std::collections::BTreeSet;
use std::sync::Arc;

use meltbook::caution::{Context, Material, Review, Severity, Subject, materials, review};
use meltbook::component::{Component, ComponentTable, Composition};
use meltbook::quantity::{Mass, Temperature};
use proptest::prelude::*;
use serde::Deserialize;

/// `must_not_say` of the fixture, and "harmless", which would bless as well.
fn blessings() -> BTreeSet<String> {
    #[derive(Deserialize)]
    struct Topics {
        topic: Vec<Topic>,
    }
    #[derive(Deserialize)]
    struct Topic {
        #[serde(default)]
        must_not_say: Vec<String>,
    }
    let topics: Topics = toml::from_str(include_str!("../../fixtures/hazards/practice.toml")).unwrap();
    let words: BTreeSet<String> = topics
        .topic
        .into_iter()
        .flat_map(|topic| topic.must_not_say)
        .chain(["harmless".to_owned()])
        .collect();
    assert_eq!(words.len(), 5);
    words
}

fn check_blesses_nothing(text: &str, blessings: &BTreeSet<String>) {
    let text = text.to_lowercase();
    for word in text.split(|c: char| !c.is_alphanumeric() && c != '-') {
        assert!(!blessings.contains(word), "{word:?} in {text}");
    }
}

fn everything_at_once() -> Context {
    Context {
        sealed: true,
        heat: Some(Temperature::from_celsius(400.0)),
        to_dryness: true,
        ground: true,
        cell: true,
        short_circuit: true,
        damp_air: true,
        all_practice: true,
        ..Context::default()
    }
}

fn components() -> Vec<Arc<Component>> {
    ComponentTable::builtin().iter().cloned().collect()
}

fn of(components: &[Arc<Component>], materials: &[Material], context: &Context) -> Review {
    review(&Subject { components, materials, composition: None }, context)
}

#[test]
fn no_review_blesses() {
    let blessings = blessings();
    let components = components();
    for component in &components {
        for context in [Context::default(), everything_at_once()] {
            let review = of(&[Arc::clone(component)], materials(), &context);
            check_blesses_nothing(&serde_json::to_string(&review).unwrap(), &blessings);
        }
    }
    let mut alerts: BTreeSet<String> = BTreeSet::new();
    for (at, one) in components.iter().enumerate() {
        for other in &components[at..] {
            for context in [Context::default(), everything_at_once()] {
                for alert in of(&[Arc::clone(one), Arc::clone(other)], &[], &context).alerts {
                    alerts.extend([alert.title, alert.message, alert.reason]);
                }
            }
        }
    }
    alerts.iter().for_each(|text| check_blesses_nothing(text, &blessings));
}

#[test]
fn missing_data_is_said_in_words() {
    for component in components() {
        let review = of(std::slice::from_ref(&component), &[], &Context::default());
        let hazard = &review.components[0];
        let says_something = !hazard.statements.is_empty() || hazard.missing.is_some();
        assert!(says_something && !hazard.source.is_empty(), "{}", component.id);
        if let Some(missing) = &hazard.missing {
            assert!(missing.contains("safety data sheet") && missing.contains(&component.name), "{missing}");
        }
    }
    for material in materials() {
        let review = of(&[], std::slice::from_ref(material), &Context::default());
        assert!(review.materials[0].missing.contains("safety data sheet"));
    }
    let nothing = of(&[], &[], &Context::default());
    assert!(nothing.alerts.is_empty() && !nothing.deferral.is_empty());
}

#[test]
fn alerts_stand_worst_first() {
    let review = of(&components(), materials(), &everything_at_once());
    let order: Vec<_> =
        review.alerts.iter().map(|alert| std::cmp::Reverse((alert.way_past, alert.severity))).collect();
    assert!(order.is_sorted());
    assert_eq!(review.worst(), Some(Severity::Block));
    assert!(review.alerts.iter().all(|alert| !alert.source.is_empty() && !alert.message.is_empty()));
}

#[test]
fn the_json_keeps_its_keys() {
    let table = ComponentTable::builtin();
    let components =
        [Arc::clone(table.find("ChCl").unwrap()), Arc::clone(table.find("oxalic acid").unwrap())];
    let json = serde_json::to_value(of(&components, &[], &Context::default())).unwrap();
    for key in ["scheme", "components", "mixture", "alerts", "practice"] {
        assert!(json.get(key).is_some(), "{key}");
    }
    assert_eq!(json["scheme"], "ghs");
    assert!(json["mixture"].is_null());
    for key in ["component", "h_codes", "basis", "source"] {
        assert!(json["components"][1].get(key).is_some(), "{key}");
    }
    for key in ["id", "severity", "message", "source"] {
        assert!(json["alerts"][0].get(key).is_some(), "{key}");
    }
    assert_eq!(json["alerts"][0]["severity"], "warn");
}

#[test]
fn a_known_composition_quiets_rules_with_a_limit() {
    let table = ComponentTable::builtin();
    let mixture = |phenol_g: f64, water_g: f64| {
        let mut composition = Composition { water: Mass::new(water_g), ..Composition::default() };
        for (name, grams) in [("phenol", phenol_g), ("ChCl", 100.0 - phenol_g - water_g)] {
            composition.add(table.find(name).unwrap(), None, Mass::new(grams), true);
        }
        let subject = Subject { composition: Some(&composition), ..Subject::default() };
        review(&subject, &Context::default())
    };
    let warns = |review: &Review| review.alerts.iter().any(|alert| alert.id == "PHENOL-SKIN");
    assert!(warns(&mixture(1.0, 0.0)) && !warns(&mixture(0.9, 0.0)));
    assert_eq!(mixture(0.9, 0.0).components.len(), 2);
    // Water of the composition counts as water at hand, traces of it do not.
    let reacts = |water_g: f64| {
        let mut composition = Composition { water: Mass::new(water_g), ..Composition::default() };
        let chloride = table.find("aluminium-chloride").unwrap();
        composition.add(chloride, None, Mass::new(100.0 - water_g), true);
        let subject = Subject { composition: Some(&composition), ..Subject::default() };
        review(&subject, &Context::default()).alerts.iter().any(|alert| alert.id == "WATER-RX")
    };
    assert!(reacts(2.0) && !reacts(0.01));
}

fn some_components() -> impl Strategy<Value = Vec<Arc<Component>>> {
    prop::sample::subsequence(components(), 0..7)
}

fn some_materials() -> impl Strategy<Value = Vec<Material>> {
    prop::sample::subsequence(materials().to_vec(), 0..4)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    #[test]
    fn the_order_of_names_does_not_matter(
        (components, shuffled) in some_components()
            .prop_flat_map(|list| (Just(list.clone()), Just(list).prop_shuffle())),
        (others, shuffled_others) in some_materials()
            .prop_flat_map(|list| (Just(list.clone()), Just(list).prop_shuffle())),
        sealed: bool,
        celsius in 0.0..300.0f64,
    ) {
        let heat = Some(Temperature::from_celsius(celsius));
        let context = Context { sealed, heat, ..Context::default() };
        prop_assert_eq!(of(&components, &others, &context), of(&shuffled, &shuffled_others, &context));
    }

    /// More at hand never takes a warning away.
    #[test]
    fn a_further_material_hides_nothing(components in some_components(), further in 0..components().len()) {
        let context = Context { sealed: true, ..Context::default() };
        let mut more = components.clone();
        more.push(Arc::clone(&self::components()[further]));
        let (few, many) = (of(&components, &[], &context), of(&more, &[], &context));
        for alert in &few.alerts {
            let kept = many.alerts.iter().any(|other| other.id == alert.id && alert.severity <= other.severity);
            prop_assert!(kept, "{} is gone", alert.id);
        }
    }
}
