//! `compare --study`: what was said beforehand is what is compared, looks are counted, departures named.

use meltbook::record::CodeKind;
use serde_json::Value;

use super::lab::{Decided, Lab, with_batches};
use super::study::BUILD;
use crate::golden;
use crate::run::envelope;

/// The day of the comparison, and before it.
const END: &str = "2026-12-20T09:00:00Z";
const EARLY: &str = "2026-12-11T09:00:00Z";
const READ: &str = "2026-11-16T09:00:00Z";

/// E1 as A and E2 as B, four cells of each: C1 to C4 and C5 to C8, read on day 14. What matters is 20 mV.
fn lab(more: &[&str], volts: [&str; 8]) -> Lab {
    let lab = with_batches();
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "glycerol"], 40.0, Decided::Release);
    lab.write("designs/bare.toml", "name = \"bare\"\nclosure = \"vented\"\n");
    let mut plan = vec![
        "study",
        "plan",
        "--question",
        "Is B better?",
        "--electrolyte",
        "E1 name=A",
        "--electrolyte",
        "E2 name=B",
        "--metric",
        "voltage day=14",
        "--cells",
        "4",
        "--ends",
        "2026-12-20",
        "--seed",
        "11",
        "--difference",
        "20 mV",
    ];
    plan.extend(more);
    lab.answer("2026-11-01T10:00:00Z", &plan, 0);
    lab.answer("2026-11-02T09:00:00Z", &BUILD, 0);
    let values: Vec<String> = (1..)
        .zip(volts)
        .filter(|(_, volts)| !volts.is_empty())
        .map(|(at, volts)| format!("C{at}={volts}"))
        .collect();
    let values = values.join(" ");
    lab.answer(READ, &["reading", "add", "--what", "open-circuit", "--values", &values, "--unit", "V"], 0);
    lab
}

const FAR: [&str; 8] = ["1.400", "1.404", "1.398", "1.402", "1.450", "1.447", "1.453", "1.449"];
const NEAR: [&str; 8] = ["1.400", "1.404", "1.398", "1.402", "1.401", "1.399", "1.403", "1.402"];
const WIDE: [&str; 8] = ["1.400", "1.450", "1.380", "1.410", "1.430", "1.390", "1.460", "1.410"];
const SMALL: [&str; 8] = ["1.400", "1.402", "1.399", "1.401", "1.421", "1.418", "1.423", "1.419"];

fn compared(lab: &Lab, now: &str, more: &[&str]) -> Value {
    let mut all = vec!["compare", "--study", "Q1"];
    all.extend(more);
    lab.json(now, &all)
}

fn head(lab: &Lab) -> u64 {
    lab.json(END, &["verify"])["entries"].as_u64().unwrap()
}

#[test]
fn it_reads_as_kept() {
    let lab = lab(&[], FAR);
    golden::check_all(&[
        ("cli/compare-study-early.txt".to_owned(), lab.answer(EARLY, &["compare", "--study", "Q1"], 0)),
        ("cli/compare-study.txt".to_owned(), lab.answer(END, &["compare", "--study", "Q1"], 0)),
        (
            "cli/compare-study.json".to_owned(),
            lab.answer(END, &["compare", "--study", "Q1", "--format", "json"], 0),
        ),
    ]);
    lab.verified();
}

/// A look before the planned end is an entry that names it, and is counted; one on its day or later is none.
#[test]
fn early_looks_are_recorded_and_counted() {
    let lab = lab(&[], FAR);
    let before = head(&lab);
    let first = compared(&lab, "2026-12-01T09:00:00Z", &[]);
    assert_eq!(first["study"]["look"]["number"], 1);
    let second = compared(&lab, EARLY, &["--method", "ranks"]);
    let look = &second["study"]["look"];
    assert_eq!((&look["number"], &look["days_before_end"]), (&Value::from(2), &Value::from(9)));
    assert_eq!(look["entry"].as_u64(), Some(before + 2));
    assert_eq!(head(&lab), before + 2);
    let screen = lab.answer(EARLY, &["compare", "--study", "Q1"], 0);
    assert!(
        screen.contains("Look 3 of the data, 9 days before the planned end. This look was recorded"),
        "{screen}"
    );
    let late = compared(&lab, END, &[]);
    assert_eq!((&late["study"]["look"], head(&lab)), (&Value::Null, before + 3));
    let told = late["study"]["departures"].to_string();
    assert!(told.contains("looked at 3 times before the planned end, first 19 d before it"), "{told}");
    let shown = lab.json(END, &["study", "show", "Q1"]);
    assert_eq!(shown["looks"][1]["command"], "meltbook compare --study Q1 --method ranks");
    assert_eq!(
        (&shown["looks"][1]["with_value"], &shown["looks"][1]["of"]),
        (&Value::from(8), &Value::from(8))
    );
    // What was seen can't be unseen.
    let entry = shown["looks"][0]["entry"].to_string();
    let refused = lab.refused(END, &["strike", &entry, "--because", "not meant"]);
    assert!(refused.contains("can't be taken back"), "{refused}");
    let refused = lab.refused(END, &["correct", &entry, "--set", "command=x", "--because", "not meant"]);
    assert!(refused.contains("can't be taken back"), "{refused}");
    lab.verified();
}

/// A book that can't be written can be looked at, and the answer says that nobody counts it.
#[test]
fn an_unrecorded_look_says_so() {
    let lab = lab(&[], FAR);
    let before = head(&lab);
    let screen = lab.answer(EARLY, &["compare", "--study", "Q1", "--unrecorded"], 0);
    assert!(screen.contains("This look was NOT recorded"), "{screen}");
    assert_eq!(head(&lab), before);
    // A plain comparison of the same cells is told of the study.
    let answer = lab.answer(EARLY, &["compare", "--metric", "voltage day=14", "--format", "json"], 0);
    let warnings = envelope(&answer)["warnings"].to_string();
    assert!(warnings.contains("cells of study Q1 are looked at before its planned end"), "{warnings}");
    let answer = lab.answer(END, &["compare", "--metric", "voltage day=14", "--format", "json"], 0);
    assert!(!answer.contains("cells of study"), "{answer}");
}

/// Nobody is named who looks: nothing is shown.
#[test]
fn nothing_is_shown_of_a_look_without_an_author() {
    let lab = lab(&[], FAR);
    let output = crate::run::command(&lab.path(), &["compare", "--study", "Q1"])
        .env("MELTBOOK_NOW", EARLY)
        .env_remove("MELTBOOK_AUTHOR")
        .output()
        .expect("the program starts");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    assert_eq!((output.status.code(), text(&output.stdout)), (Some(2), String::new()));
    assert!(text(&output.stderr).contains("--author AB"), "{}", text(&output.stderr));
}

/// Limits inside what matters, beyond it, and neither; in words that claim no more.
#[test]
fn differences_are_held_against_what_matters() {
    for (volts, word, sentence) in [
        (NEAR, "within", "all within ±20 mV: these data speak against a difference that matters"),
        (FAR, "beyond", "all beyond 20 mV: these data speak for a difference that matters"),
        (WIDE, "open", "no difference and one of 20 mV or more are both possible"),
        (SMALL, "open", "a difference, of which these data can't say whether it is as large as the 20 mV"),
    ] {
        let lab = lab(&[], volts);
        let answer = compared(&lab, END, &[]);
        assert_eq!(answer["study"]["against_smallest"][0]["matters"], word, "{answer}");
        let pair = &answer["pairs"][0];
        let limit = |at: usize| answer["study"]["against_smallest"][0]["limits"][at].as_f64().unwrap();
        assert!(
            (limit(0) - 1000.0 * pair["ci95"][0].as_f64().unwrap()).abs() < 1e-9,
            "volts became millivolts"
        );
        let screen = lab.answer(END, &["compare", "--study", "Q1"], 0);
        let screen = screen.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(screen.contains(sentence), "{screen}");
    }
}

/// What flags ask otherwise is a departure, each by its name.
#[test]
fn what_is_asked_otherwise_is_told() {
    let lab = lab(&[], FAR);
    let told = |more: &[&str]| compared(&lab, END, more)["study"]["departures"].clone();
    assert_eq!(told(&[]), Value::Array(Vec::new()));
    assert_eq!(told(&["--metric", "voltage day=14"]), Value::Array(Vec::new()));
    let other =
        told(&["--metric", "voltage day=13.9", "--method", "classical", "--baseline", "A"]).to_string();
    assert!(
        other.contains(
            "Another metric than planned was asked for: voltage day=13.9, planned was voltage day=14."
        ),
        "{other}"
    );
    assert!(
        other.contains("Another method than planned was asked for: classical, planned was welch."),
        "{other}"
    );
    assert!(
        other.contains("Another baseline than planned was asked for: A, planned was every pair."),
        "{other}"
    );
    let refused = lab.refused(END, &["compare", "--study", "Q1", "--of", "E1"]);
    assert!(refused.contains("other_source"), "{refused}");
}

/// A cell is left out for a cause that was named; for another it counts with its value, and both are told.
#[test]
fn only_named_causes_leave_a_cell_out() {
    let lab = lab(&[], FAR);
    lab.answer("2026-11-16T10:00:00Z", &["cell", "retire", "C1", "--cause", "wrong-dose"], 0);
    // From the building on, and so left out whenever it was found, if only the study named it.
    let n = |answer: &Value| {
        answer["groups"]
            .as_array()
            .unwrap()
            .iter()
            .map(|group| group["n"].as_u64().unwrap())
            .collect::<Vec<_>>()
    };
    assert_eq!(n(&compared(&lab, END, &[])), [3, 4]);
    let lab = self::lab(&["--cause", "leak"], FAR);
    lab.answer("2026-11-16T10:00:00Z", &["cell", "retire", "C1", "--cause", "wrong-dose"], 0);
    let answer = compared(&lab, END, &[]);
    assert_eq!(n(&answer), [4, 4]);
    let told = answer["study"]["departures"].to_string();
    assert!(
        told.contains("C1 failed by a cause that was not named beforehand, wrong dose: its value counts"),
        "{told}"
    );
    assert_eq!(answer["failures"][0]["failed"], 1, "it failed all the same");
}

/// The confidence is that of the study, and the words say so.
#[test]
fn the_confidence_is_the_study_s() {
    let lab = lab(&["--confidence", "90 %"], FAR);
    let answer = compared(&lab, END, &[]);
    assert_eq!((&answer["confidence"], &answer["pairs"][0]["ci95"]), (&Value::from(0.9), &Value::Null));
    let usual = compared(&self::lab(&[], FAR), END, &[]);
    let width = |limits: &Value| limits[1].as_f64().unwrap() - limits[0].as_f64().unwrap();
    assert!(width(&answer["pairs"][0]["ci"]) < width(&usual["pairs"][0]["ci"]));
    let screen = lab.answer(END, &["compare", "--study", "Q1"], 0);
    assert!(
        screen.contains("90 % interval") && screen.contains("90 % from") && !screen.contains("95 %"),
        "{screen}"
    );
}

/// A study without cells has nothing to compare.
#[test]
fn a_study_without_cells_is_refused() {
    let lab = super::study::planned();
    let refused = lab.refused(END, &["compare", "--study", "Q1"]);
    assert!(refused.contains("Q1 has no cells yet"), "{refused}");
}
