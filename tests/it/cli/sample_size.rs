//! `sample-size`: one sentence first, every aim, and the keys that scripts rely on.

use serde_json::Value;

use crate::golden;
use crate::run::{answer, json};

const QUESTION: [&str; 9] =
    ["sample-size", "--difference", "15 mV", "--sd", "12 mV", "--power", "0.85", "--alpha", "0.05"];

#[test]
fn it_answers_in_words_and_draws() {
    golden::check("cli/sample-size.txt", &answer(&QUESTION, 0));
    golden::check("cli/sample-size.csv", &answer(&[&QUESTION[..], &["--format", "csv"]].concat(), 0));
    let spares =
        ["sample-size", "--difference", "15 mV", "--sd", "0.012 V", "--groups", "4", "--loss", "10%"];
    golden::check("cli/sample-size-groups.txt", &answer(&spares, 0));
    let given = ["sample-size", "--per-group", "6", "--difference", "15 mV", "--sd", "12 mV"];
    golden::check("cli/sample-size-given.txt", &answer(&given, 0));
    golden::check(
        "cli/sample-size-tolerance.md",
        &answer(&["sample-size", "--tolerance", "3", "--format", "markdown"], 0),
    );
}

#[test]
fn every_aim_has_its_keys() {
    let numbers = |arguments: &[&str], keys: &[&str]| {
        let answer = json(&[&["sample-size"], arguments].concat(), 0);
        for key in keys {
            assert!(answer[*key].is_number(), "{arguments:?}: {key} is {}", answer[*key]);
        }
        answer
    };
    let difference = ["per_group", "total", "power", "detectable", "difference", "sd", "alpha", "sides"];
    let found = numbers(&QUESTION[1..], &difference);
    assert_eq!((&found["per_group"], &found["total"]), (&Value::from(13), &Value::from(26)));
    assert!(found["build_per_group"].is_null() && found["half_width"].is_null());
    numbers(&["--means", "1.30 1.31 1.33 V", "--sd", "10 mV"], &["power", "detectable"]);
    let width =
        numbers(&["--half-width", "10 mV", "--sd", "20 mV"], &["per_group", "half_width", "confidence"]);
    assert_eq!((&width["per_group"], &width["power"]), (&Value::from(18), &Value::Null));
    numbers(&["--spread-within", "50%"], &["per_group", "spread_ratio", "confidence"]);
    let tolerance = ["per_group", "tolerance_k", "coverage", "confidence", "distribution_free"];
    numbers(&["--tolerance", "3"], &tolerance);
    let lost = ["--per-group", "6", "--sd", "12 mV", "--loss", "10%"];
    numbers(&lost, &["detectable", "build_per_group", "build_total", "enough_survive"]);
}

/// A bare size and its multiple in another unit are the same question.
#[test]
fn units_are_brought_together() {
    let one = json(&["sample-size", "--difference", "15 mV", "--sd", "0.012 V"], 0);
    let same = json(&["sample-size", "--difference", "15", "--sd", "12"], 0);
    assert_eq!(one["per_group"], same["per_group"]);
    assert_eq!((&one["unit"], &same["unit"]), (&Value::from("mV"), &Value::Null));
    let charge = json(&["sample-size", "--difference", "5 mAh", "--sd", "14.4 C"], 0);
    assert_eq!(charge["sd"], Value::from(4.0));
}
