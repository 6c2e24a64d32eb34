//! Slips of a tired hand: what is asked, refused and told, and all of it at once.

use meltbook::book::BookError;
use serde_json::Value;

use super::lab::{Lab, with_cells};
use super::study::{PLANNED, entry, planned};

const NOW: &str = "2026-11-01T12:00:00Z";

/// A batch of 20 g that is to be weighed: 10.852 g of choline chloride and 9.148 g of urea.
fn started() -> Lab {
    let lab = Lab::new();
    for bottle in ["ChCl assay=98% basis=dried moisture=1%", "urea assay=99% basis=dried moisture=0%"] {
        lab.answer(NOW, &["bottle", "receive", bottle, "--net", "500 g"], 0);
    }
    let start = [
        "batch",
        "start",
        "ChCl:urea 1:2",
        "--mass",
        "20 g",
        "--at",
        "20 °C",
        "--bottle",
        "B1",
        "--bottle",
        "B2",
    ];
    lab.answer(NOW, &start, 0);
    lab
}

/// The code and words of each warning about a weighing.
fn warned(lab: &Lab, component: &str, mass: &str) -> Vec<(String, String)> {
    let run = lab.run(NOW, &["batch", "weigh", "E1", component, mass, "--format", "json"]);
    assert_eq!(run.code, 0, "{}", run.stderr);
    let all = crate::run::envelope(&run.stdout)["warnings"].clone();
    let text = |warning: &Value, key: &str| warning[key].as_str().unwrap().to_owned();
    all.as_array().unwrap().iter().map(|warning| (text(warning, "code"), text(warning, "message"))).collect()
}

#[test]
fn a_mass_ten_times_its_target_is_asked_about() {
    let lab = started();
    let told = warned(&lab, "ChCl", "108.52 g");
    assert_eq!(told.len(), 1, "{told:?}");
    let (code, words) = &told[0];
    assert_eq!(code, "gross_slip");
    assert!(
        words.starts_with("108.52 g of choline-chloride is 10 times the target of choline-chloride, 10.85"),
        "{words}"
    );
    assert!(words.contains("meltbook correct 5 --mass \"… g\""), "{words}");
    // The way out works, and the others then follow what was really there.
    lab.answer(NOW, &["correct", "5", "--mass", "10.852 g", "--because", "the point was wrong"], 0);
    assert!(warned(&lab, "urea", "9.148 g").is_empty());
}

#[test]
fn a_mass_of_another_component_is_asked_about() {
    let lab = started();
    let told = warned(&lab, "ChCl", "9.148 g");
    let (code, words) = &told[0];
    assert_eq!(code, "gross_slip");
    assert!(
        words.contains("is about the target of urea, 9.148 g, and not that of choline-chloride, 10.85"),
        "{words}"
    );
    // A tenth is asked about as well; a first part of several is none.
    assert!(warned(&started(), "urea", "0.9148 g")[0].1.contains("a tenth or less of the target of urea"));
    assert!(warned(&started(), "urea", "1.3 g").is_empty());
    // What has grown with the first mass is no slip.
    let grown = started();
    warned(&grown, "ChCl", "21.704 g");
    assert!(warned(&grown, "urea", "18.296 g").is_empty());
}

#[test]
fn a_comma_before_three_digits_is_refused() {
    let lab = started();
    let refused = lab.refused(NOW, &["batch", "weigh", "E1", "ChCl", "1,500 g"]);
    assert!(
        refused.contains("may be 1.500 g or 1500 g") && refused.contains("Write \"1.500 g\" or \"1500 g\"."),
        "{refused}"
    );
    let refused = lab.refused(NOW, &["plan", "ChCl:urea 1:2", "--mass", "1,500 kg"]);
    assert!(refused.contains("may be 1.500 kg or 1500 kg"), "{refused}");
    // These have one meaning.
    for mass in ["0,500 g", "10,85 g", "1,5000 g"] {
        let run = lab.run(NOW, &["plan", "ChCl:urea 1:2", "--mass", mass]);
        assert_eq!(run.code, 0, "{}", run.stderr);
    }
}

#[test]
fn entries_and_parts_that_are_none_are_told() {
    let lab = started();
    for command in ["correct", "strike"] {
        let mut asked = vec![command, "E1", "--because", "x"];
        if command == "correct" {
            asked.extend(["--mass", "5 g"]);
        }
        let refused = lab.refused(NOW, &asked);
        assert!(
            refused.contains("\"E1\" is no number of an entry") && refused.contains("meltbook history"),
            "{refused}"
        );
    }
    let refused = lab.refused(NOW, &["correct", "2", "--mass", "-5 g", "--because", "x"]);
    assert!(refused.contains("a mass is not below zero"), "{refused}");
    let refused = lab.refused(NOW, &["plan", "ChCl:urea 1:-2", "--mass", "5 g"]);
    assert!(refused.contains("above 0"), "{refused}");
    let refused = lab.refused(NOW, &["bottle", "receive", "ChCl moisture=400%", "--net", "5 g"]);
    assert!(refused.contains("A part of a whole is at most 100 %"), "{refused}");
}

#[test]
fn every_unknown_code_is_told_at_once() {
    let lab = with_cells();
    let later = "2026-11-20T12:00:00Z";
    let refused = lab.refused(later, &["reading", "add", "C1", "C77", "C78", "--open-circuit", "1.4 V"]);
    assert!(
        refused.contains("no C77") && refused.contains("no C78") && !refused.contains("no C1\n"),
        "{refused}"
    );
    let build =
        ["cell", "build", "--design", "sealed-vial-zinc-carbon", "--use", "E77=1g E78=1g", "--count", "1"];
    let refused = lab.refused(later, &build);
    assert!(refused.contains("no E77") && refused.contains("no E78"), "{refused}");
}

/// Right after a batch is finished nothing was missed.
#[test]
fn what_can_still_be_done_was_not_missed() {
    let lab = started();
    for (component, mass) in [("ChCl", "10.852 g"), ("urea", "9.148 g")] {
        assert!(warned(&lab, component, mass).is_empty());
    }
    let finish = [
        "batch",
        "finish",
        "E1",
        "--route",
        "heated",
        "--heat",
        "80 °C",
        "--for",
        "1 h",
        "--atmosphere",
        "air",
        "--end",
        "clear",
    ];
    lab.answer(NOW, &finish, 0);
    let due = lab.json("2026-11-01T12:05:00Z", &["due"]);
    assert!(due.as_array().unwrap().iter().all(|due| due["missed"] == 0), "{due}");
    // Once the next look is due, the one before it went by.
    let due = lab.json("2026-11-03T12:05:00Z", &["due"]);
    assert!(due.as_array().unwrap().iter().any(|due| due["missed"].as_u64() > Some(0)), "{due}");
}

/// A metric is held to its grammar and its sizes to its unit when they are corrected, as when they were planned.
#[test]
fn a_corrected_metric_is_read_as_a_planned_one() {
    let lab = planned();
    let entry = entry(&lab);
    let correct = |metric: &str| {
        let set = format!("metric={metric}");
        lab.refused(PLANNED, &["correct", &entry, "--set", &set, "--because", "x"])
    };
    let refused = correct("voltage daay=7");
    assert!(refused.contains("daay"), "{refused}");
    assert!(
        refused.contains("error[unknown_key]: unknown key \"daay\"")
            && refused.contains("voltage needs day="),
        "{refused}"
    );
    let refused = correct("resistance day=7 method=open-to-loaded");
    assert!(refused.contains("error[unit_mixed]") && refused.contains("Ω"), "{refused}");
    lab.answer(PLANNED, &["correct", &entry, "--set", "metric=voltage day=7", "--because", "x"], 0);
}

/// A book that may not be written says so, and what to look at. The error is a real one of the database.
#[test]
fn a_book_that_may_only_be_read_names_the_rights() {
    let lab = Lab::new();
    let file = lab.path().join("book.sqlite");
    let connection =
        rusqlite::Connection::open_with_flags(&file, rusqlite::OpenFlags::SQLITE_OPEN_READ_ONLY).unwrap();
    let error = BookError::from(connection.execute("CREATE TABLE more (x)", []).unwrap_err());
    assert_eq!(error.hint(), "Check the rights of the book's folder and its files; nothing was changed.");
    assert!(!error.is_input());
}
