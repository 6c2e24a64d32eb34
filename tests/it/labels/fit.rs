//! What is on a label lies on it, and what is not on it is named.

use meltbook::caution::Scheme;
use meltbook::report::html::PageSize;
use meltbook::report::label::{
    LabelContent, LabelHazards, LabelStock, SignalWord, label_drawing, label_sheet,
};
use proptest::prelude::*;
use resvg::usvg::roxmltree::{Document as Xml, Node as Element};

use super::sample::{any_label, component_names, corrosive, everything, gallery, hazards, hazards_in, quiet};

fn number(element: &Element<'_, '_>, name: &str) -> f64 {
    element.attribute(name).unwrap().parse().unwrap()
}

/// All lines of text on a label, in order.
fn lines(svg: &str) -> Vec<String> {
    let xml = Xml::parse(svg).unwrap();
    let texts = xml.descendants().filter(|element| element.has_tag_name("text"));
    texts.map(|text| text.text().unwrap_or_default().to_owned()).collect()
}

fn on_label(label: &LabelContent, stock: LabelStock) -> (String, Vec<&'static str>) {
    let drawing = label_drawing(label, stock).unwrap();
    (lines(&drawing.svg).join(" "), drawing.left_off)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn every_line_lies_on_the_label(label in any_label(), stock in 0..3usize) {
        let stock = LabelStock::ALL[stock];
        let (wide, high) = stock.size_mm();
        let svg = label_drawing(&label, stock).unwrap().svg;
        let xml = Xml::parse(&svg).unwrap();
        let mut rows: Vec<(f64, f64, f64, f64)> = Vec::new();
        for text in xml.descendants().filter(|element| element.has_tag_name("text")) {
            let (x, y, size) = (number(&text, "x"), number(&text, "y"), number(&text, "font-size"));
            let end = x + number(&text, "textLength");
            // Small letters reach a fifth of the size below the line.
            prop_assert!(0.0 <= x && end <= wide + 1e-6, "{svg}");
            prop_assert!(0.0 <= y - 0.75 * size && y + 0.21 * size <= high, "{svg}");
            let apart = |&(left, right, top, low): &(f64, f64, f64, f64)| {
                end <= left || right <= x || y <= top || low <= y - 0.7 * size
            };
            prop_assert!(rows.iter().all(apart), "{svg}");
            rows.push((x, end, y - 0.7 * size, y));
        }
    }

    #[test]
    fn any_words_stay_words(label in any_label(), stock in 0..3usize) {
        let stock = LabelStock::ALL[stock];
        let drawing = label_drawing(&label, stock).unwrap();
        let xml = Xml::parse(&drawing.svg).unwrap();
        for element in xml.descendants().filter(Element::is_element) {
            prop_assert!(["svg", "title", "path", "text"].contains(&element.tag_name().name()));
        }
        let page = label_sheet(&[label], stock, PageSize::A4).unwrap();
        let outside = page.replace("http://www.w3.org/2000/svg", "");
        let tags: String = outside.split('<').skip(1).map(|tag| tag.split(['>', ' ']).next().unwrap_or("")).collect::<Vec<_>>().join(" ");
        for forbidden in ["script", "link", "img", "iframe", "a"] {
            prop_assert!(!tags.split(' ').any(|tag| tag == forbidden), "{}", tags);
        }
    }

    #[test]
    fn gravity_and_what_is_not_known_are_always_there(label in any_label(), stock in 0..3usize) {
        let (said, left_off) = on_label(&label, LabelStock::ALL[stock]);
        prop_assert!(said.contains(&label.code));
        if let Some(against) = &label.against {
            prop_assert!(said.contains(against.what.words()), "{}", said);
        }
        let hazards = &label.hazards;
        match hazards.signal_word {
            Some(word) => prop_assert!(said.contains(word.word())),
            None if hazards.are_not_known() => prop_assert!(said.contains("HAZARDS NOT KNOWN"), "{}", said),
            None => prop_assert!(said.contains("HAZARDS"), "{}", said),
        }
        if !hazards.not_known.is_empty() {
            prop_assert!(said.to_lowercase().contains("known"), "{}", said);
        }
        prop_assert_eq!(said.contains("more: "), !left_off.is_empty(), "{}", said);
    }
}

#[test]
fn a_bottle_has_room_for_all_of_a_simple_content() {
    let (said, left_off) = on_label(&quiet(), LabelStock::Bottle);
    assert_eq!(left_off, Vec::<&str>::new());
    for part in [
        "B12",
        "HAZARDS NOT KNOWN",
        "glycerol",
        "received 2025-10-20; use by 2027-10",
        "kl; dry",
        "Read the supplier's safety data sheet first",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn what_has_no_room_is_named() {
    let (said, left_off) = on_label(&corrosive(), LabelStock::Vial);
    assert!(said.contains("DANGER") && said.contains("H314"), "{said}");
    assert!(said.ends_with("read the SDS; more: fold-out"), "{said}");
    assert!(left_off.contains(&"texts of hazard statements") && left_off.contains(&"note"));
    for missing in [&"use-by date", &"hazard statements"] {
        assert!(!left_off.contains(missing), "{left_off:?}");
    }
}

#[test]
fn the_graver_word_and_the_gravest_statement_are_first() {
    // Zinc chloride is H314 and H302 (CLP Annex VI, index 030-003-00-2), ethylene glycol H302 (603-027-00-1).
    let mixed = hazards(&["ethylene-glycol", "zinc-chloride"]);
    assert_eq!(mixed.signal_word, Some(SignalWord::Danger));
    assert_eq!(mixed.statements[0].code, "H314");
    assert_eq!(mixed.statements.iter().filter(|statement| statement.code == "H302").count(), 1);
    assert!(mixed.of_components);
    assert_eq!(hazards(&["ethylene-glycol"]).signal_word, Some(SignalWord::Warning));
    assert!(LabelHazards::default().are_not_known() && hazards(&["glycerol"]).are_not_known());
}

#[test]
fn no_label_blesses() {
    let crowded = LabelContent::new("E1", "all").hazards(everything());
    for label in gallery().iter().chain([&crowded]) {
        for stock in LabelStock::ALL {
            let (said, _) = on_label(label, stock);
            let said = said.to_lowercase();
            for word in ["safe ", "harmless", "approved", "released", "no hazard", "non-hazardous"] {
                assert!(!said.contains(word), "{word}: {said}");
            }
            assert!(said.contains("sds") || said.contains("safety data sheet"));
        }
    }
}

#[test]
fn every_label_has_its_place_on_a_sheet() {
    for (stock, size, per_page) in [
        (LabelStock::Vial, PageSize::A4, 70),
        (LabelStock::Vial, PageSize::Letter, 65),
        (LabelStock::Bottle, PageSize::A4, 21),
        (LabelStock::Bottle, PageSize::Letter, 18),
        (LabelStock::CellSleeve, PageSize::A4, 76),
        (LabelStock::CellSleeve, PageSize::Letter, 72),
    ] {
        let labels: Vec<LabelContent> =
            (1..=per_page + 1).map(|cell| LabelContent::new(format!("C{cell}"), "")).collect();
        let page = label_sheet(&labels, stock, size).unwrap();
        let counts: Vec<usize> =
            page.split("</svg>").map(|page| page.matches("<title>Label ").count()).collect();
        assert_eq!(counts, [per_page, 1, 0], "{stock} {size:?}");
    }
    assert!(label_sheet(&[LabelContent::new("", "")], LabelStock::Vial, PageSize::A4).is_err());
}

/// The words of a page without its line breaks.
fn words(page: &str) -> String {
    let xml =
        page.split("<svg").skip(1).map(|svg| format!("<svg{}</svg>", svg.split("</svg>").next().unwrap()));
    let lines = xml.flat_map(|svg| lines(&svg)).collect::<Vec<_>>();
    lines.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Label and fold-out together carry all that the scheme asks for, whatever is in it and however small it is.
    #[test]
    fn nothing_that_is_asked_for_is_lost(
        chosen in proptest::sample::subsequence(component_names(), 1..5),
        scheme in proptest::sample::select(Scheme::ALL.to_vec()),
        capacity_ml in 1.0..4000.0f64,
        stock in 0..3usize,
    ) {
        let stock = LabelStock::ALL[stock];
        let names: Vec<&str> = chosen.iter().map(String::as_str).collect();
        let hazards = hazards_in(&names, scheme, capacity_ml);
        let label = LabelContent::new("E7", "any liquid").made("made", "2025-11-02").hazards(hazards.clone());
        let drawing = label_drawing(&label, stock).unwrap();
        let said = words(&label_sheet(&[label], stock, PageSize::A4).unwrap());
        for code in &hazards.pictograms {
            prop_assert!(drawing.needs_fold_out == said.contains("fold-out of the label"), "{}", said);
            prop_assert!(!drawing.needs_fold_out || said.contains(code.as_str()), "{code}: {}", said);
        }
        for known in &hazards.statements {
            prop_assert!(said.contains(&format!("{} {}", known.code, known.text.trim_end_matches('.'))), "{}", said);
        }
        for known in hazards.precautions.iter().map(|known| &known.text).chain(&hazards.supplements) {
            prop_assert!(said.contains(known.as_str()), "{known}: {}", said);
        }
        for name in &hazards.not_known {
            let may_be_the_name = hazards.are_not_known();
            prop_assert!(may_be_the_name || said.contains(name.as_str()), "{name}: {}", said);
        }
    }
}

/// CLP Article 28(3) (from memory) names six; the other schemes no number.
#[test]
fn the_scheme_decides_how_many_precautions_there_are() {
    let count = |scheme| hazards_in(&["zinc-chloride"], scheme, 500.0).precautions.len();
    assert_eq!(count(Scheme::Clp), 6);
    assert!(6 < count(Scheme::Ghs) && 6 < count(Scheme::Hcs));
}
