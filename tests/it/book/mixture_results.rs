//! Results of the book for `mixture fit`: which batches count, and what is said of those that don't.

use serde_json::Value;

use super::bench::Bench;
use crate::run::envelope;

const FIT: [&str; 9] =
    ["mixture", "fit", "--part", "ChCl,EG", "--property", "conductivity", "--model", "linear", "--seed"];

/// Four batches with a conductivity at 25 °C, of which one is rejected and one not finished.
fn bench() -> Bench {
    let bench = Bench::new();
    let batches = [
        ("16", "24", "7.2"),
        ("20", "20", "6.1"),
        ("24", "16", "4.9"),
        ("18", "22", "6.7"),
        ("22", "18", "5.4"),
    ];
    for (at, (chloride, glycol, conductivity)) in batches.into_iter().enumerate() {
        let code = format!("E{}", at + 1);
        bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "40 g"], 0);
        for (component, grams) in [("ChCl", chloride), ("EG", glycol)] {
            let mass = format!("{grams} g");
            bench.said(&["batch", "weigh", &code, component, &mass, "--because", "on purpose"], 0);
        }
        if code != "E5" {
            bench.said(&["batch", "finish", &code, "--because", "on purpose"], 0);
        }
        let value = format!("{conductivity} mS/cm");
        bench.said(&["batch", "measure", &code, "conductivity", &value, "--at", "25 °C"], 0);
    }
    bench.said(&["batch", "reject", "E4", "--because", "turbid"], 0);
    bench
}

fn fit(bench: &Bench, more: &[&str]) -> (u64, Vec<String>) {
    let all = [&FIT[..], &["7"], more, &["--format", "json"]].concat();
    let whole: Value = envelope(&bench.said(&all, 0));
    let warnings = whole["warnings"].as_array().expect("a list").iter();
    let own = warnings.filter(|own| own["code"] == "batches_left_out");
    let messages = own.map(|own| own["message"].as_str().expect("a text").to_owned()).collect();
    (whole["answer"]["n"].as_u64().expect("a number"), messages)
}

#[test]
fn rejected_and_unfinished_batches_are_left_out_and_named() {
    let bench = bench();
    let rejected = "left out: E4: rejected; --also rejected takes them in".to_owned();
    let started = "left out: E5: not finished; --also started takes them in".to_owned();
    assert_eq!(fit(&bench, &[]), (3, vec![rejected.clone(), started.clone()]));
    assert_eq!(fit(&bench, &["--also", "rejected"]), (4, vec![started]));
    assert_eq!(fit(&bench, &["--also", "started"]), (4, vec![rejected.clone()]));
    assert_eq!(fit(&bench, &["--also", "rejected", "--also", "started"]), (5, Vec::new()));
    // Named one by one they are left out just the same.
    assert_eq!(fit(&bench, &["--batches", "E1..E4"]), (3, vec![rejected]));
    let shown = bench.said(&[&FIT[..], &["7"]].concat(), 0);
    assert!(shown.contains("left out: E4: rejected; --also rejected takes them in"), "{shown}");
    let refusal = bench.refused(&[&FIT[..], &["7", "--batches", "E4"]].concat(), "no_results");
    assert!(refusal.contains("left out: E4: rejected"), "{refusal}");
}

/// A batch of another liquid is not pure choline chloride for holding no glycol: it is left out and said to be.
#[test]
fn other_liquids_are_left_out() {
    let bench = bench();
    bench.said(&["batch", "start", "ChCl:glycerol 1:2", "--mass", "40 g"], 0);
    for (component, mass) in [("ChCl", "17 g"), ("glycerol", "23 g")] {
        bench.said(&["batch", "weigh", "E6", component, mass, "--because", "on purpose"], 0);
    }
    bench.said(&["batch", "finish", "E6", "--because", "on purpose"], 0);
    bench.said(&["batch", "measure", "E6", "conductivity", "1.1 mS/cm", "--at", "25 °C"], 0);
    let (n, messages) = fit(&bench, &[]);
    assert_eq!(n, 3);
    let own = messages.iter().find(|own| own.starts_with("left out: E6: more than 5 % of the moles"));
    assert!(own.is_some_and(|own| own.contains("(glycerol)") && own.contains("--part")), "{messages:?}");
    let refusal = bench.refused(&[&FIT[..], &["7", "--batches", "E6"]].concat(), "no_results");
    assert!(refusal.contains("left out: E6: more than 5 %"), "{refusal}");
    let both = ["--batches", "E1", "--batches", "E6", "--property", "conductivity", "--model", "linear"];
    let named =
        [&["mixture", "fit", "--part", "ChCl,EG,glycerol"], &both[..], &["--format", "json"]].concat();
    assert_eq!(envelope(&bench.said(&named, 1))["answer"]["n"], 2);
}
