//! What a study says of the work that departed from it, one by one.

use serde_json::Value;

use super::lab::Lab;
use super::study::{BUILD, BUILT, PLANNED, built, entry, plan, planned};

/// The departures that `study show` names.
fn departures(lab: &Lab, now: &str) -> Vec<String> {
    let shown = lab.json(now, &["study", "show", "Q1"]);
    shown["departures"].as_array().unwrap().iter().map(|told| told.as_str().unwrap().to_owned()).collect()
}

/// All eight cells read at a time.
fn read(lab: &Lab, now: &str, cells: &str) {
    lab.answer(now, &["reading", "add", cells, "--open-circuit", "1.4 V"], 0);
}

#[test]
fn work_that_keeps_to_its_plan_departs_in_nothing() {
    let lab = built();
    read(&lab, "2026-11-09T10:00:00Z", "C1-C8");
    read(&lab, "2026-11-16T08:00:00Z", "C1-C8");
    assert_eq!(departures(&lab, "2026-12-20T09:00:00Z"), Vec::<String>::new());
}

/// Written after a reading, it says so for ever.
#[test]
fn a_study_that_came_late_says_so() {
    let lab = planned();
    lab.answer(BUILT, &BUILD, 0);
    read(&lab, "2026-11-09T10:00:00Z", "C1-C8");
    // The same study again, after the fact.
    lab.answer("2026-11-12T10:00:00Z", &plan(&[]), 0);
    let assigned = lab.answer("2026-11-12T10:05:00Z", &["study", "assign", "Q2", "C1-C8"], 0);
    assert!(assigned.contains("C1–C8 belong to study Q1 too"), "{assigned}");
    let told = lab.json("2026-11-12T11:00:00Z", &["study", "show", "Q2"])["departures"].to_string();
    assert!(told.contains("C1–C8 were in study Q1 before: what was seen there was known"), "{told}");
    let first = lab.json("2026-11-12T11:00:00Z", &["study", "show", "Q1"])["departures"].to_string();
    assert!(!first.contains("were in study"), "{first}");
    let compared =
        lab.json("2027-11-12T11:00:00Z", &["compare", "--study", "Q2", "--metric", "voltage day=7"]);
    assert!(compared["study"]["departures"].to_string().contains("were in study Q1 before"), "{compared}");
    let expected = "The study was written on 2026-11-12 10:00, 3 d after the first reading of its cells, C1 on 2026-11-09 10:00";
    assert!(told.contains(expected), "{told}");
    // A correction does not change the date.
    let second = lab.json("2026-11-12T11:00:00Z", &["study", "show", "Q2"])["entry"].to_string();
    lab.answer(
        "2026-11-13T11:00:00Z",
        &["correct", &second, "--set", "question=Is it so?", "--because", "plainer"],
        0,
    );
    let told = lab.json("2026-11-14T11:00:00Z", &["study", "show", "Q2"])["departures"].to_string();
    assert!(told.contains(expected), "{told}");
    assert!(told.contains("The plan was changed after the first reading: question was"), "{told}");
    // Nor does it stand there as if nothing had been changed.
    let shown = lab.answer("2026-11-14T11:00:00Z", &["study", "show", "Q2"], 0);
    assert!(shown.contains("changed since by entry"), "{shown}");
}

#[test]
fn a_plan_that_was_changed_says_when() {
    let lab = built();
    let why = ["--because", "we had less time"];
    let entry = entry(&lab);
    let mut correct = vec!["correct", entry.as_str(), "--set", "ends=2026-12-18"];
    correct.extend(why);
    lab.answer("2026-11-05T09:00:00Z", &correct, 0);
    let told = departures(&lab, "2026-11-06T09:00:00Z");
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(
        told[0]
            .starts_with("The plan was changed before the first reading: ends was 2026-12-20, is 2026-12-18"),
        "{told:?}"
    );
    assert!(told[0].contains("2026-11-05 09:00: we had less time"), "{told:?}");
}

#[test]
fn cells_that_are_too_many_or_of_another_order_are_told() {
    let lab = built();
    let more =
        ["cell", "build", "--design", "bare", "--use", "E1=1.2g M1=0.4g", "--count", "1", "--seed", "3"];
    lab.answer("2026-11-03T09:00:00Z", &more, 0);
    lab.answer("2026-11-03T09:05:00Z", &["study", "assign", "Q1", "C9"], 0);
    let told = departures(&lab, "2026-11-03T10:00:00Z");
    assert_eq!(
        told,
        [
            "A: 5 cells are in the study, more than the 4 planned.",
            "C9 was not built in the place that the build list gives.",
        ]
    );
}

#[test]
fn cells_that_are_missing_are_told() {
    let lab = planned();
    let some = [
        "cell", "build", "--design", "bare", "--use", "M1=0.4g", "--set", "E1=1.2g", "--set", "E2=1.2g",
        "--count", "3", "--seed", "3",
    ];
    lab.answer(BUILT, &some, 0);
    lab.answer(BUILT, &["study", "assign", "Q1", "C1-C3"], 0);
    let told = departures(&lab, "2026-11-03T10:00:00Z");
    assert_eq!(
        told,
        [
            "A: 3 cells are in the study, fewer than the 4 planned.",
            "B: no cell is in the study, 4 were planned.",
            "C1–C3 were not built in the place that the build list gives.",
        ]
    );
}

/// Taking a cell out again is possible, and does not go unseen.
#[test]
fn cells_that_were_taken_out_are_told() {
    let lab = built();
    let assigned = (entry(&lab).parse::<u64>().unwrap() + 4).to_string();
    lab.answer("2026-11-12T09:00:00Z", &["strike", &assigned, "--because", "they looked odd"], 0);
    let told = departures(&lab, "2026-11-12T10:00:00Z");
    assert_eq!(
        told,
        [format!("C1–C8 taken out of the study again: entry {assigned} was struck (they looked odd).")]
    );
}

#[test]
fn a_cause_that_was_not_named_is_told() {
    let lab = built();
    read(&lab, "2026-11-09T10:00:00Z", "C1-C8");
    lab.answer("2026-11-10T09:00:00Z", &["cell", "retire", "C2", "--cause", "leak"], 0);
    lab.answer("2026-11-10T09:00:00Z", &["cell", "retire", "C3", "--cause", "other: dropped"], 0);
    lab.answer("2026-11-10T09:00:00Z", &["cell", "retire", "C4", "--cause", "end-of-test"], 0);
    let told = departures(&lab, "2026-11-10T10:00:00Z");
    assert_eq!(
        told,
        ["C3 failed by a cause that was not named beforehand, dropped: its value counts where it has one."]
    );
}

/// Due on the ninth and on the sixteenth at 09:00; a day late is late, and a cell that is retired is not read.
#[test]
fn readings_off_the_schedule_are_told() {
    let lab = built();
    read(&lab, "2026-11-09T10:00:00Z", "C1-C5");
    read(&lab, "2026-11-11T12:00:00Z", "C6");
    lab.answer("2026-11-08T09:00:00Z", &["cell", "retire", "C8", "--cause", "dry"], 0);
    let told = departures(&lab, "2026-11-12T10:00:00Z");
    assert_eq!(
        told,
        [
            "No open circuit reading for day 7 of C7.",
            "The open circuit reading for day 7 came up to 2 d late: C6.",
        ]
    );
}

/// Before any cell is there, nothing departs from anything.
#[test]
fn a_study_without_cells_departs_in_nothing() {
    assert_eq!(departures(&planned(), PLANNED), Vec::<String>::new());
    let empty = planned().json(PLANNED, &["study", "show", "Q1"])["cells"].clone();
    assert_eq!(empty, Value::Array(Vec::new()));
}
