//! What a batch can't take, and what it takes only with a reason.

use super::bench::Bench;

#[test]
fn bottles_past_their_date_or_gone_need_a_reason() {
    let bench = Bench::new();
    bench.bottle("ChCl", &["--expires", "2026-11-24"]);
    bench.bottle("EG", &["--expires", "2026-11-25"]);
    let start = ["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--bottle", "B1"];
    let refusal = bench.refused(&start, "needs_reason");
    assert!(refusal.contains("B1 is past its date, 2026-11-24"), "{refusal}");
    let mut all = start.to_vec();
    all.extend(["--because", "assayed again"]);
    bench.said(&all, 0);
    bench.refused(&["batch", "weigh", "E1", "ChCl", "31.76 g"], "needs_reason");
    bench.said(&["batch", "weigh", "E1", "ChCl", "31.76 g", "--because", "assayed again"], 0);
    // The last day itself is within its date.
    bench.said(&["batch", "weigh", "E1", "EG", "10 g", "--from", "B2"], 0);
    bench.said(&["bottle", "dispose", "B2", "--because", "leaks"], 0);
    let gone = bench.refused(&["batch", "weigh", "E1", "EG", "10 g", "--from", "B2"], "needs_reason");
    assert!(gone.contains("B2 was disposed of"), "{gone}");
    bench.verify();
}

#[test]
fn no_bottle_gives_more_than_it_holds() {
    let bench = Bench::new();
    bench.said(&["bottle", "receive", "ChCl", "--net", "10 g"], 0);
    let start = ["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--bottle", "B1"];
    bench.said(&start, 0);
    let refusal = bench.refused(&["batch", "weigh", "E1", "ChCl", "10.001 g"], "needs_reason");
    assert!(refusal.contains("B1 holds 10.0000 g"), "{refusal}");
    bench.said(&["batch", "weigh", "E1", "ChCl", "10 g"], 0);
    let empty = bench.refused(&["batch", "weigh", "E1", "ChCl", "1 g"], "needs_reason");
    assert!(empty.contains("B1 is empty"), "{empty}");
    bench
        .said(&["batch", "weigh", "E1", "ChCl", "0.5 g", "--because", "it held more than its label says"], 0);
    bench.verify();
}

#[test]
fn what_can_not_be_is_refused() {
    let bench = Bench::new();
    bench.bottle("urea", &[]);
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g"], 0);
    let refusal = bench.refused(&["batch", "weigh", "E1", "urea", "1 g"], "not_in_plan");
    assert!(refusal.contains("batch add E1"), "{refusal}");
    bench.refused(&["batch", "weigh", "E1", "ChCl", "1 g", "--from", "B1"], "refused");
    bench.refused(&["batch", "weigh", "E2", "ChCl", "1 g"], "unknown_code");
    bench.refused(&["batch", "weigh", "B1", "ChCl", "1 g"], "wrong_kind");
    bench.refused(&["batch", "weigh", "E1", "ChCl"], "mass_unclear");
    bench.refused(&["batch", "weigh", "E1", "ChCl", "--gross", "10 g", "--tare", "10 g"], "no_net_mass");
    bench.refused(&["batch", "finish", "E1"], "refused");
    bench.refused(&["batch", "release", "E1", "--because", "in haste"], "refused");
    bench.refused(&["batch", "waste", "E1", "1 g", "--because", "nothing is there"], "refused");
    bench.said(&["batch", "add", "E1", "--component", "urea", "1 g", "--from", "B1"], 0);
    bench.refused(&["batch", "finish", "E1", "--mass", "1.1 g"], "needs_reason");
    bench.said(&["batch", "finish", "E1", "--mass", "1.1 g", "--because", "water from the air"], 0);
    bench.refused(&["batch", "finish", "E1"], "refused");
    bench.refused(&["batch", "weigh", "E1", "ChCl", "1 g"], "refused");
    bench.refused(&["batch", "water", "E1", "--sample", "2 g", "--found", "1 mg"], "refused");
    bench.refused(&["batch", "water", "E1", "--sample", "0.2 g"], "unpaired");
    bench.refused(&["batch", "water", "E1"], "no_result");
    bench.refused(&["batch", "measure", "E1", "colour", "1"], "unknown_property");
    bench.verify();
}

/// Perchlorate with an organic liquid: only by a named written procedure, and to dryness never.
#[test]
fn alerts_that_block_act_on_start() {
    let bench = Bench::new();
    let start = ["batch", "start", "sodium-perchlorate:EG 1:8", "--mass", "10 g"];
    bench.refused(&start, "needs_procedure");
    let mut permitted = start.to_vec();
    permitted.extend(["--procedure", "P-7, wet perchlorate", "--responsible", "C. Doe"]);
    let begun = bench.json(&permitted, 0);
    assert_eq!(begun["permit"]["procedure"], "P-7, wet perchlorate");
    assert_eq!(begun["permit"]["person"], "C. Doe");
    assert!(begun["permit"]["alerts"].as_array().is_some_and(|alerts| alerts.contains(&"CLO4-EVAP".into())));
    let screen = bench.said(&["batch", "show", "E1"], 0);
    assert!(screen.contains("P-7, wet perchlorate, responsible C. Doe"), "{screen}");
    let mut dry = permitted.clone();
    dry.push("--to-dryness");
    bench.refused(&dry, "never_done");
}
