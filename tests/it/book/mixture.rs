//! Cautions of what is in a book: a batch as it is, by the scheme of the book, and the shelf.

use crate::book::lab::{Lab, START};
use crate::golden;

/// A book whose settings name CLP, with a batch that is half weighed.
fn lab() -> Lab {
    let lab = Lab::new();
    let settings = lab.path().join("meltbook.toml");
    let text = std::fs::read_to_string(&settings).unwrap();
    std::fs::write(&settings, text.replace("# scheme = \"ghs\"", "scheme = \"clp\"")).unwrap();
    for (component, net) in [("ChCl", "100 g"), ("EG", "200 g"), ("ZnCl2", "50 g"), ("KOH", "50 g")] {
        lab.answer(START, &["bottle", "receive", component, "--net", net], 0);
    }
    let recipe = "ChCl:EG 1:2 + 0.5 mol/kg ZnCl2";
    lab.answer(START, &["batch", "start", recipe, "--mass", "60 g", "--bottle", "B1", "--bottle", "B2"], 0);
    lab
}

#[test]
fn a_batch_is_classified_by_what_is_in_it() {
    let lab = lab();
    let empty = lab.json(START, &["cautions", "E1"]);
    assert_eq!((empty["scheme"].as_str(), &empty["mixture"]), (Some("clp"), &serde_json::Value::Null));
    let codes: Vec<&str> =
        empty["components"].as_array().unwrap().iter().filter_map(|c| c["component"].as_str()).collect();
    assert_eq!(codes, ["choline-chloride", "ethylene-glycol", "zinc-chloride"]);
    lab.answer(START, &["batch", "weigh", "E1", "ChCl", "29.8 g"], 0);
    lab.answer(START, &["batch", "weigh", "E1", "EG", "26.5 g"], 0);
    let without = lab.json(START, &["cautions", "E1"]);
    assert_eq!(without["mixture"]["h_codes"], serde_json::json!(["H302"]));
    lab.answer(START, &["batch", "weigh", "E1", "ZnCl2", "3.83 g"], 0);
    let with = lab.json(START, &["cautions", "E1"]);
    assert_eq!(with["mixture"]["scheme"], "clp");
    assert_eq!(with["mixture"]["signal_word"], "Danger");
    assert!(with["mixture"]["h_codes"].as_array().unwrap().contains(&serde_json::json!("H314")));
    let other = lab.json(START, &["cautions", "E1", "--scheme", "hcs"]);
    assert_eq!(other["mixture"]["scheme"], "hcs");
    assert!(!other["mixture"]["h_codes"].as_array().unwrap().contains(&serde_json::json!("H411")));
    let shown = lab.answer(START, &["batch", "show", "E1"], 0);
    assert!(shown.contains("H314"), "{shown}");
}

#[test]
fn the_shelf_is_looked_over() {
    let lab = lab();
    golden::check_all(&[(
        "cli/cautions-shelf.txt".to_owned(),
        lab.answer(START, &["cautions", "--shelf"], 0),
    )]);
    let shelf = lab.json(START, &["cautions", "--shelf", "--scheme", "ghs"]);
    assert_eq!(shelf["scheme"], "ghs");
    assert_eq!(shelf["bottles"].as_array().unwrap().len(), 4);
    assert!(shelf["apart"].as_array().unwrap().iter().any(|apart| apart["id"] == "MACID-BASE"));
    let bottle = lab.json(START, &["cautions", "B3"]);
    assert_eq!(bottle["components"][0]["component"], "zinc-chloride");
    assert_eq!(bottle["mixture"], serde_json::Value::Null);
}

/// CLP Annex I, 3.2.3.1.2: of a pH at one of the ends the mixture counts as corrosive until other data say otherwise. A
/// label that left that out would say less than the cautions do.
#[test]
fn what_is_presumed_of_an_acid_stands_on_its_label() {
    let lab = Lab::new();
    for component in ["ChCl", "oxalic-acid"] {
        lab.answer(START, &["bottle", "receive", component, "--net", "100 g"], 0);
    }
    let start =
        ["batch", "start", "ChCl:oxalic-acid 1:1", "--mass", "30 g", "--bottle", "B1", "--bottle", "B2"];
    lab.answer(START, &start, 0);
    lab.answer(START, &["batch", "weigh", "E1", "ChCl", "18.24 g"], 0);
    lab.answer(START, &["batch", "weigh", "E1", "oxalic-acid", "11.76 g"], 0);
    let precautions = lab.answer(START, &["cautions", "E1"], 0);
    assert!(precautions.contains("P280") && precautions.contains("Danger as presumed"), "{precautions}");
    for stock in ["vial", "bottle"] {
        let shown = lab.answer(START, &["label", "E1", "--on", stock], 0);
        assert!(shown.contains("DANGER") && shown.contains("H314 presumed"), "{shown}");
        let page = lab.answer(START, &["label", "E1", "--on", stock, "--format", "html"], 0);
        let words = page.split('<').filter_map(|part| part.split_once('>')).map(|(_, text)| text);
        let words = words.filter(|text| !text.is_empty()).collect::<Vec<_>>().join(" ");
        assert!(words.contains("DANGER") && words.contains("H314 presumed"), "{words}");
    }
}

#[test]
fn a_bottle_that_gained_a_multiple_is_told() {
    let lab = lab();
    let plausible = lab.answer(START, &["bottle", "weigh", "B1", "103 g"], 0);
    assert!(!plausible.contains("slip"), "{plausible}");
    let odd = lab.json(START, &["bottle", "weigh", "B1", "900 g"]);
    assert_eq!(odd["left_g"], 900.0);
    assert!(lab.answer(START, &["bottle", "weigh", "B1", "900 g"], 0).contains("came with 100.00 g"));
}
