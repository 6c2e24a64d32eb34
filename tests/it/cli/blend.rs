//! `blend`.

use crate::golden;
use crate::run::{answer, json, line, run};

const TWO: [&str; 5] =
    ["blend", "--liquid", "ChCl:urea 1:2 to 2 wt% water mass=60g", "--liquid", "ChCl:urea 1:3 mass=40g"];

const TO_RATIO_AND_WATER: [&str; 9] = [
    "blend",
    "--liquid",
    "ChCl:urea 1:2 + 0.5 mol/kg ZnCl2 mass=80g",
    "--ratio",
    "ChCl:urea 1:2.2",
    "--water",
    "2 wt%",
    "--bottle",
    "urea assay=99.5% basis=dried moisture=0.2%",
];

const TOO_WET: [&str; 7] = [
    "blend",
    "--liquid",
    "ChCl:urea 1:2 to 5 wt% water mass=80g",
    "--ratio",
    "ChCl:urea 1:2.2",
    "--water",
    "2 wt%",
];

fn as_format<'a>(arguments: &[&'a str], format: &'a str) -> Vec<&'a str> {
    let mut all = arguments.to_vec();
    all.extend(["--format", format]);
    all
}

#[test]
fn blends_read_as_kept() {
    let goldens: [(&str, Vec<&str>, i32); 6] = [
        ("cli/blend-two.txt", TWO.to_vec(), 0),
        ("cli/blend-two.csv", as_format(&TWO, "csv"), 0),
        ("cli/blend-wish.txt", TO_RATIO_AND_WATER.to_vec(), 0),
        ("cli/blend-wish.json", as_format(&TO_RATIO_AND_WATER, "json"), 0),
        ("cli/blend-wish.csv", as_format(&TO_RATIO_AND_WATER, "csv"), 0),
        ("cli/blend-too-wet.txt", TOO_WET.to_vec(), 1),
    ];
    let answers: Vec<(String, String)> = goldens
        .iter()
        .map(|(name, arguments, code)| ((*name).to_owned(), answer(arguments, *code)))
        .collect();
    golden::check_all(&answers);
}

/// W10 of `tests/fixtures/practice`: 80.00 g at 0.42 wt% to 5.00 wt%.
#[test]
fn water_up_to_a_target() {
    let answer =
        json(&["blend", "--liquid", "ChCl:urea 1:2 to 0.42 wt% water mass=80g", "--water", "5 wt%"], 0);
    assert_eq!(answer["add"][0]["component"], "water");
    assert_eq!(answer["add"].as_array().unwrap().len(), 1);
    let close = |value: &serde_json::Value, expected: f64| {
        let value = value.as_f64().unwrap();
        assert!((value / expected - 1.0).abs() <= 1e-8, "{value}, not {expected}");
    };
    close(&answer["add"][0]["weigh_g"], 3.85684210526);
    close(&answer["mass_g"], 83.8568421053);
    close(&answer["water_wt_pct"], 5.0);
    close(&answer["ratio"]["choline-chloride"], 1.0);
    close(&answer["ratio"]["urea"], 2.0);
}

/// Moles add up: 60/259.735 and 40/319.791 mol of choline chloride, at 2 and 3 of urea each. Held against
/// the recipe's own first number.
#[test]
fn the_ratio_is_of_moles() {
    let two = |first: &str| {
        json(&["blend", "--liquid", &format!("{first} mass=60g"), "--liquid", "ChCl:urea 1:3 mass=40g"], 0)
    };
    let ratio = (2.0 * 60.0 / 259.735 + 3.0 * 40.0 / 319.791) / (60.0 / 259.735 + 40.0 / 319.791);
    for (first, number) in [("ChCl:urea 1:2", 1.0), ("ChCl:urea 3:6", 3.0)] {
        let answer = two(first);
        let choline = answer["ratio"]["choline-chloride"].as_f64().unwrap();
        assert!((choline / number - 1.0).abs() <= 1e-12, "{choline}");
        let urea = answer["ratio"]["urea"].as_f64().unwrap() / number;
        assert!((urea / ratio - 1.0).abs() <= 1e-9, "{urea}, not {ratio}");
        assert_eq!(answer["add"], serde_json::json!([]));
    }
}

#[test]
fn an_impossible_wish_says_what_must_be_dried() {
    let arguments = ["blend", "--liquid", "ChCl:urea 1:2 to 5 wt% water mass=80g", "--water", "2 wt%"];
    let run = run(&arguments);
    assert_eq!((run.code, run.stderr.as_str()), (1, ""), "{}", line(&arguments));
    // (4 − 1.6)/0.98 g, on one line however the screen breaks it.
    let text =
        run.stdout.split_whitespace().filter(|word| !["│", "┃"].contains(word)).collect::<Vec<_>>().join(" ");
    assert!(text.contains("dry first: the liquid holds 4.000 g of water (5 wt%)"), "{text}");
    assert!(text.contains("2.449 g must be dried off"), "{text}");
    let answer = json(&arguments, 1);
    assert!((answer["dry_first_g"].as_f64().unwrap() - 2.4 / 0.98).abs() <= 1e-9);
    assert_eq!(answer["add"], serde_json::json!([]));
}

/// A hydrate brings more water than the recipe states, so the liquid has been dried to what it states.
#[test]
fn a_liquid_is_what_its_recipe_states() {
    let liquid = "ChCl:oxalic-acid-dihydrate 1:1 to 2 wt% water mass=20g";
    let answer = json(&["blend", "--liquid", liquid], 0);
    assert!((answer["water_wt_pct"].as_f64().unwrap() - 2.0).abs() <= 1e-9);
    assert!((answer["mass_g"].as_f64().unwrap() - 20.0).abs() <= 1e-9);
}
