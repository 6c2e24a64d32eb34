//! Cells: built in random order, weighed, retired, and what that leaves of their batches.

use meltbook::record::CodeKind;
use serde_json::Value;

use super::lab::{DESIGN, Decided, Lab, with_batches, with_cells};
use crate::golden;

const NOW: &str = "2026-11-02T09:00:00Z";
const LATER: &str = "2026-11-03T10:00:00Z";

fn build<'a>(more: &[&'a str]) -> Vec<&'a str> {
    let mut arguments = vec!["cell", "build", "--design", DESIGN, "--seed", "7"];
    arguments.extend(more);
    arguments
}

/// The codes in building order.
fn order(answer: &Value) -> Vec<String> {
    let cells = answer["cells"].as_array().expect("cells are a list");
    cells.iter().map(|cell| cell["code"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn the_screens_of_cells_are_kept() {
    let lab = with_batches();
    let use_both = [
        "--use",
        "E1=1.2g M1=0.4g",
        "--count",
        "4",
        "--deviation",
        "one separator layer",
        "--operator",
        "CD",
    ];
    let mut pages = vec![("cli/cell-build.txt".to_owned(), lab.answer(NOW, &build(&use_both), 0))];
    let mut keep =
        |name: &str, arguments: &[&str]| pages.push((format!("cli/{name}"), lab.answer(LATER, arguments, 0)));
    keep("cell-weigh.txt", &["cell", "weigh", "C3", "E1", "1.183g"]);
    keep("cell-retire.txt", &["cell", "retire", "C2", "--cause", "leak", "--note", "crystals at the seam"]);
    lab.answer(LATER, &["reading", "add", "C3", "--open-circuit", "1.482 V", "--temperature", "22 °C"], 0);
    keep("cell-list.txt", &["cell", "list", "--all"]);
    keep("cell-list.csv", &["cell", "list", "--format", "csv"]);
    keep("cell-show.txt", &["cell", "show", "C3"]);
    keep("cell-show.json", &["cell", "show", "C2", "--format", "json"]);
    keep("cell-sheet.html", &["cell", "sheet", "C1-C4", "--format", "html"]);
    keep("cell-design-list.txt", &["cell", "design", "list"]);
    keep("cell-design-show.txt", &["cell", "design", "show", DESIGN]);
    golden::check_all(&pages);
    lab.verified();
}

#[test]
fn the_order_is_drawn_again_from_its_seed() {
    let (a, b) = (with_batches(), with_batches());
    let twelve = build(&["--use", "E1=1.2g", "--count", "12"]);
    let (first, second) = (a.json(NOW, &twelve), b.json(NOW, &twelve));
    assert_eq!(order(&first), order(&second));
    let mut sorted = order(&first);
    sorted.sort_by_key(|code| code[1..].parse::<u32>().unwrap());
    assert_eq!(sorted, (1..=12).map(|number| format!("C{number}")).collect::<Vec<_>>());
    assert_ne!(sorted, order(&first), "the order is not that of the codes");
    // Without --seed one is drawn and recorded; given again it draws the same.
    let drawn = a.json(NOW, &["cell", "build", "--design", DESIGN, "--use", "E1=1.2g", "--count", "12"]);
    let seed = drawn["seed"].to_string();
    let again = ["cell", "build", "--design", DESIGN, "--use", "E1=1.2g", "--count", "12", "--seed", &seed];
    // The codes of another book begin elsewhere, the places are the same.
    let places = |answer: &Value| {
        let mut cells: Vec<(u64, u64)> = answer["cells"]
            .as_array()
            .unwrap()
            .iter()
            .map(|cell| {
                (cell["code"].as_str().unwrap()[1..].parse().unwrap(), cell["position"].as_u64().unwrap())
            })
            .collect();
        cells.sort_unstable();
        cells.into_iter().map(|(_, position)| position).collect::<Vec<_>>()
    };
    assert_eq!(places(&drawn), places(&b.json(NOW, &again)));
}

#[test]
fn sets_are_built_in_one_order_and_share_the_blocks() {
    let lab = with_batches();
    lab.batch(CodeKind::Electrolyte, &["urea", "choline-chloride"], 40.0, Decided::Release);
    let sets = build(&[
        "--use",
        "M1=0.4g",
        "--set",
        "E1=1.2g",
        "--set",
        "E2=1.1g",
        "--count",
        "6",
        "--blocks",
        "operator AB CD",
    ]);
    let answer = lab.json(NOW, &sets);
    let cells = answer["cells"].as_array().unwrap();
    let positions: Vec<u64> = cells.iter().map(|cell| cell["position"].as_u64().unwrap()).collect();
    assert_eq!(positions, (1..=12).collect::<Vec<_>>());
    let count = |block: &str, batch: &str| {
        let holds = |cell: &&Value| cell["contents"].as_array().unwrap().iter().any(|c| c["batch"] == batch);
        cells.iter().filter(|cell| cell["block"] == block).filter(holds).count()
    };
    for block in ["operator AB", "operator CD"] {
        assert_eq!((count(block, "E1"), count(block, "E2"), count(block, "M1")), (3, 3, 6));
    }
    assert!((lab.left("M1") - (10.0 - 12.0 * 0.4)).abs() < 1e-9);
    assert!((lab.left("E2") - (40.0 - 6.0 * 1.1)).abs() < 1e-9);
    lab.verified();
}

#[test]
fn a_batch_that_was_not_released_needs_a_reason() {
    let lab = Lab::new();
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "ethylene-glycol"], 40.0, Decided::Nothing);
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "ethylene-glycol"], 40.0, Decided::Reject);
    for (batch, why) in [("E1", "E1 was not released"), ("E2", "E2 was rejected")] {
        let dose = format!("{batch}=1.2g");
        let bare = build(&["--use", &dose, "--count", "2"]);
        let refused = lab.refused(NOW, &bare);
        assert!(refused.contains("error[needs_reason]") && refused.contains(why), "{refused}");
        let mut with = bare.clone();
        with.extend(["--because", "to see how bad it is"]);
        lab.answer(NOW, &with, 0);
    }
    assert!(lab.answer(NOW, &["history", "C1"], 0).contains("because: to see how bad it is"));
    lab.verified();
}

#[test]
fn nothing_is_dispensed_past_what_is_left_without_a_reason() {
    let lab = with_batches();
    let refused = lab.refused(NOW, &build(&["--use", "E1=4g", "--count", "11"]));
    assert!(refused.contains("11 cells of 4g take 44.0000 g of E1, and 40.0000 g is left"), "{refused}");
    // The second set alone is too much: nothing of the first is built either.
    lab.refused(NOW, &build(&["--set", "E1=1g", "--set", "M1=2g", "--count", "6"]));
    assert_eq!(lab.json(NOW, &["cell", "list", "--all"]).as_array().unwrap().len(), 0);
    lab.answer(NOW, &build(&["--use", "E1=4g", "--count", "10"]), 0);
    let refused = lab.refused(LATER, &["cell", "weigh", "C1", "E1", "4.2 g"]);
    assert!(refused.contains("C1 takes 0.2000 g more of E1, and 0.0000 g is left"), "{refused}");
    lab.answer(LATER, &["cell", "weigh", "C1", "E1", "4.2 g", "--because", "rinsed the flask"], 0);
    lab.verified();
}

#[test]
fn masses_reconcile_after_weighing_and_correcting() {
    let lab = with_cells();
    let planned = 40.0 - 12.0 * 1.2;
    assert!((lab.left("E1") - planned).abs() < 1e-9);
    lab.answer(LATER, &["cell", "weigh", "C3", "E1", "1.183g"], 0);
    assert!((lab.left("E1") - (planned + 1.2 - 1.183)).abs() < 1e-9);
    // Weighed once more: the later mass takes the place of the earlier.
    lab.answer(LATER, &["cell", "weigh", "C3", "E1", "1.19 g"], 0);
    assert!((lab.left("E1") - (planned + 1.2 - 1.19)).abs() < 1e-9);
    let entry =
        lab.json(LATER, &["history", "C3", "--kind", "cell.weighed"])["entries"][1]["entry"].to_string();
    let corrected = lab.json(LATER, &["correct", &entry, "--mass", "1.09 g", "--because", "misread"]);
    assert_eq!(corrected["computed_again"][0]["code"], "E1");
    assert!((lab.left("E1") - (planned + 1.2 - 1.09)).abs() < 1e-9);
    let flow: f64 = rusqlite::Connection::open(lab.path().join("book.sqlite"))
        .unwrap()
        .query_row("SELECT sum(grams) FROM flow WHERE from_code = 'E1'", [], |row| row.get(0))
        .unwrap();
    assert!((flow - (11.0 * 1.2 + 1.09)).abs() < 1e-9);
    lab.answer(LATER, &["strike", &entry, "--because", "was C4"], 0);
    assert!((lab.left("E1") - (planned + 1.2 - 1.183)).abs() < 1e-9);
    lab.verified();
}

#[test]
fn masses_come_from_a_table_or_not_at_all() {
    let lab = with_cells();
    lab.write("masses.csv", "cell;E1 (g);M1 (mg)\nC1;1,183;401\nC2;;398\n");
    let answer = lab.json(LATER, &["cell", "weigh", "--csv", "masses.csv"]);
    assert_eq!(answer["cells"].as_array().unwrap().len(), 3);
    assert_eq!(lab.json(LATER, &["cell", "show", "C1"])["contents"][1]["weighed_g"], 0.401);
    // Given again with one more: what stands in the book is passed over.
    lab.write("masses.csv", "cell;E1 (g);M1 (mg)\nC1;1,183;401\nC2;1,21;398\n");
    let answer = lab.json(LATER, &["cell", "weigh", "--csv", "masses.csv"]);
    assert_eq!((answer["passed_over"].as_u64(), answer["cells"].as_array().unwrap().len()), (Some(3), 1));
    let left = lab.left("E1");
    lab.write("bad.csv", "cell,E1 (g)\nC3,1.18\nX4,1.18\nC5,a lot\n");
    let refused = lab.refused(LATER, &["cell", "weigh", "--csv", "bad.csv"]);
    assert!(refused.contains("bad.csv:3") && refused.contains("bad.csv:4"), "{refused}");
    lab.write("none.csv", "cell,E1 (g)\nC3,1.18\nC99,1.18\n");
    assert!(lab.refused(LATER, &["cell", "weigh", "--csv", "none.csv"]).contains("error[unknown_code]"));
    assert_eq!(left, lab.left("E1"), "nothing of a bad table is entered");
    lab.verified();
}

#[test]
fn cautions_block_a_sealed_cell_that_makes_gas() {
    let lab = Lab::new();
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "oxalic-acid"], 40.0, Decided::Release);
    lab.batch(CodeKind::CathodeMix, &["manganese-dioxide", "graphite"], 10.0, Decided::Release);
    let sealed = [
        "cell",
        "build",
        "--design",
        "sealed-vial-zinc-carbon",
        "--use",
        "E1=1g M1=0.4g",
        "--count",
        "2",
        "--seed",
        "1",
    ];
    let refused = lab.refused(NOW, &sealed);
    assert!(refused.contains("error[needs_procedure]") || refused.contains("error[never_done]"), "{refused}");
    let mut permitted = sealed.to_vec();
    permitted.extend(["--procedure", "W-12", "--responsible", "EF"]);
    let run = lab.run(NOW, &permitted);
    if refused.contains("error[needs_procedure]") {
        assert_eq!(run.code, 0, "{}", run.stderr);
        assert!(run.stdout.contains("W-12, responsible EF"), "it is printed");
        let permit = &lab.json(NOW, &["cell", "show", "C1"])["permit"];
        assert_eq!((&permit["procedure"], &permit["person"]), (&Value::from("W-12"), &Value::from("EF")));
        assert!(!permit["alerts"].as_array().unwrap().is_empty());
    }
}

#[test]
fn a_cell_ends_once_and_with_a_cause() {
    let lab = with_cells();
    assert!(lab.refused(LATER, &["cell", "retire", "C1", "--cause", "low"]).contains("error[unknown_cause]"));
    lab.answer(LATER, &["cell", "retire", "C1", "C3-C4", "--cause", "other: dropped on the floor"], 0);
    assert!(
        lab.refused(LATER, &["cell", "retire", "C4", "--cause", "dry"]).contains("C4 was retired already")
    );
    assert_eq!(lab.json(LATER, &["cell", "show", "C3"])["cause"], "dropped on the floor");
    assert_eq!(lab.json(LATER, &["cell", "list"]).as_array().unwrap().len(), 9);
    // Not before it was built.
    let early = ["cell", "retire", "C5", "--cause", "leak", "--when", "2026-11-01"];
    assert!(lab.refused(LATER, &early).contains("error[refused]"));
    lab.verified();
}

#[test]
fn the_building_stays_while_something_stands_on_it() {
    let lab = with_cells();
    let entry = lab.json(LATER, &["history", "--kind", "cell.built"])["entries"][0]["entry"].to_string();
    lab.answer(LATER, &["reading", "add", "C1", "--open-circuit", "1.5 V"], 0);
    assert!(lab.refused(LATER, &["strike", &entry, "--because", "x"]).contains("error[stands_on_it]"));
    let reading = lab.json(LATER, &["history", "--kind", "reading"])["entries"][0]["entry"].to_string();
    lab.answer(LATER, &["strike", &reading, "--because", "x"], 0);
    lab.answer(LATER, &["strike", &entry, "--because", "x"], 0);
    assert!((lab.left("E1") - 40.0).abs() < 1e-9, "what the cells took is back");
    // Their codes are not used again.
    assert_eq!(order(&lab.json(LATER, &build(&["--use", "E1=1g", "--count", "1"]))), ["C13"]);
    lab.verified();
}
