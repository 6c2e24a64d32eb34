//! `label`: what the labels of a book's codes say, and the page that is printed.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::book::bench::Bench;
use crate::book::lab::{Lab, with_cells};
use crate::golden;
use crate::labels::qr::read;

const NOW: &str = "2026-11-25T18:00:00Z";

/// A book with bottles in every state, and batches that are made, being weighed and rejected.
fn bench() -> Bench {
    let bench = Bench::new();
    bench.bottle(
        "ChCl assay=98% basis=dried moisture=1.5%",
        &["--supplier", "the supplier", "--lot", "4711", "--expires", "2028-10-01", "--storage", "dry"],
    );
    bench.bottle("EG", &["--expires", "2026-11-24"]);
    bench.bottle("ZnCl2", &[]);
    bench.said(&["bottle", "open", "B1"], 0);
    bench.said(&["bottle", "dry", "B1", "--taken", "20 g", "--dried", "19.6 g", "--heat", "80 °C"], 0);
    bench.said(&["bottle", "dispose", "B3", "--because", "caked, to the zinc waste"], 0);
    bench.write("limited.toml", crate::book::bench::LIMITED);
    bench.said(&["batch", "start", "./limited.toml", "--mass", "60 g"], 0);
    bench.said(&["batch", "weigh", "E1", "ChCl", "31.761 g"], 0);
    bench.said(&["batch", "weigh", "E1", "EG", "28.9 g"], 0);
    bench.said(&["batch", "finish", "E1"], 0);
    bench.said(&["batch", "start", "ChCl:urea 1:2 + 0.5 mol/kg ZnCl2", "--mass", "20 g"], 0);
    bench.said(&["batch", "weigh", "E2", "ChCl", "9 g"], 0);
    bench.said(&["batch", "start", "ChCl:urea 1:2", "--mass", "20 g"], 0);
    bench.said(&["batch", "weigh", "E3", "ChCl", "10.76 g"], 0);
    bench.said(&["batch", "weigh", "E3", "urea", "9.2 g"], 0);
    bench.said(&["batch", "finish", "E3"], 0);
    bench.said(&["batch", "reject", "E3", "--because", "crystals after a night in the cold"], 0);
    bench
}

#[test]
fn screens() {
    let bench = bench();
    golden::check("cli/label-bottles.txt", &bench.said(&["label", "B1-B4"], 0));
    golden::check("cli/label-batches.txt", &bench.said(&["label", "E1-E3"], 0));
    golden::check("cli/label.csv", &bench.said(&["label", "E1-E3", "B1-B4", "--format", "csv"], 0));
    let lab = with_cells();
    lab.answer(NOW, &["cell", "retire", "C5", "--cause", "leak"], 0);
    golden::check("cli/label-cells.txt", &lab.answer(NOW, &["label", "C1-C12"], 0));
    golden::check("cli/label.json", &lab.answer(NOW, &["label", "C5", "--format", "json"], 0));
}

fn labels(bench: &Bench, codes: &[&str]) -> Vec<Value> {
    let arguments = [&["label"], codes].concat();
    bench.json(&arguments, 0)["labels"].as_array().expect("labels are a list").clone()
}

/// Molar masses (CIAAW 2021 abridged): choline chloride 139.62 g/mol, urea 60.06 g/mol, ethylene glycol
/// 62.07 g/mol. E1: (28.9/62.07)/(31.761/139.62) = 2.047. E3: (9.2/60.06)/(10.76/139.62) = 1.988.
#[test]
fn the_composition_is_what_was_weighed() {
    let labels = labels(&bench(), &["E1", "E2", "E3"]);
    assert_eq!(labels[0]["composition"], "choline-chloride:ethylene-glycol 1:2.047; water 0 wt% by weighing");
    assert_eq!(labels[1]["composition"], "choline-chloride; water 0 wt% by weighing");
    assert_eq!(labels[2]["composition"], "choline-chloride:urea 1:1.988; water 0 wt% by weighing");
}

/// A recipe's age limit of 30 days from the end of making on 25 November.
#[test]
fn a_batch_may_be_used_until_its_age_limit() {
    let mut bench = bench();
    let label = &labels(&bench, &["E1"])[0];
    assert_eq!((&label["use_by"], &label["against"]), (&"2026-12-25".into(), &Value::Null));
    assert_eq!(labels(bench.at("2026-12-25T20:00:00Z"), &["E1"])[0]["against"], Value::Null);
    assert_eq!(labels(bench.at("2026-12-26T09:00:00Z"), &["E1"])[0]["against"], "PAST ITS DATE");
}

#[test]
fn what_must_not_be_used_says_so_on_every_label() {
    let bench = bench();
    for (code, words) in
        [("B2", "PAST ITS DATE"), ("B3", "DISPOSED OF"), ("E2", "NOT FINISHED"), ("E3", "REJECTED")]
    {
        for on in ["vial", "bottle", "cell-sleeve"] {
            let page = bench.said(&["label", code, "--on", on, "--format", "html"], 0);
            assert!(page.contains(words), "{code} on a {on}: {page}");
        }
    }
    let quiet = bench.said(&["label", "B1", "E1", "--format", "html"], 0);
    assert!(["PAST", "DISPOSED", "NOT FIN", "REJECTED"].iter().all(|words| !quiet.contains(words)));
}

/// Zinc chloride is planned and not yet weighed: its hazards are on the label already (CLP Annex VI, index
/// 030-003-00-2: H314, H302, H400, H410), the gravest first.
#[test]
fn hazards_of_what_is_planned_are_known() {
    let label = &labels(&bench(), &["E2"])[0];
    assert_eq!(label["hazards"]["signal_word"], "DANGER");
    assert_eq!(label["hazards"]["statements"][0]["code"], "H314");
    assert_eq!(label["hazards"]["of_components"], true);
}

/// A component that the table no longer knows has no known hazard, and the label says that.
#[test]
fn a_bottle_of_an_own_component_that_is_gone() {
    let bench = Bench::new();
    let own = "[[component]]\nid = \"own-salt\"\nname = \"own salt\"\nformula = \"NaCl\"\nroles = [\"salt\"]\n\
               identity = \"bottle\"\n";
    bench.write("components.toml", own);
    let taken = bench.run(&["bottle", "receive", "own-salt", "--net", "5 g"]);
    assert_eq!(taken.code, 0, "{}", taken.stderr);
    bench.write("components.toml", "component = []\n");
    let page = bench.said(&["label", "B1", "--format", "html"], 0);
    assert!(page.contains("own salt") && page.contains("HAZARDS NOT KNOWN"), "{page}");
}

/// The drawings of labels on a page, without those of fold-outs, and the codes that a telephone would read off them.
fn codes_of(page: &str) -> (usize, Vec<String>) {
    let drawings = page.split("<svg").skip(1);
    let drawings: Vec<&str> = drawings.filter(|drawing| drawing.contains("<title>Label ")).collect();
    let svg = |drawing: &&str| format!("<svg{}</svg>", drawing.split("</svg>").next().unwrap_or_default());
    (drawings.len(), drawings.iter().map(svg).flat_map(|svg| read(&svg)).collect())
}

/// The codes on the page that a call writes to a file; a page is what `--out` means.
fn printed(lab: &Lab, arguments: &[&str]) -> (usize, Vec<String>) {
    let all = [arguments, &["--out", "labels.html", "--force"]].concat();
    assert_eq!(lab.answer(NOW, &all, 0), "");
    codes_of(&std::fs::read_to_string(lab.path().join("labels.html")).expect("the page is written"))
}

#[test]
fn a_page_holds_each_code_as_often_as_asked() {
    let lab = with_cells();
    let (pages, codes) = printed(&lab, &["label", "C1-C12"]);
    let all: BTreeSet<String> = (1..=12).map(|number| format!("C{number}")).collect();
    assert_eq!((pages, codes.len(), codes.into_iter().collect()), (1, 12, all));
    let (pages, codes) = printed(&lab, &["label", "E1", "M1", "C1", "--copies", "3"]);
    assert_eq!((pages, codes.len()), (2, 9), "vials and sleeves are printed on pages of their own");
    let (pages, codes) = printed(&lab, &["label", "C1-C12", "--skip", "70"]);
    assert_eq!((pages, codes.len()), (2, 12), "a page has 76 places");
}

/// The first place that is not skipped is where the first label lies.
#[test]
fn used_places_stay_empty() {
    let lab = with_cells();
    let page = lab.answer(NOW, &["label", "C1", "--skip", "6", "--paper", "letter", "--format", "html"], 0);
    let labels = page.split("</svg>").next().unwrap();
    assert_eq!(labels.matches("<g transform").count(), 1);
    assert!(page.contains("<g transform=\"translate(96 14)\">"), "seventh place, four in a row: {page}");
    assert!(page.contains("size:letter"), "{page}");
}
