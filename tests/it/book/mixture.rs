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
