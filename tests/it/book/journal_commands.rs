//! The journal by its commands: history, corrections, strikes, verifying, archives and backups.

use rusqlite::Connection;

use super::lab::{Lab, with_cells};
use crate::golden;
use crate::run::line;

const NOW: &str = "2026-11-10T09:00:00Z";

/// Bottles taken in, opened, dried and weighed, some of it entered late.
fn story() -> Lab {
    let lab = Lab::new();
    let steps: [(&str, &[&str]); 6] = [
        (
            "2026-11-02T09:00:00Z",
            &[
                "bottle",
                "receive",
                "ChCl assay=98% basis=dried moisture=1.5%",
                "--net",
                "500 g",
                "--lot",
                "4711",
            ],
        ),
        ("2026-11-02T09:05:00Z", &["bottle", "receive", "glycerol", "--net", "1 kg", "--by", "CD"]),
        ("2026-11-06T10:00:00Z", &["bottle", "open", "B1", "--when", "2026-11-03T10:00:00Z"]),
        (
            "2026-11-06T10:10:00Z",
            &[
                "bottle",
                "dry",
                "B1",
                "--taken",
                "50 g",
                "--dried",
                "49.2 g",
                "--heat",
                "80 °C",
                "--for",
                "12 h",
                "--moisture",
                "0.05%",
            ],
        ),
        ("2026-11-07T08:00:00Z", &["bottle", "weigh", "B1", "444.8 g", "--by", "CD"]),
        ("2026-11-07T08:01:00Z", &["bottle", "weigh", "B2", "980 g"]),
    ];
    for (now, arguments) in steps {
        lab.answer(now, arguments, 0);
    }
    lab
}

#[test]
fn the_screens_of_the_journal_are_kept() {
    let lab = story();
    let mut pages = Vec::new();
    let mut keep = |name: &str, arguments: &[&str], code: i32| {
        pages.push((format!("cli/{name}"), lab.answer(NOW, arguments, code)));
    };
    keep("correct.txt", &["correct", "6", "--mass", "448.4 g", "--because", "digits swapped"], 0);
    keep(
        "correct-fields.txt",
        &[
            "correct",
            "5",
            "--set",
            "dried=48.9 g",
            "--set",
            "heat=85 °C",
            "--set",
            "atmosphere=vacuum",
            "--because",
            "read off the notebook",
        ],
        0,
    );
    keep("strike.txt", &["strike", "7", "--because", "another bottle stood on the balance"], 0);
    keep("history.txt", &["history"], 0);
    keep("history.json", &["history", "B3", "--format", "json"], 0);
    keep("history-kind.csv", &["history", "--kind", "bottle.weighed", "--format", "csv"], 0);
    keep("history-odd.txt", &["history", "--odd", "--author", "AB"], 0);
    keep("verify.txt", &["verify"], 0);
    keep("verify-head.txt", &["verify", "--head", "00000000"], 1);
    keep("archive.txt", &["archive", "../archived"], 0);
    keep("restore.txt", &["restore", "../archived", "../again"], 0);
    keep("backup.txt", &["backup", "../backup.sqlite"], 0);
    golden::check_all(&pages);
}

#[test]
fn history_is_filtered_by_code_author_day_and_kind() {
    let lab = story();
    let entries = |arguments: &[&str]| -> Vec<u64> {
        let mut all = vec!["history"];
        all.extend(arguments);
        let answer = lab.json(NOW, &all);
        answer["entries"].as_array().unwrap().iter().map(|entry| entry["entry"].as_u64().unwrap()).collect()
    };
    assert_eq!(entries(&[]), (1..=7).collect::<Vec<_>>());
    assert_eq!(entries(&["B1"]), [2, 4, 5, 6]);
    assert_eq!(entries(&["B2", "B3"]), [3, 5, 7]);
    assert_eq!(entries(&["--author", "CD"]), [3, 6]);
    assert_eq!(entries(&["--kind", "bottle.received"]), [2, 3]);
    assert_eq!(entries(&["--kind", "book"]), [1]);
    // On the day on which it happened as on that on which it was written.
    assert_eq!(entries(&["--day", "2026-11-03"]), [4]);
    assert_eq!(entries(&["--day", "2026-11-06"]), [4, 5]);
    assert_eq!(entries(&["--odd"]), [4]);
}

/// The values are replaced and the old ones stay; a second correction starts from the first.
#[test]
fn corrections_follow_each_other() {
    let lab = story();
    assert!((lab.left("B1") - 444.8).abs() < 1e-9);
    lab.answer(NOW, &["correct", "6", "--mass", "448.4 g", "--because", "digits swapped"], 0);
    assert!((lab.left("B1") - 448.4).abs() < 1e-9);
    let second =
        lab.json(NOW, &["correct", "6", "--set", "at=2026-11-06", "--because", "was the day before"]);
    assert_eq!(second["fields"].as_array().unwrap().len(), 1, "the mass stays corrected: {second}");
    assert!((lab.left("B1") - 448.4).abs() < 1e-9);
    // A correction is withdrawn by striking it.
    lab.answer(NOW, &["strike", "9", "--because", "it was that day"], 0);
    lab.answer(NOW, &["strike", "8", "--because", "the first was right"], 0);
    assert!((lab.left("B1") - 444.8).abs() < 1e-9);
    let original = lab.json(NOW, &["history", "--kind", "bottle.weighed"]);
    assert_eq!(original["entries"][0]["payload"]["left"]["text"], "444.8 g");
    assert!(
        original["entries"][0]["changes"].as_array().unwrap().is_empty(),
        "the correction does not stand"
    );
    let correction = lab.json(NOW, &["history", "--kind", "entry.corrected"]);
    assert_eq!(correction["entries"][0]["changes"][0]["what"], "struck");
    lab.verified();
}

#[test]
fn a_reading_and_a_dose_are_corrected_by_what_was_typed() {
    let lab = with_cells();
    lab.answer(NOW, &["reading", "add", "C1", "--open-circuit", "1.842 V", "--humidity", "45 %"], 0);
    let entry = lab.json(NOW, &["history", "--kind", "reading"])["entries"][0]["entry"].to_string();
    let correct = [
        "correct",
        &entry,
        "--set",
        "value=1,482 V",
        "--set",
        "temperature=22 °C",
        "--set",
        "humidity=",
        "--because",
        "digits swapped",
    ];
    lab.answer(NOW, &correct, 0);
    let reading = &lab.json(NOW, &["reading", "list"])[0];
    assert_eq!((reading["voltage_v"].as_f64(), reading["text"].as_str()), (Some(1.482), Some("1,482 V")));
    assert!((reading["temperature_c"].as_f64().unwrap() - 22.0).abs() < 1e-9);
    assert!(reading["humidity_pct"].is_null());
    lab.verified();
}

/// Nothing is written by a correction that is refused.
#[test]
fn what_is_no_correction_is_refused() {
    let lab = story();
    let head = lab.json(NOW, &["history"])["head"]["hash"].clone();
    let cases: [(&[&str], &str); 9] = [
        (&["correct", "6", "--mass", "448.4 g"], "no_reason"),
        (&["correct", "6", "--because", "x"], "no_new_value"),
        (&["correct", "6", "--set", "448.4 g", "--because", "x"], "no_field"),
        (&["correct", "6", "--set", "lef=448.4 g", "--because", "x"], "unknown_field"),
        (&["correct", "6", "--set", "left=80 °C", "--because", "x"], "does_not_fit"),
        (&["correct", "6", "--set", "code=B2", "--because", "x"], "refused"),
        (&["correct", "6", "--mass", "444.8 g", "--because", "x"], "nothing_changes"),
        (&["correct", "5", "--mass", "3 g", "--because", "x"], "no_one_mass"),
        (&["correct", "60", "--mass", "3 g", "--because", "x"], "unknown_entry"),
    ];
    for (arguments, code) in cases {
        let refused = lab.refused(NOW, arguments);
        assert!(refused.contains(&format!("error[{code}]")), "{}: {refused}", line(arguments));
    }
    assert_eq!(lab.json(NOW, &["history"])["head"]["hash"], head);
}

#[test]
fn a_correction_below_nothing_needs_its_reasons_and_is_told() {
    let lab = with_cells();
    let entry = lab.json(NOW, &["history", "--kind", "cell.built"])["entries"][0]["entry"].to_string();
    let correct = ["correct", &entry, "--set", "uses.0.dose=4 g", "--because", "misread", "--format", "json"];
    // The corrected entry itself takes too much, and says not why.
    assert!(lab.refused(NOW, &correct).contains("needs_reason"));
    let own = [&correct[..], &["--set", "because=the first weighing was wrong"]].concat();
    assert!(lab.refused(NOW, &own).contains("below_nothing"));
    assert_eq!(lab.left("E1"), 40.0 - 14.4, "nothing was changed");
    let run = lab.run(NOW, &[&own[..], &["--in-spite", "there was more than was written"]].concat());
    assert!(run.code == 0 && run.stdout.contains("less_than_nothing"), "{}{}", run.stdout, run.stderr);
    assert!((lab.left("E1") - (40.0 - 48.0)).abs() < 1e-9);
    lab.verified();
}

/// A value that was changed from outside is found, in the journal as in what was made of it.
#[test]
fn verify_says_where() {
    for (change, place) in [
        ("UPDATE movement SET grams = grams + 1 WHERE code = 'B1'", "table movement"),
        ("UPDATE reading SET number = 9", "table reading"),
        ("UPDATE cell SET note = 'x' WHERE code = 'C2'", "table cell"),
        ("UPDATE cell_content SET planned_g = 2 WHERE cell = 'C2'", "table cell_content"),
        (
            "DROP TRIGGER entry_is_never_changed; UPDATE entry SET payload = x'7b7d' WHERE sequence = 3",
            "entry 3",
        ),
    ] {
        let lab = with_cells();
        lab.answer(NOW, &["bottle", "receive", "glycerol", "--net", "1 kg"], 0);
        lab.answer(NOW, &["reading", "add", "C1", "--open-circuit", "1.5 V"], 0);
        lab.verified();
        let database = Connection::open(lab.path().join("book.sqlite")).unwrap();
        database.execute_batch(change).expect("the change is made");
        let answer = lab.answer(NOW, &["verify"], 1);
        assert!(answer.contains(place), "{change}: {answer}");
    }
}

#[test]
fn an_earlier_head_is_known_and_a_cut_one_is_not() {
    let lab = story();
    let head = lab.json(NOW, &["history"])["head"]["hash"].as_str().unwrap().to_owned();
    lab.answer(NOW, &["bottle", "open", "B2"], 0);
    lab.answer(NOW, &["verify", "--head", &head], 0);
    lab.answer(NOW, &["verify", "--head", &head[..8].to_uppercase()], 0);
    let database = Connection::open(lab.path().join("book.sqlite")).unwrap();
    database
        .execute_batch(
            "DROP TRIGGER entry_is_never_removed; DELETE FROM entry WHERE sequence >= 7;
             CREATE TRIGGER entry_is_never_removed BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;",
        )
        .expect("the end is cut");
    let run = lab.run(NOW, &["verify", "--head", &head, "--format", "json"]);
    assert!(run.code == 1 && run.stdout.contains("entries at the end were cut off"), "{}", run.stdout);
}

#[test]
fn an_archive_makes_an_equal_book() {
    let lab = with_cells();
    lab.write("designs/mine.toml", "name = \"Mine\"\nclosure = \"vented\"\n");
    lab.answer(NOW, &["reading", "add", "C1", "--open-circuit", "1.5 V"], 0);
    let head = |answer: &serde_json::Value| answer["head"].as_str().unwrap().to_owned();
    let archived = head(&lab.json(NOW, &["archive", "../archived"]));
    let restored = head(&lab.json(NOW, &["restore", "../archived", "../again"]));
    let backed_up = head(&lab.json(NOW, &["backup", "../backup.sqlite"]));
    assert_eq!((&archived, &archived), (&restored, &backed_up));
    for arguments in [
        &["history", "--format", "json"][..],
        &["cell", "list", "--format", "json"],
        &["cell", "design", "list"],
    ] {
        let mut there = arguments.to_vec();
        there.extend(["--book", "../again"]);
        assert_eq!(lab.answer(NOW, arguments, 0), lab.answer(NOW, &there, 0));
    }
    lab.answer(NOW, &["verify", "--book", "../again"], 0);
    assert!(lab.refused(NOW, &["archive", "../archived"]).contains("error[not_empty]"));
    assert!(lab.refused(NOW, &["restore", "../archived", "../again"]).contains("error[not_empty]"));
    assert!(lab.refused(NOW, &["backup", "../backup.sqlite"]).contains("error[not_empty]"));
}
