//! What is due: the design's schedule less what was read.

use meltbook::record::CodeKind;
use serde_json::Value;

use super::lab::{Decided, Lab, with_batches};
use crate::golden;

const DAILY: &str = "name = \"daily\"\nclosure = \"vented\"\n\
    [[reading]]\nevery = \"1 d\"\nuntil = \"3 d\"\nwhat = [\"open-circuit\"]\n\
    [[reading]]\nafter = \"7 d\"\nwhat = [\"open-circuit\", \"under-load\"]\n";

/// Two cells, built on the second of November at 09:00.
fn lab() -> Lab {
    let lab = with_batches();
    lab.write("designs/daily.toml", DAILY);
    lab.answer(
        "2026-11-02T09:00:00Z",
        &["cell", "build", "--design", "daily", "--use", "E1=1g", "--count", "2", "--seed", "1"],
        0,
    );
    lab
}

/// What is due of the codes that begin with a letter.
fn due_of(lab: &Lab, now: &str, letter: char) -> Vec<(String, String, f64, u64)> {
    let row = |due: &Value| {
        let text = |key: &str| due[key].as_str().unwrap().to_owned();
        (text("code"), text("what"), due["late_days"].as_f64().unwrap(), due["missed"].as_u64().unwrap())
    };
    let rows = lab.json(now, &["due"]);
    let rows = rows.as_array().unwrap().iter().map(row);
    rows.filter(|(code, ..)| code.starts_with(letter)).collect()
}

fn due(lab: &Lab, now: &str) -> Vec<(String, String, f64, u64)> {
    due_of(lab, now, 'C')
}

fn read(lab: &Lab, now: &str, cell: &str) {
    lab.answer(now, &["reading", "add", cell, "--open-circuit", "1.4 V"], 0);
}

#[test]
fn a_reading_is_due_from_its_day_until_it_is_read() {
    let lab = lab();
    assert!(due(&lab, "2026-11-02T20:00:00Z").is_empty());
    // On the day, before the hour.
    let rows = due(&lab, "2026-11-03T08:00:00Z");
    assert_eq!(rows.iter().map(|row| row.0.as_str()).collect::<Vec<_>>(), ["C1", "C2"]);
    assert!((rows[0].2 + 1.0 / 24.0).abs() < 1e-9, "an hour ahead");
    read(&lab, "2026-11-03T08:00:00Z", "C1");
    assert_eq!(due(&lab, "2026-11-03T23:00:00Z").len(), 1, "an hour early counts");
    // C1 was read on day 1 only, C2 never: the latest time counts, the others are missed.
    let rows = due(&lab, "2026-11-05T09:00:00Z");
    assert_eq!(rows[0], ("C1".to_owned(), "open-circuit".to_owned(), 0.0, 1));
    assert_eq!(rows[1], ("C2".to_owned(), "open-circuit".to_owned(), 0.0, 2));
}

#[test]
fn the_latest_comes_first_and_the_retired_not_at_all() {
    let lab = lab();
    read(&lab, "2026-11-05T09:00:00Z", "C2");
    let rows = due(&lab, "2026-11-07T09:00:00Z");
    assert_eq!(rows.len(), 1);
    assert!((rows[0].2 - 2.0).abs() < 1e-9);
    let rows = due(&lab, "2026-11-10T09:00:00Z");
    let what: Vec<(&str, &str)> = rows.iter().map(|row| (row.0.as_str(), row.1.as_str())).collect();
    assert_eq!(
        what,
        [("C1", "open-circuit"), ("C1", "under-load"), ("C2", "open-circuit"), ("C2", "under-load")]
    );
    lab.answer("2026-11-10T09:00:00Z", &["cell", "retire", "C1", "--cause", "dry"], 0);
    assert_eq!(due(&lab, "2026-11-10T09:00:00Z").len(), 2);
    golden::check("cli/due.txt", &lab.answer("2026-11-12T10:00:00Z", &["due"], 0));
    golden::check("cli/due-ahead.txt", &lab.answer("2026-11-06T10:00:00Z", &["due", "--days", "3"], 0));
}

/// Batches are looked at on their schedule, in the same list.
#[test]
fn looks_at_batches_are_due_until_they_are_done() {
    let lab = Lab::new();
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "ethylene-glycol"], 40.0, Decided::Nothing);
    let looks = |now: &str| -> Vec<(String, u64)> {
        due_of(&lab, now, 'E').into_iter().map(|(_, what, _, missed)| (what, missed)).collect()
    };
    // Finished on the first of November at 08:00; four hours later it has cooled.
    assert_eq!(looks("2026-11-01T08:30:00Z"), [("look: cooled".to_owned(), 0)]);
    assert_eq!(looks("2026-11-02T09:00:00Z"), [("look: 24 h".to_owned(), 2)]);
    let look =
        ["batch", "appearance", "E1", "--clarity", "clear", "--crystals", "none", "--occasion", "24 h"];
    lab.answer("2026-11-02T10:00:00Z", &look, 0);
    assert!(looks("2026-11-07T09:00:00Z").is_empty());
    assert_eq!(looks("2026-11-08T09:00:00Z"), [("look: 7 d".to_owned(), 2)]);
    lab.answer("2026-11-08T10:00:00Z", &["batch", "reject", "E1", "--because", "crystals"], 0);
    assert!(looks("2026-11-09T09:00:00Z").is_empty(), "nobody looks at what is rejected");
}
