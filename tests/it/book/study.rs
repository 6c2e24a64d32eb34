//! A study from its plan to its cells: what is recorded, what can't be changed, what is due.

use meltbook::record::CodeKind;
use serde_json::Value;

use super::lab::{DESIGN, Decided, Lab, with_batches};
use crate::golden;

/// Before any cell is built.
pub const PLANNED: &str = "2026-11-01T10:00:00Z";
pub const BUILT: &str = "2026-11-02T09:00:00Z";

/// E1 and E3 of one liquid, E2 of another, M1; a study of four cells of each, looked at on the twentieth of December.
pub fn planned() -> Lab {
    let lab = with_batches();
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "glycerol"], 40.0, Decided::Release);
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "ethylene-glycol"], 40.0, Decided::Release);
    lab.write("designs/bare.toml", BARE);
    lab.answer(PLANNED, &plan(&[]), 0);
    lab
}

/// The plan, with more said.
pub fn plan<'a>(more: &[&'a str]) -> Vec<&'a str> {
    let mut all = vec![
        "study",
        "plan",
        "--question",
        "Does B hold its voltage better than A?",
        "--electrolyte",
        "E1 E3 name=A",
        "--electrolyte",
        "choline-chloride and glycerol name=B",
        "--metric",
        "voltage day=14",
        "--cells",
        "4",
        "--ends",
        "2026-12-20",
        "--blocks",
        "operator AB CD",
        "--reading",
        "open-circuit every=7d until=14d",
        "--difference",
        "20 mV",
        "--sd",
        "15 mV",
        "--seed",
        "11",
    ];
    all.extend(more);
    all
}

/// The same with its cells, built by its list.
pub fn built() -> Lab {
    let lab = planned();
    lab.answer(BUILT, &BUILD, 0);
    lab
}

pub const BUILD: [&str; 10] =
    ["cell", "build", "--study", "Q1", "--design", "bare", "--use", "M1=0.4g", "--dose", "1.2g"];

const BARE: &str = "name = \"bare\"\nclosure = \"vented\"\n";

#[test]
fn a_study_reads_as_kept() {
    let lab = planned();
    golden::check_all(&[
        ("cli/study-show.txt".to_owned(), lab.answer(PLANNED, &["study", "show", "Q1"], 0)),
        ("cli/study-list.txt".to_owned(), lab.answer(PLANNED, &["study", "list"], 0)),
        (
            "cli/study-build-list.txt".to_owned(),
            lab.answer(PLANNED, &["study", "build-list", "Q1", "--dose", "1.2g"], 0),
        ),
        (
            "cli/study-build-list.csv".to_owned(),
            lab.answer(PLANNED, &["study", "build-list", "Q1", "--format", "csv"], 0),
        ),
        (
            "cli/study-build-list.html".to_owned(),
            lab.answer(PLANNED, &["study", "build-list", "Q1", "--format", "html"], 0),
        ),
        ("cli/study-build.txt".to_owned(), lab.answer(BUILT, &BUILD, 0)),
        (
            "cli/study-history.txt".to_owned(),
            lab.answer("2026-11-02T10:00:00Z", &["history", "--kind", "study"], 0),
        ),
        (
            "cli/study-show.json".to_owned(),
            lab.answer("2026-11-02T10:00:00Z", &["study", "show", "Q1", "--format", "json"], 0),
        ),
    ]);
    lab.verified();
}

/// A plan in a file says the same as by flags, and flags win.
#[test]
fn a_file_says_what_flags_say() {
    let lab = planned();
    lab.write(
        "study.toml",
        "question = \"Does B hold its voltage better than A?\"\nelectrolytes = [\"E1 E3 name=A\", \"choline-chloride and glycerol name=B\"]\n\
         metric = \"voltage day=14\"\ncells = 6\nends = \"2026-12-20\"\nblocks = \"operator AB CD\"\n\
         readings = [\"open-circuit every=7d until=14d\"]\ndifference = \"20 mV\"\nsd = \"15 mV\"\nseed = 11\n",
    );
    let by_file = lab.json(PLANNED, &["study", "plan", "study.toml", "--cells", "4"]);
    let by_flags = lab.json(PLANNED, &["study", "show", "Q1"]);
    assert_eq!(by_file["plan"], by_flags["plan"]);
    assert_eq!(by_file["code"], "Q2");
}

/// `cell build --study` builds the list: each cell in its place, of the electrolyte and batch that the list names, and
/// in the study. Nothing departs from the plan then.
#[test]
fn cells_are_built_by_the_list() {
    let lab = planned();
    let list = lab.json(PLANNED, &["study", "build-list", "Q1"]);
    let cells = lab.json(BUILT, &BUILD);
    let (list, cells) = (list["list"].as_array().unwrap(), cells["cells"].as_array().unwrap());
    assert_eq!((list.len(), cells.len()), (8, 8));
    for (listed, cell) in list.iter().zip(cells) {
        assert_eq!((&listed["position"], &listed["block"]), (&cell["position"], &cell["block"]));
        let holds =
            |batch: &Value| cell["contents"].as_array().unwrap().iter().any(|held| held["batch"] == *batch);
        assert!(holds(&listed["batch"]) && holds(&Value::from("M1")), "{listed} {cell}");
    }
    for block in ["operator AB", "operator CD"] {
        for (batch, count) in [("E1", 1), ("E3", 1), ("E2", 2)] {
            let of = |listed: &&Value| listed["block"] == block && listed["batch"] == batch;
            assert_eq!(list.iter().filter(of).count(), count, "{block} {batch}");
        }
    }
    let shown = lab.json("2026-11-02T10:00:00Z", &["study", "show", "Q1"]);
    assert_eq!(shown["cells"].as_array().unwrap().len(), 8);
    assert_eq!(shown["departures"], Value::Array(Vec::new()));
    let again = lab.json("2026-11-02T10:00:00Z", &["study", "build-list", "Q1"]);
    assert!(again["list"].as_array().unwrap().iter().all(|listed| listed["cell"].is_string()), "{again}");
    lab.verified();
}

/// What is left of the batches is looked at when the list is made.
#[test]
fn a_list_says_what_the_batches_lack() {
    let lab = planned();
    let warnings = |dose: &str| {
        let answer =
            lab.answer(PLANNED, &["study", "build-list", "Q1", "--dose", dose, "--format", "json"], 0);
        let envelope = crate::run::envelope(&answer);
        let warnings = envelope["warnings"].as_array().unwrap().clone();
        warnings.iter().map(|warning| warning["message"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(warnings("10 g"), Vec::<String>::new());
    assert_eq!(warnings("15 g"), ["4 cells take 60.0000 g of E2, and 40.0000 g is left"]);
    lab.answer(PLANNED, &["batch", "reject", "E3", "--because", "crystals"], 0);
    assert_eq!(warnings("1 g"), ["E3 was rejected"]);
}

/// The date of a study is that of its entry, and a correction shows both.
#[test]
fn what_is_corrected_shows_both() {
    let lab = built();
    lab.answer(
        "2026-11-02T12:00:00Z",
        &["correct", &entry(&lab), "--set", "smallest=10 mV", "--because", "misread the notebook"],
        0,
    );
    let shown = lab.json("2026-11-03T12:00:00Z", &["study", "show", "Q1"]);
    assert_eq!(shown["written"], "2026-11-01T10:00:00Z");
    assert_eq!(shown["plan"]["smallest_difference"], "10 mV");
    let told = shown["departures"].to_string();
    assert!(told.contains("changed before the first reading: smallest was 20 mV, is 10 mV"), "{told}");
    let screen = lab.answer("2026-11-03T12:00:00Z", &["study", "show", "Q1"], 0);
    golden::check("cli/study-show-changed.txt", &screen);
    lab.verified();
}

/// The entry that planned Q1.
pub fn entry(lab: &Lab) -> String {
    lab.json("2027-01-01T00:00:00Z", &["study", "show", "Q1"])["entry"].to_string()
}

/// A study stands while something stands on it, and so do its batches.
#[test]
fn nothing_below_a_study_is_struck() {
    let lab = built();
    let refused = lab.refused("2026-11-03T12:00:00Z", &["strike", &entry(&lab), "--because", "no"]);
    assert!(refused.contains("stands_on_it"), "{refused}");
    // The entry that started E1.
    let refused = lab.refused("2026-11-03T12:00:00Z", &["strike", "2", "--because", "no"]);
    assert!(refused.contains("stands_on_it"), "{refused}");
}

/// What the study asks for beside the design is due; what both ask for is due once.
#[test]
fn its_readings_are_due() {
    let lab = planned();
    let design =
        "name = \"bare\"\nclosure = \"vented\"\n[[reading]]\nafter = \"7 d\"\nwhat = [\"open-circuit\"]\n";
    lab.write("designs/bare.toml", design);
    lab.answer(BUILT, &BUILD, 0);
    let due = |now: &str| {
        lab.json(now, &["due"])
            .as_array()
            .unwrap()
            .iter()
            .filter(|due| due["code"] != "E1" && due["what"] == "open-circuit")
            .cloned()
            .collect::<Vec<_>>()
    };
    let week = due("2026-11-09T09:00:00Z");
    assert_eq!(week.len(), 8);
    assert!(week.iter().all(|due| due["missed"] == 0));
    let fortnight = due("2026-11-16T09:00:00Z");
    assert_eq!(fortnight.len(), 8);
    assert!(
        fortnight.iter().all(|due| due["missed"] == 1 && due["due"] == "2026-11-16T09:00:00Z"),
        "{fortnight:?}"
    );
}

/// A study has no label and no thread of its own, and says where to look.
#[test]
fn a_study_is_not_a_thing() {
    let lab = built();
    for command in [vec!["trace", "Q1"], vec!["label", "Q1"], vec!["trace", "--suspect", "Q1"]] {
        let refused = lab.refused("2026-11-03T12:00:00Z", &command);
        assert!(refused.contains("meltbook study show Q1"), "{refused}");
    }
    let refused = lab.refused("2026-11-03T12:00:00Z", &["cell", "show", "Q1"]);
    assert!(refused.contains("Q1 is a study, not a cell"), "{refused}");
    let refused = lab.refused("2026-11-03T12:00:00Z", &["study", "show", "C1"]);
    assert!(refused.contains("C1 is a cell, not a study"), "{refused}");
}

/// The design that has no schedule of its own is the usual one elsewhere.
#[test]
fn a_worked_design_serves_too() {
    let lab = planned();
    let mut build = BUILD.to_vec();
    build[5] = DESIGN;
    assert_eq!(lab.json(BUILT, &build)["cells"].as_array().unwrap().len(), 8);
}
