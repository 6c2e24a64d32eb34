//! `trace` in a book, through the binary: from the bottle to the reading and back, what a suspect touched, what
//! differs. The laboratory and its records are invented.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::book::lab::{DESIGN, Lab};
use crate::golden;

const NOW: &str = "2026-11-25T18:00:00Z";

/// Two electrolytes of one dried choline chloride, a blend of both, six cells of the blend and six of the first
/// electrolyte, read once. B1 choline chloride, B2 ethylene glycol, B3 urea, B4 of B1, B5 manganese dioxide,
/// B6 graphite.
fn lab() -> Lab {
    let lab = Lab::new();
    let at = |now: &str, arguments: &[&str]| {
        lab.answer(now, arguments, 0);
    };
    let day = "2026-11-02T09:00:00Z";
    let receive = |what: &str, lot: &str| {
        at(day, &["bottle", "receive", what, "--net", "500 g", "--lot", lot]);
    };
    receive("ChCl assay=98% basis=dried moisture=1.5%", "K12");
    receive("EG assay=99.5%", "G7");
    receive("urea assay=99.5%", "U3");
    at(day, &["bottle", "dry", "B1", "--taken", "120 g", "--dried", "118 g", "--moisture", "0.2%"]);
    receive("MnO2", "N1");
    receive("graphite", "P1");
    let day = "2026-11-03T09:00:00Z";
    for (code, recipe, other, mass, from) in
        [("E1", "ChCl:EG 1:2", "EG", "28.2 g", "B2"), ("E2", "ChCl:urea 1:2", "urea", "27.6 g", "B3")]
    {
        at(day, &["batch", "start", recipe, "--mass", "60 g", "--balance", "d=0.01g"]);
        at(day, &["batch", "weigh", code, "ChCl", "32.0 g", "--from", "B4"]);
        at(day, &["batch", "weigh", code, other, mass, "--from", from]);
        at(day, &["batch", "finish", code]);
        at(day, &["batch", "release", code, "--because", "invented"]);
    }
    at(day, &["blend", "--liquid", "E1 mass=20g", "--liquid", "E2 mass=10g", "--record"]);
    at(day, &["batch", "release", "E3", "--because", "invented"]);
    at(day, &["batch", "start", "MnO2:graphite 1:1 by mass", "--cathode-mix", "--mass", "20 g"]);
    at(day, &["batch", "weigh", "M1", "MnO2", "10 g", "--from", "B5"]);
    at(day, &["batch", "weigh", "M1", "graphite", "10 g", "--from", "B6"]);
    at(day, &["batch", "finish", "M1"]);
    at(day, &["batch", "release", "M1"]);
    let build = ["cell", "build", "--design", DESIGN, "--count", "6", "--seed", "7", "--use"];
    at("2026-11-04T09:00:00Z", &[&build[..], &["E3=1.2g M1=0.4g"]].concat());
    let other = ["E1=1.1g M1=0.4g", "--operator", "CD", "--deviation", "one separator layer"];
    at("2026-11-05T09:00:00Z", &[&build[..], &other].concat());
    at("2026-11-05T10:00:00Z", &["cell", "weigh", "C3", "E3", "1.183 g"]);
    let values = "C1=1.48 C2=1.47 C3=1.465 C4=1.49 C5=1.2 C6=1.48";
    let read = ["reading", "add", "--what", "open-circuit", "--values", values, "--unit", "V"];
    at("2026-11-06T09:00:00Z", &[&read[..], &["--instrument", "DMM-1"]].concat());
    at("2026-11-07T09:00:00Z", &["cell", "retire", "C5", "--cause", "leak"]);
    lab
}

fn codes(list: &Value) -> BTreeSet<String> {
    let list = list.as_array().expect("a list");
    list.iter().map(|node| node["code"].as_str().expect("a code").to_owned()).collect()
}

/// The codes reached from one against or along the edges of an answer.
fn reached(trace: &Value, code: &str, upstream: bool) -> BTreeSet<String> {
    let (here, there) = if upstream { ("to", "from") } else { ("from", "to") };
    let (mut found, mut todo) = (BTreeSet::new(), vec![code.to_owned()]);
    while let Some(code) = todo.pop() {
        for edge in
            trace["edges"].as_array().expect("a list").iter().filter(|edge| edge[here] == code.as_str())
        {
            let next = edge[there].as_str().expect("a code").to_owned();
            if found.insert(next.clone()) {
                todo.push(next);
            }
        }
    }
    found
}

#[test]
fn from_the_bottle_to_the_reading() {
    let lab = lab();
    let trace = lab.json(NOW, &["trace", "B1"]);
    assert_eq!(trace["code"], "B1");
    let edge = |from: &str, to: &str| {
        let edges = trace["edges"].as_array().expect("a list");
        let found = edges.iter().find(|edge| edge["from"] == from && edge["to"] == to);
        found.unwrap_or_else(|| panic!("no edge from {from} to {to}"))["amount"].clone()
    };
    // Bottle, dried portion, batch, blend, cell, with the mass that was weighed and not the planned dose.
    assert_eq!(edge("B1", "B4"), 120.0);
    assert_eq!(edge("B4", "E1"), 32.0);
    assert_eq!(edge("E1", "E3"), 20.0);
    assert_eq!((edge("E3", "C1"), edge("E3", "C3")), (1.2.into(), 1.183.into()));
    let readings: Vec<&Value> =
        trace["nodes"].as_array().unwrap().iter().filter(|node| node["kind"] == "reading").collect();
    assert_eq!(readings.len(), 6);
    assert!(readings[0]["label"].as_str().unwrap().ends_with("1.48 V, 2026-11-06"), "{}", readings[0]);
    let reading = readings[0]["code"].as_str().unwrap();
    assert_eq!(edge("C1", reading), Value::Null);
    // And back, from the reading's own name.
    let back = lab.json(NOW, &["trace", reading]);
    let all = ["B1", "B2", "B3", "B4", "B5", "B6", "C1", "E1", "E2", "E3", "M1", reading];
    assert_eq!(codes(&back["nodes"]), all.map(str::to_owned).into());
}

/// One is upstream of another if and only if the other is downstream of the first, and every cell comes of
/// bottles.
#[test]
fn both_ways_agree() {
    let lab = lab();
    let all: Vec<String> = ["B1", "B2", "B3", "B4", "B5", "B6", "E1", "E2", "E3", "M1"]
        .into_iter()
        .map(str::to_owned)
        .chain((1..=12).map(|cell| format!("C{cell}")))
        .collect();
    let traces: Vec<Value> = all.iter().map(|code| lab.json(NOW, &["trace", code])).collect();
    for (one, of_one) in all.iter().zip(&traces) {
        let up = reached(of_one, one, true);
        for (other, of_other) in all.iter().zip(&traces) {
            let down = reached(of_other, other, false);
            assert_eq!(up.contains(other), down.contains(one), "{other} upstream of {one}");
        }
        if one.starts_with('C') {
            assert!(up.contains("B1") && up.contains("B5"), "{one} comes of bottles: {up:?}");
        }
        let ways: BTreeSet<String> =
            up.into_iter().chain(reached(of_one, one, false)).chain([one.clone()]).collect();
        assert_eq!(codes(&of_one["nodes"]), ways, "nothing stands in it that has nothing to do with {one}");
    }
}

#[test]
fn a_suspect_shows_what_is_left() {
    let lab = lab();
    let touched = |what: &str| lab.json(NOW, &["trace", "--suspect", what])["touched"].clone();
    let one = |list: &Value, code: &str| {
        let found = list.as_array().unwrap().iter().find(|node| node["code"] == code).cloned();
        found.unwrap_or_else(|| panic!("{code} is not among what was touched"))
    };
    let urea = touched("B3");
    assert_eq!(codes(&urea).iter().filter(|code| !code.starts_with('R')).count(), 3 + 6);
    // 60 g of blend less 6 cells, by hand: 30 − 5 × 1.2 − 1.183.
    let left = one(&urea, "E3")["left_g"].as_f64().unwrap();
    assert!((left - 22.817).abs() < 1e-9, "{left}");
    assert!((one(&urea, "B3")["left_g"].as_f64().unwrap() - 472.4).abs() < 1e-9);
    assert_eq!(
        (one(&urea, "C4")["still_there"].clone(), one(&urea, "C5")["still_there"].clone()),
        (true.into(), false.into())
    );
    // The same by its lot, and by the code in small letters.
    assert_eq!(codes(&touched("U3")), codes(&urea));
    assert_eq!(codes(&touched("b3")), codes(&urea));
    // A meter touches what was read with it, and no cell.
    let meter = touched("DMM-1");
    assert_eq!(
        (codes(&meter).len(), one(&meter, codes(&meter).first().unwrap())["kind"].clone()),
        (6, "reading".into())
    );
    // A balance, by its name or what was typed instead of one.
    assert_eq!(codes(&touched("d=0.01g")).iter().filter(|code| code.starts_with('E')).count(), 3);
    // On the day of the second set it was built, and a cell of the first was weighed.
    let day = codes(&touched("2026-11-05"));
    assert_eq!(day.iter().filter(|code| code.starts_with('C')).count(), 7);
    assert!(!day.contains("E1"), "what was taken from is not touched by that");
    // CD built cells that AB wrote down.
    assert_eq!(codes(&touched("author:CD")).len(), 6);
    // Emptied by hand, it is no longer there.
    lab.answer(NOW, &["batch", "left", "E3", "0 g"], 0);
    let empty = one(&touched("B3"), "E3");
    assert_eq!((empty["still_there"].clone(), empty["left_g"].clone()), (false.into(), 0.0.into()));
}

#[test]
fn what_differs_is_named() {
    let lab = lab();
    let between = lab.json(NOW, &["trace", "--between", "C1..C6", "C7-C10, C11–C12"]);
    let only_first: Vec<&str> = between["rows"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|row| row["presence"] == "all_of_first_only")
        .map(|row| row["code"].as_str().unwrap())
        .collect();
    assert_eq!(only_first, ["B3", "E2", "E3"]);
    let feature = |what: &str, value: &str| {
        let all = between["features"].as_array().unwrap();
        all.iter().find(|row| row["what"] == what && row["value"] == value).expect(value)["presence"].clone()
    };
    assert_eq!(feature("lot", "U3 of urea"), "all_of_first_only");
    assert_eq!(feature("lot", "K12 of choline chloride"), "all");
    assert_eq!(feature("day", "2026-11-04"), "all_of_first_only");
    assert_eq!(feature("operator", "CD"), "all_of_second_only");
    assert_eq!(feature("deviation", "one separator layer"), "all_of_second_only");
    assert_eq!(feature("author", "AB"), "all");
    let dose = &between["doses"][0];
    assert_eq!(
        (&dose["kind"], &dose["first"]["least_g"], &dose["first"]["most_g"]),
        (&"electrolyte".into(), &1.183.into(), &1.2.into())
    );
    approx::assert_relative_eq!(dose["second"]["mean_g"].as_f64().unwrap(), 1.1, max_relative = 1e-12);
}

/// What was poured back into a batch is traced as it happened.
#[test]
fn pouring_back_is_no_dead_end() {
    let lab = lab();
    lab.answer(NOW, &["batch", "add", "E1", "--batch", "E3", "2 g"], 0);
    let trace = lab.json(NOW, &["trace", "E1"]);
    assert!(reached(&trace, "E1", true).contains("B3"), "urea is in E1 now: {trace}");
    // The cells were filled before.
    let cell = lab.json(NOW, &["trace", "C7"]);
    assert!(!reached(&cell, "C7", true).contains("B3"), "{cell}");
    let shown = lab.answer(NOW, &["trace", "E1"], 0);
    assert!(shown.contains("E1 until entry") && shown.contains("C7–C12"), "{shown}");
    let touched = lab.json(NOW, &["trace", "--suspect", "B2"]);
    assert!(codes(&touched["touched"]).contains("C7"), "{touched}");
    let touched = lab.json(NOW, &["trace", "--suspect", "E1"]);
    assert!(codes(&touched["touched"]).contains("C7"), "{touched}");
}

#[test]
fn a_struck_code_says_so() {
    let lab = lab();
    let made = lab.answer(NOW, &["bottle", "receive", "urea", "--net", "1 g"], 0);
    assert!(made.contains("B7"), "{made}");
    let entry = lab.json(NOW, &["history", "B7"])["entries"][0]["entry"].to_string();
    lab.answer(NOW, &["strike", &entry, "--because", "twice"], 0);
    assert!(lab.answer(NOW, &["trace", "B7"], 0).contains("struck"));
}

#[test]
fn the_picture_goes_into_a_file_once() {
    let lab = lab();
    lab.answer(NOW, &["trace", "C3", "--svg", "--out", "c3.svg"], 0);
    let picture = std::fs::read_to_string(lab.path().join("c3.svg")).expect("it is written");
    let xml = resvg::usvg::roxmltree::Document::parse(&picture).expect("it is XML");
    assert_eq!(xml.root_element().tag_name().name(), "svg");
    assert!(lab.refused(NOW, &["trace", "C3", "--svg", "--out", "c3.svg"]).contains("error[file_exists]"));
    lab.answer(NOW, &["trace", "C3", "--svg", "--out", "c3.svg", "--force"], 0);
    let page = lab.answer(NOW, &["trace", "C3", "--format", "html"], 0);
    assert!(page.contains("<svg") && page.contains("What went where"), "picture and table on one page");
}

#[test]
fn the_screens_of_traces_are_kept() {
    let lab = lab();
    let mut pages = Vec::new();
    let mut keep = |name: &str, arguments: &[&str]| {
        pages.push((format!("cli/{name}"), lab.answer(NOW, arguments, 0)));
    };
    keep("trace-bottle.txt", &["trace", "B1"]);
    keep("trace-cell.txt", &["trace", "C3"]);
    keep("trace-cell.csv", &["trace", "C3", "--format", "csv"]);
    keep("trace-blend.json", &["trace", "E3", "--format", "json"]);
    keep("trace-blend.svg", &["trace", "E3", "--svg"]);
    keep("trace-suspect.txt", &["trace", "--suspect", "K12"]);
    keep("trace-suspect-day.txt", &["trace", "--suspect", "2026-11-05"]);
    keep("trace-suspect.csv", &["trace", "--suspect", "B3", "--format", "csv"]);
    keep("trace-between.txt", &["trace", "--between", "C1-C6", "C7-C12"]);
    golden::check_all(&pages);
    lab.verified();
}
