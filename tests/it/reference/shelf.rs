//! A shelf against the pair rules of `incompatibilities.toml` (sources in each), storage classes of TRGS 510 (from
//! memory) and waste streams (from memory).

use std::sync::Arc;

use meltbook::caution::{Scheme, Severity, ShelfItem, ShelfReview, review_shelf};
use meltbook::component::ComponentTable;

fn shelf(names: &[&str]) -> ShelfReview {
    let table = ComponentTable::builtin();
    let item = |(at, name): (usize, &&str)| ShelfItem {
        label: format!("B{}", at + 1),
        component: Arc::clone(table.find(name).unwrap()),
    };
    let items: Vec<ShelfItem> = names.iter().enumerate().map(item).collect();
    review_shelf(&items, Scheme::Ghs)
}

#[test]
fn what_must_not_meet_is_kept_apart_the_gravest_first() {
    let review = shelf(&["sodium-perchlorate", "ethylene-glycol", "KOH", "oxalic-acid", "zinc-powder"]);
    let ids: Vec<&str> = review.apart.iter().map(|apart| apart.id.as_str()).collect();
    for id in ["OX-ORG", "OX-RED", "ACID-BASE", "ACID-METAL", "BASE-METAL"] {
        assert!(ids.contains(&id), "{id}: {ids:?}");
    }
    assert_eq!(review.apart[0].severity, Severity::Block);
    let fire = review.apart.iter().find(|apart| apart.id == "OX-ORG").unwrap();
    assert_eq!(fire.these, ["B1 sodium perchlorate"]);
    assert!(fire.from.contains(&"B2 ethylene glycol".to_owned()));
}

#[test]
fn two_bottles_of_one_thing_are_not_kept_apart() {
    assert!(shelf(&["oxalic-acid", "oxalic-acid"]).apart.is_empty());
    assert!(shelf(&[]).apart.is_empty());
}

/// TRGS 510 from memory; where no hazard data was found no class is guessed.
#[test]
fn storage_classes_follow_statements() {
    let classes: Vec<Option<String>> = shelf(&[
        "zinc-powder-pyrophoric",
        "sodium-perchlorate",
        "ethanol",
        "phenol",
        "zinc-chloride",
        "acetic-acid",
        "ethylene-glycol",
        "urea",
        "calcium-chloride",
        "magnesium-chloride",
    ])
    .bottles
    .into_iter()
    .map(|bottle| bottle.storage_class.map(|class| class.class))
    .collect();
    let classes: Vec<Option<&str>> = classes.iter().map(Option::as_deref).collect();
    let wanted = ["4.2", "5.1A", "3", "6.1C", "8B", "3", "10", "11", "13"].map(Some);
    assert_eq!(classes[..9], wanted);
    assert_eq!(classes[9], None);
}

#[test]
fn zinc_and_manganese_have_waste_streams() {
    let review = shelf(&["zinc", "manganese-dioxide", "zinc-chloride", "urea", "KOH"]);
    let stream = |id: &str| review.waste.iter().find(|stream| stream.id == id).unwrap();
    assert_eq!(stream("zinc-solid").takes, ["B1 zinc metal, massive (sheet, foil)"]);
    assert_eq!(stream("manganese-solid").takes, ["B2 manganese dioxide"]);
    assert_eq!(stream("metal-salts").takes, ["B3 zinc chloride"]);
    let taken: usize = review.waste.iter().map(|stream| stream.takes.len()).sum();
    assert_eq!(taken, 5, "each in one stream");
}
