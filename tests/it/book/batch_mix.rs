//! Batches out of other batches, and bottles that are not as planned.

use approx::assert_relative_eq;

use super::bench::{Bench, line_of, number, reconciles};

/// A stock solution of zinc chloride in ethylene glycol counts for both in the batch that it goes into: by the
/// mass fractions 0.2 and 0.8 of 5 g of it.
#[test]
fn a_stock_solution_counts_for_what_it_brings() {
    let bench = Bench::new();
    bench.said(&["batch", "start", "ZnCl2:EG 1:4 by mass", "--mass", "50 g", "--stock-solution"], 0);
    bench.said(&["batch", "weigh", "S1", "ZnCl2", "10 g"], 0);
    bench.said(&["batch", "weigh", "S1", "EG", "40 g"], 0);
    bench.said(&["batch", "finish", "S1"], 0);
    let recipe = "ChCl:EG 1:2 + 1 wt% ZnCl2";
    let before = bench.json(&["batch", "start", recipe, "--mass", "100 g"], 0);
    let after = bench.json(&["batch", "add", "E1", "--batch", "S1", "5 g"], 0);
    let rest = |answer: &serde_json::Value, id: &str| number(&line_of(answer, id)["add_g"]);
    assert_relative_eq!(rest(&before, "zinc-chloride"), 1.0, max_relative = 1e-9);
    assert!(rest(&after, "zinc-chloride") < 1e-9, "5 g of it hold 1 g");
    let spared = rest(&before, "ethylene-glycol") - rest(&after, "ethylene-glycol");
    assert_relative_eq!(spared, 4.0, max_relative = 1e-9);
    let stock = bench.json(&["batch", "show", "S1"], 0);
    assert_eq!((number(&stock["dispensed_g"]), number(&stock["left_g"])), (5.0, 45.0));
    reconciles(&stock);
    let more = bench.refused(&["batch", "add", "E1", "--batch", "S1", "50 g"], "needs_reason");
    assert!(more.contains("S1 holds 45.0000 g"), "{more}");
    bench.refused(&["batch", "add", "E1", "--batch", "E1", "1 g"], "refused");
    bench.verify();
}

/// A bottle of half the assay counts half: what is weighed out of it is reckoned in what was planned.
#[test]
fn another_bottle_counts_by_its_own_quality() {
    let bench = Bench::new();
    bench.bottle("ChCl", &[]);
    bench.bottle("ChCl assay=50% basis=as-is", &[]);
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--bottle", "B1"], 0);
    let weighed = bench.json(&["batch", "weigh", "E1", "ChCl", "20 g", "--from", "B2"], 0);
    let line = line_of(&weighed, "choline-chloride");
    assert_eq!((&line["bottle"], number(&line["actual_g"])), (&"B2".into(), 20.0));
    let target = number(&line["target_g"]);
    assert_relative_eq!(number(&line["add_g"]), target - 10.0, max_relative = 1e-9);
}

/// Some is taken out before more goes in: what goes in meets only what was left.
#[test]
fn what_was_taken_out_is_out() {
    let bench = Bench::new();
    bench.said(&["batch", "start", "ChCl:EG 1:1 by mass", "--mass", "40 g"], 0);
    bench.said(&["batch", "weigh", "M1", "ChCl", "20 g"], 0);
    bench.said(&["batch", "weigh", "M1", "EG", "20 g"], 0);
    bench.said(&["batch", "finish", "M1"], 0);
    bench.said(&["batch", "waste", "M1", "20 g", "--because", "half of it dropped"], 0);
    let added = bench.json(&["batch", "add", "M1", "--component", "EG", "10 g"], 0);
    // 10 g of each were left, and 10 g more of one came.
    assert_relative_eq!(number(&added["ratio"]["ethylene-glycol"]), 2.0, max_relative = 1e-12);
    let watered = bench.json(&["batch", "add", "M1", "--component", "water", "10 g"], 0);
    assert_relative_eq!(number(&watered["water"]["now_wt_pct"]), 25.0, max_relative = 1e-12);
    reconciles(&watered);
}

/// The gain in mass on standing is taken as water: 0.5 g in 50.5 g of a dry batch.
#[test]
fn water_by_gain_in_mass() {
    let bench = Bench::new();
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "50 g"], 0);
    bench.said(&["batch", "weigh", "E1", "EG", "50 g"], 0);
    let gained = bench.json(&["batch", "water", "E1", "--before", "50.0 g", "--after", "50.5 g"], 0);
    assert_relative_eq!(
        number(&gained["measurement"]["water_wt_pct"]),
        0.5 / 50.5 * 100.0,
        max_relative = 1e-4
    );
    assert_eq!(gained["measurement"]["method"], "gain in mass on standing");
}
