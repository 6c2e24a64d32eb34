//! What a trace shows, kept whole.

use meltbook::report::answer::{difference_answer, trace_answer};
use meltbook::report::html::{self, PageSize};
use meltbook::report::terminal::{self, Style};
use meltbook::report::view::{
    difference_document, suspect_document, trace_document, trace_page, trace_table,
};
use meltbook::report::{csv, envelope, markdown};

use super::sample::{blend, many_cells, small};
use crate::golden;

#[test]
fn trees() {
    for (name, graph) in [("small", small()), ("many-cells", many_cells()), ("blend", blend())] {
        let shown = terminal::render(&trace_document(&graph), 100, Style::Plain);
        golden::check(&format!("trace/{name}.txt"), &shown);
    }
    let narrow = terminal::render(&trace_document(&blend()), 40, Style::Plain);
    golden::check("trace/blend-narrow.txt", &narrow);
}

#[test]
fn trees_in_markdown() {
    golden::check("trace/blend.md", &markdown::render(&trace_document(&blend())));
}

#[test]
fn pages() {
    golden::check("trace/small.html", &html::page(&trace_page(&small()), PageSize::A4));
}

#[test]
fn edges_as_a_table() {
    golden::check("trace/small.csv", &csv::render(&trace_table(&small())).unwrap());
}

#[test]
fn answers() {
    let json = |kind: &str, answer| {
        envelope::answer(kind, &answer, &[]).unwrap().replace(env!("CARGO_PKG_VERSION"), "VERSION")
    };
    golden::check("trace/small.json", &json("trace", trace_answer(&small())));
    let difference = blend().between(["C1", "C2"], ["C2", "C13", "C14"]).unwrap();
    golden::check("trace/difference.json", &json("trace", difference_answer(&difference)));
}

/// Scripts rely on these keys and on no others standing between them.
#[test]
fn the_answer_has_just_these_keys() {
    let answer = trace_answer(&small());
    let keys = |value: &serde_json::Value| value.as_object().unwrap().keys().cloned().collect::<Vec<_>>();
    assert_eq!(keys(&answer), ["code", "nodes", "edges"]);
    assert_eq!(keys(&answer["nodes"][0]), ["code", "kind", "label"]);
    assert_eq!(keys(&answer["edges"][0]), ["from", "to", "amount"]);
    assert_eq!(answer["nodes"].as_array().unwrap().len(), small().nodes().len());
}

#[test]
fn a_difference_and_a_suspect() {
    let graph = blend();
    let (first, second) = (["C1", "C2", "C3"], ["C3", "C13"]);
    let difference = graph.between(first, second).unwrap();
    let shown = terminal::render(&difference_document(&first, &second, &difference), 120, Style::Plain);
    golden::check("trace/difference.txt", &shown);
    let suspect = suspect_document(&graph, "bottle B3, past its date", &["B3"]).unwrap();
    golden::check("trace/suspect.txt", &terminal::render(&suspect, 100, Style::Plain));
    assert!(suspect_document(&graph, "", &["B99"]).is_err());
}
