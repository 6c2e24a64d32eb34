//! What a trace shows, kept whole.

use meltbook::record::graph::{
    Contrast, Feature, FeatureKind, Handled, NodeKind, Profile, Suspect, Suspicion, TraceGraph,
};
use meltbook::report::answer::{difference_answer, suspect_answer, trace_answer};
use meltbook::report::html::{self, PageSize};
use meltbook::report::terminal::{self, Style};
use meltbook::report::view::{
    difference_document, difference_table, suspect_document, suspect_table, trace_document, trace_page,
    trace_table,
};
use meltbook::report::{csv, envelope, markdown};

use super::sample::{blend, large, many_cells, small};
use crate::golden;

#[test]
fn trees() {
    for (name, graph) in
        [("small", small()), ("many-cells", many_cells()), ("blend", blend()), ("large", large())]
    {
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
    golden::check("trace/difference.json", &json("trace", difference_answer(&difference, &contrast())));
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

/// Three cells of AB against two, of which one was built by CD with another dose.
fn contrast() -> Contrast {
    let feature = |what, value: &str| Feature { what, value: value.to_owned() };
    let profile = |author: &str, dose| {
        let features = vec![feature(FeatureKind::Design, "zinc cell"), feature(FeatureKind::Author, author)];
        Profile { features, doses: vec![(NodeKind::Electrolyte, dose)] }.sorted()
    };
    Contrast::between(
        &[profile("AB", 1.2), profile("AB", 1.21), profile("AB", 1.19)],
        &[profile("AB", 1.2), profile("CD", 1.0)],
    )
}

#[test]
fn a_difference() {
    let (graph, contrast) = (blend(), contrast());
    let (first, second) = (["C1", "C2", "C3"], ["C3", "C13"]);
    let difference = graph.between(first, second).unwrap();
    let document = difference_document(&first, &second, &difference, &contrast);
    golden::check("trace/difference.txt", &terminal::render(&document, 120, Style::Plain));
    golden::check("trace/difference.csv", &csv::render(&difference_table(&difference, &contrast)).unwrap());
}

/// A suspect that has to do with these codes.
fn suspicion(suspect: Suspect, handled: &[(&str, &str, bool)], graph: TraceGraph) -> Suspicion {
    let handled = handled.iter().map(|(code, what, spreads)| Handled {
        code: (*code).to_owned(),
        what: (*what).to_owned(),
        spreads: *spreads,
    });
    Suspicion { suspect, handled: handled.collect(), graph }
}

#[test]
fn a_suspect() {
    let bottle = suspicion(Suspect::Code("B3".parse().unwrap()), &[("B3", "", true)], blend());
    let shown = terminal::render(&suspect_document(&bottle).unwrap(), 100, Style::Plain);
    golden::check("trace/suspect.txt", &shown);
    golden::check("trace/suspect.csv", &csv::render(&suspect_table(&bottle).unwrap()).unwrap());
    let meter = suspicion(Suspect::Instrument("DMM-1".to_owned()), &[("R1", "read", false)], small());
    let shown = terminal::render(&suspect_document(&meter).unwrap(), 100, Style::Plain);
    golden::check("trace/suspect-meter.txt", &shown);
    let large = suspicion(Suspect::Code("B1".parse().unwrap()), &[("B1", "", true)], large());
    let shown = terminal::render(&suspect_document(&large).unwrap(), 100, Style::Plain);
    golden::check("trace/suspect-large.txt", &shown);
    assert!(
        suspect_document(&suspicion(Suspect::Lot("K1".to_owned()), &[("B99", "", true)], blend())).is_err()
    );
}

/// What was looked at once does not pass that on to what is made of it.
#[test]
fn only_what_spreads_goes_on() {
    let of = |spreads| {
        let found = suspicion(Suspect::Author("AB".to_owned()), &[("B7", "weighed back", spreads)], blend());
        suspect_answer(&found).unwrap()["touched"].as_array().unwrap().len()
    };
    // B7; with it E4 and E5, E6 of E4, and the fifteen cells of E4 and E6.
    assert_eq!((of(false), of(true)), (1, 1 + 3 + 15));
}
