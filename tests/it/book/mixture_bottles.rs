//! What the runs of a mixture design need out of the bottles of the book.

use approx::assert_relative_eq;
use serde_json::Value;

use crate::book::lab::{Lab, START};
use crate::run::envelope;

/// Invented bottles: choline chloride of which pure grams would be enough and real ones are not, two of urea, and a
/// hydrate.
fn lab() -> Lab {
    let lab = Lab::new();
    for (quality, net, expires) in [
        ("ChCl assay=98% basis=dried moisture=1.5%", "51.1 g", "2027-06-01"),
        ("urea assay=99%", "40 g", "2027-09-01"),
        ("urea", "10 g", "2027-03-01"),
        ("citric-acid form=monohydrate", "100 g", "2027-06-01"),
    ] {
        lab.answer(START, &["bottle", "receive", quality, "--net", net, "--expires", expires], 0);
    }
    lab
}

const DESIGN: [&str; 9] =
    ["mixture", "lattice", "ChCl", "urea", "--degree", "2", "--mass", "30 g", "--seed=1"];

#[track_caller]
fn line(need: &Value, component: &str) -> Value {
    let lines = need["lines"].as_array().expect("a list");
    lines.iter().find(|line| line["component"] == component).expect("it is needed").clone()
}

#[track_caller]
fn near(line: &Value, key: &str, by_hand: f64) {
    // Five digits: by hand molar masses have that many.
    assert_relative_eq!(line[key].as_f64().expect("a number"), by_hand, max_relative = 2e-5);
}

/// By hand, gross = pure / (assay × (1 − moisture)), M(choline chloride) 139.62, M(urea) 60.056 g/mol. Three runs of 30 g:
/// 30 g of the bottle; 1:1, of which a mole is 139.62/(0.98 × 0.985) = 144.64 g and 60.056/0.99 = 60.663 g, so
/// 30 × 144.64/205.30 = 21.136 g; none. Together 51.136 g, and 51.136 − 51.1 = 0.036 g are missing. Counted pure it would
/// be 30 + 30 × 139.62/199.676 = 50.977 g, and 51.1 g would look enough.
#[test]
fn a_bottle_that_is_near_out_does_not_look_enough() {
    let lab = lab();
    let need = lab.json(START, &DESIGN)["need"].clone();
    let salt = line(&need, "choline-chloride");
    near(&salt, "needed_g", 51.136);
    approx::assert_abs_diff_eq!(salt["short_g"].as_f64().unwrap(), 0.036, epsilon = 1e-3);
    assert_eq!(salt["bottles"], serde_json::json!(["B1"]));
    // The same as plan says of the same bottle.
    let plan =
        lab.json(START, &["plan", "ChCl:urea 1:1", "--mass", "30 g", "--bottle", "B1", "--bottle", "B2"]);
    near(&salt, "needed_g", 30.0 + plan["lines"][0]["weigh_g"].as_f64().unwrap());
    let shown = lab.answer(START, &DESIGN, 0);
    assert!(shown.contains("B1: assay 98%, basis dried,") && shown.contains("Not all of it"), "{shown}");
}

/// By hand: planned for the fullest bottle, 30 g + (30 − 21.136) g = 38.864 g of it hold 0.99 × 38.864 = 38.475 g of pure
/// urea; 10 g of that come out of B3, which expires first, the rest out of 28.475/0.99 = 28.763 g, together 38.763 g.
#[test]
fn bottles_of_one_component_are_used_in_turn() {
    let lab = lab();
    let urea = line(&lab.json(START, &DESIGN)["need"], "urea");
    near(&urea, "needed_g", 38.763);
    assert_eq!(urea["short_g"], 0.0);
    assert_eq!(urea["bottles"], serde_json::json!(["B3", "B2"]));
    assert_eq!(urea["taken_as"], "B3: nothing stated, so pure and dry; B2: assay 99%, basis dried");
}

/// By hand: M(citric acid) 192.12, with a mole of water 192.12 + 18.015 = 210.14 g/mol; 1:1 with 144.64 g of the choline
/// chloride is 30 × 210.14/354.78 = 17.769 g beside a run of 30 g. No glycerol is there: as if it were pure.
#[test]
fn hydrates_count_with_their_water_and_what_is_missing_as_pure() {
    let lab = lab();
    let mut design = DESIGN;
    design[3] = "citric-acid";
    near(&line(&lab.json(START, &design)["need"], "citric-acid"), "needed_g", 47.769);
    design[3] = "glycerol";
    let missing = line(&lab.json(START, &design)["need"], "glycerol");
    assert_eq!(
        (&missing["taken_as"], &missing["short_g"]),
        (&"no bottle: pure and dry".into(), &missing["needed_g"])
    );
    let bought = lab.answer(START, &["bottle", "need", "ChCl:glycerol 1:1", "--mass", "30 g"], 1);
    assert!(bought.contains("B1: assay 98%, basis dried,"), "{bought}");
}

/// Invented prices: 1 EUR/g in the bottle that is used first, 2 CHF/g in the next, 5 EUR/g in one past its date that came
/// last. By hand: 25 g of glycerol and urea 1:1 hold 25 × 92.094/152.15 = 15.132 g of glycerol: 10 g for 10 EUR and
/// 5.132 g for 10.264 CHF. Two such batches need 30.264 g: all of both bottles, and 0.264 g to buy for 0.528 CHF.
#[test]
fn grams_cost_what_the_bottles_cost_that_they_come_from() {
    let lab = Lab::new();
    for (net, price, expires) in [
        ("10 g", "10 EUR", "2027-03-01"),
        ("20 g", "40 CHF", "2027-09-01"),
        ("100 g", "500 EUR", "2026-01-01"),
    ] {
        let bottle = ["bottle", "receive", "glycerol", "--net", net, "--price", price, "--expires", expires];
        lab.answer(START, &bottle, 0);
    }
    let one = ["bottle", "need", "glycerol:urea 1:1", "--mass", "25 g"];
    let two = ["bottle", "need", "glycerol:urea 1:1", "glycerol:urea 1:1", "--mass", "25 g"];
    let amounts = |of: &Value| -> Vec<(f64, String)> {
        let each = of["costs"].as_array().expect("a list").iter();
        each.map(|own| (own["amount"].as_f64().unwrap(), own["currency"].as_str().unwrap().to_owned()))
            .collect()
    };
    let check = |of: &Value, by_hand: &[(f64, &str)]| {
        let found = amounts(of);
        assert_eq!(found.len(), by_hand.len(), "{found:?}");
        for ((amount, currency), (hand, name)) in found.iter().zip(by_hand) {
            assert_relative_eq!(*amount, *hand, max_relative = 2e-3);
            assert_eq!(currency, name);
        }
    };
    let json = [&two[..], &["--format", "json"]].concat();
    let need = envelope(&lab.answer(START, &json, 1))["answer"].clone();
    check(&line(&need, "glycerol"), &[(10.0, "EUR"), (40.528, "CHF")]);
    assert_eq!(line(&need, "glycerol")["bought_at_price_of"], "B2");
    assert_eq!(line(&need, "glycerol")["cost"], Value::Null);
    // The second batch has only what the first left.
    check(&need["batches"][0], &[(10.0, "EUR"), (10.264, "CHF")]);
    check(&need["batches"][1], &[(30.264, "CHF")]);
    let shown = lab.answer(START, &one, 1);
    assert!(shown.contains("10.00 EUR + 10.26 CHF"), "{shown}");
    assert_eq!(need["batches"][0]["unpriced"], serde_json::json!(["urea"]));
}

/// Oxalic acid dihydrate brings two moles of water for each of acid (its formula), so that a run holds enough of it only
/// where the mole fraction of water asked for is twice that of the acid or more.
#[test]
fn runs_whose_bottle_brings_more_water_than_asked_are_counted() {
    let lab = Lab::new();
    lab.answer(START, &["bottle", "receive", "oxalic-acid form=dihydrate", "--net", "500 g"], 0);
    let bounds = ["--bound", "ChCl from=0.2", "--bound", "oxalic-acid from=0.2", "--bound", "water from=0.3"];
    let design = ["mixture", "centroid", "ChCl", "oxalic-acid", "water", "--seed=1", "--mass", "20 g"];
    let all = [&design[..], &bounds, &["--format", "json"]].concat();
    let whole = envelope(&lab.answer(START, &all, 0));
    let runs = whole["answer"]["runs"].as_array().expect("a list");
    let wet = |run: &&Value| {
        let part = |name: &str| run["fractions"][name].as_f64().expect("a number");
        part("water") + 1e-9 < 2.0 * part("oxalic-acid")
    };
    let by_hand: Vec<String> =
        runs.iter().filter(wet).map(|run| format!("run-{:02}", run["run"].as_u64().unwrap())).collect();
    assert!(!by_hand.is_empty() && by_hand.len() < runs.len());
    assert_eq!(whole["answer"]["dry_first"], serde_json::json!(by_hand));
    let warnings = whole["warnings"].as_array().expect("a list");
    let said = warnings.iter().find(|own| own["code"] == "dry_first").expect("it is said");
    let count = format!("in {} of {} runs the water", by_hand.len(), runs.len());
    assert!(said["message"].as_str().expect("a text").contains(&count), "{said}");
    let shown = lab.answer(START, &[&design[..], &bounds, &["--recipes", "rw"]].concat(), 0);
    let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(shown.contains("only once water is off") && !shown.contains("each ready"), "{shown}");
}
