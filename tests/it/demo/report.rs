//! The report of the sample book: all of it is there, it needs nothing else, and it says what is missing.

use resvg::usvg::roxmltree::Document as Xml;
use serde_json::Value;

use super::{NOW, Sample};
use crate::book::lab::{Lab, with_cells};
use crate::golden;
use crate::run::envelope;

fn page(sample: &Sample) -> String {
    sample.said(&["report", "--format", "html"])
}

#[test]
fn the_report_looks_as_kept() {
    let sample = Sample::new();
    golden::check("report/sample.txt", &sample.said(&["report"]));
    golden::check("report/sample.csv", &sample.said(&["report", "--format", "csv"]));
}

/// No script, nothing from elsewhere: the file can be read in ten years on a machine without a network.
#[test]
fn the_page_needs_nothing_else() {
    let page = page(&Sample::new());
    let lower = page.to_lowercase();
    for outside in ["<script", "src=", "href=", "url(", "@import", "<link", "<iframe", "<img"] {
        assert!(!lower.contains(outside), "{outside}");
    }
    // Namespaces of SVG are names, not addresses that anything is fetched from.
    let fetched = lower.replace("http://www.w3.org/2000/svg", "").replace("http://www.w3.org/1999/xlink", "");
    assert!(!fetched.contains("http:") && !fetched.contains("https:"));
}

/// Each drawing is XML, has a title for those who can't see it, and a description where it is shown.
#[test]
fn every_drawing_is_whole() {
    let page = page(&Sample::new());
    let drawings: Vec<&str> =
        page.split("<svg").skip(1).map(|rest| rest.split_once("</svg>").expect("it ends").0).collect();
    // Four electrolytes with their means together, three metrics, and the thread.
    assert_eq!(drawings.len(), 4 + 1 + 3 + 1);
    for drawing in drawings {
        let text = format!("<svg{drawing}</svg>");
        let xml = Xml::parse(&text).expect("it is XML");
        let title = xml.descendants().find(|node| node.has_tag_name("title"));
        assert!(title.and_then(|title| title.text()).is_some_and(|title| !title.trim().is_empty()), "{text}");
    }
    assert_eq!(page.matches("role=\"img\" aria-label=\"").count(), 9);
}

/// What was found comes first, then what can hurt; approval is nowhere.
#[test]
fn the_gravest_stands_first() {
    let page = page(&Sample::new());
    let place = |words: &str| page.find(words).unwrap_or_else(|| panic!("{words}"));
    let order = [
        "<h2>Found</h2>",
        "<h2>Before anything of this is opened or repeated</h2>",
        "<h2>What was made</h2>",
        "<h2>The cells and their lots</h2>",
        "<h2>Open-circuit voltage over time</h2>",
        "<h2>Cells that ended</h2>",
        "<h2>What a careful reader would want, and is missing</h2>",
        "<h2>The thread from bottles to cells</h2>",
        "<h2>Conventions</h2>",
        "<h2>Cautions for each batch, and for what meets in cells</h2>",
    ];
    assert!(order.windows(2).all(|pair| place(pair[0]) < place(pair[1])));
    assert!(place("H314") < place("<h2>What was made</h2>"));
    // Zinc meets an acidic chloride in these cells, which no batch says by itself.
    assert!(place("mineral acid or acidic chloride with an active metal") < place("<h2>What was made</h2>"));
    for approval in ["is safe", "harmless", "approved", "no hazard"] {
        assert!(!page.to_lowercase().contains(approval), "{approval}");
    }
}

/// The answer for scripts holds what `summary` and `compare` answer, no more and no other.
#[test]
fn its_numbers_are_those_of_the_commands() {
    let sample = Sample::new();
    let report = sample.json(&["report"]);
    let metrics = report["metrics"].as_array().expect("they are metrics");
    assert_eq!(metrics.len(), 3, "{metrics:?}");
    for metric in metrics {
        let text = metric["metric"].as_str().expect("it has a text");
        assert_eq!(metric["compare"], sample.json(&["compare", "--metric", text]), "{text}");
        assert_eq!(metric["summary"], sample.json(&["summary", "--metric", text]), "{text}");
    }
    assert_eq!(report["cells"].as_array().map(Vec::len), Some(36));
    let codes = report["trace"]["nodes"].as_array().expect("they are nodes");
    // The rejected batch E7 went into no cell.
    assert!(codes.iter().all(|node| node["code"] != "E7"));
    assert!(report["batches"].as_array().expect("they are batches").iter().all(|code| code != "E7"));
}

#[test]
fn named_cells_and_metrics_alone() {
    let sample = Sample::new();
    let report = sample.json(&["report", "--of", "E2", "--of", "E3", "--metric", "voltage day=14"]);
    assert_eq!(report["cells"].as_array().map(Vec::len), Some(12));
    assert_eq!(report["batches"], serde_json::json!(["E2", "E3", "M1"]));
    assert_eq!(report["metrics"][0]["metric"], "voltage day=14");
    assert_eq!(report["metrics"].as_array().map(Vec::len), Some(1));
}

/// In a book with three unweighed, unread cells of one lot nearly all is missing, and said.
#[test]
fn what_is_missing_is_said() {
    let lab: Lab = with_cells();
    let run = lab.run(NOW, &["report", "--format", "json"]);
    assert_eq!(run.code, 0, "{}", run.stderr);
    let answer = envelope(&run.stdout)["answer"].clone();
    assert_eq!(answer["metrics"], Value::Array(Vec::new()));
    let missing: Vec<&str> =
        answer["missing"].as_array().expect("they are sentences").iter().filter_map(Value::as_str).collect();
    for words in [
        "A second batch of",
        "Another electrolyte",
        "Water by titration of",
        "The real dose of",
        "A logged discharge",
    ] {
        assert!(missing.iter().any(|sentence| sentence.starts_with(words)), "{words}: {missing:#?}");
    }
}

/// A report of a study follows it, and before its planned end it is a look that the book counts.
#[test]
fn a_study_is_followed() {
    let sample = Sample::new();
    let by_study = sample.json(&["report", "--study", "Q1"]);
    let compared = sample.json(&["compare", "--study", "Q1"]);
    assert_eq!(by_study["metrics"].as_array().map(Vec::len), Some(1));
    assert_eq!(by_study["metrics"][0]["compare"]["pairs"], compared["pairs"]);
    assert!(sample.said(&["report", "--study", "Q1"]).contains("Departures from the plan"));
}

/// What holds for cells of several lots is said once, with the cells; what holds for all of them first.
#[test]
fn a_caution_of_cells_is_said_once() {
    let page = page(&Sample::new());
    let each = page
        .split_once("<h2>Cautions for each batch, and for what meets in cells</h2>")
        .expect("they are there")
        .1;
    for words in ["cell with zinc or another active metal and electrolyte", "short-circuit current"] {
        assert_eq!(each.matches(words).count(), 1, "{words}");
    }
    assert!(
        each.contains("<h3>In all cells C1–C36: E1–E3, E6, E8, E9, M1 in Sample vial cell</h3>"),
        "{each}"
    );
    assert!(each.contains("<h3>E1, E4, E5 Liquid A: ethylene glycol, zinc chloride</h3>"), "{each}");
}
