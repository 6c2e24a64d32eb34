//! A batch from its first gram to its release.

use approx::assert_relative_eq;
use meltbook::book::Stamp;
use meltbook::quantity::Typed;
use meltbook::record::Event;
use meltbook::record::life::PutIn;
use serde_json::Value;

use super::bench::{Bench, LIMITED, line_of, number, reconciles};
use crate::reference::worked_case::case;

/// Start, weigh in odd order with an overshoot, finish, titrate, add water to a target, look, measure, release.
#[test]
fn from_the_first_gram_to_release() {
    let mut bench = Bench::new();
    bench.write("recipes/limited.toml", LIMITED);
    bench.bottle("ChCl assay=99% basis=dried moisture=0.5%", &[]);
    bench.bottle("EG", &[]);
    let begun =
        bench.json(&["batch", "start", "limited", "--mass", "60 g", "--bottle", "B1", "--bottle", "B2"], 0);
    assert_eq!((&begun["code"], &begun["status"]), (&"E1".into(), &"started".into()));
    assert!(begun["cautions"]["alerts"].is_array());
    let target = number(&line_of(&begun, "ethylene-glycol")["target_g"]);

    // The second component first, and too much of it.
    let first = bench.json(&["batch", "weigh", "E1", "EG", "29.000 g", "--from", "B2"], 0);
    assert_eq!(first["weighing"]["in_window"], false);
    assert_eq!(number(&first["weighing"]["bottle_left_g"]), 471.0);
    assert!(first["ratio"].is_null(), "nothing of the first part is in");
    let rest = number(&line_of(&first, "choline-chloride")["add_g"]);
    let planned = number(&line_of(&first, "choline-chloride")["target_g"]);
    assert_relative_eq!(rest / planned, 29.0 / target, max_relative = 1e-12);
    let gross = format!("{:.3} g", 100.0 + rest);
    let second = bench.json(
        &[
            "batch",
            "weigh",
            "E1",
            "ChCl",
            "--gross",
            &gross,
            "--tare",
            "100 g",
            "--humidity",
            "45%",
            "--open",
            "3 min",
        ],
        0,
    );
    assert_eq!(second["weighing"]["in_window"], true);
    assert_eq!(second["weighing"]["bottle"], "B1", "the planned bottle, since no other was named");
    assert_relative_eq!(number(&second["ratio"]["ethylene-glycol"]), 2.0, max_relative = 1e-4);
    assert!(0.0 < number(&second["ratio_uncertainty"]["ethylene-glycol"]));

    let put_in = number(&second["put_in_g"]);
    let yielded = format!("{:.3} g", put_in - 0.2);
    let finish = [
        "batch", "finish", "E1", "--route", "stirred", "--heat", "70 °C", "--for", "1 h", "--mass", &yielded,
    ];
    let finished = bench.json(&finish, 0);
    assert_eq!(finished["status"], "finished");
    assert_relative_eq!(number(&finished["lost_g"]), 0.2, max_relative = 1e-2);

    let titrated =
        bench.json(&["batch", "water", "E1", "--method", "Karl Fischer", "--result", "0.42 wt%"], 0);
    assert_relative_eq!(number(&titrated["measurement"]["water_wt_pct"]), 0.42, max_relative = 1e-12);
    assert!(number(&titrated["measurement"]["predicted_wt_pct"]) < 0.42);
    let advice = bench.json(&["batch", "add", "E1", "--to-water", "5 wt%"], 0);
    let left = number(&advice["left_g"]);
    let water = number(&advice["add"][0]["weigh_g"]);
    assert_relative_eq!(water, left * (0.05 - 0.0042) / 0.95, max_relative = 1e-9);
    let watered = bench.json(&["batch", "add", "E1", "--component", "water", &format!("{water} g")], 0);
    assert_relative_eq!(number(&watered["water"]["now_wt_pct"]), 5.0, max_relative = 1e-9);
    assert_eq!(watered["water"]["now_by"], "measured");
    assert_eq!(line_of(&watered, "water")["actual_g"], water);

    let refusal = bench.refused(&["batch", "release", "E1"], "needs_reason");
    assert!(
        refusal.contains("density: not measured") && refusal.contains("appearance: not looked at"),
        "{refusal}"
    );
    bench.at("2026-11-26T09:30:00Z");
    bench.write("vial.png", "no picture, but a file");
    let look =
        ["batch", "appearance", "E1", "--clarity", "Clear", "--crystals", "none", "--picture", "vial.png"];
    let looked = bench.json(&look, 0);
    assert_eq!(looked["appearance"][0]["occasion"], "24 h", "the look that is due");
    let picture = looked["appearance"][0]["picture"].as_str().expect("a hash").to_owned();
    assert!(bench.path().join("files").join(picture).is_file());
    bench.json(&["batch", "measure", "E1", "density", "1.10 g/mL", "--at", "25 °C"], 0);
    let released = bench.json(&["batch", "release", "E1"], 0);
    assert_eq!(released["status"], "released");
    let basis: Vec<&str> =
        released["released"]["basis"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
    assert_eq!(basis.len(), 5, "{basis:?}");
    assert!(basis.iter().all(|sentence| sentence.ends_with(": met")), "{basis:?}");

    let screen = bench.said(&["batch", "show", "E1"], 0);
    assert!(screen.contains("released: meets its recipe's limits"), "{screen}");
    for word in ["safe", "approved", "harmless"] {
        assert!(!screen.to_lowercase().replace("safety data sheet", "").contains(word), "{word}");
    }
    reconciles(&bench.json(&["batch", "show", "E1"], 0));
    bench.verify();
}

/// The promised keys.
#[test]
fn a_batch_has_its_keys() {
    let bench = Bench::new();
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g"], 0);
    let show = bench.json(&["batch", "show", "E1"], 0);
    for key in [
        "code",
        "status",
        "lines",
        "ratio",
        "ratio_uncertainty",
        "total_g",
        "dispensed_g",
        "wasted_g",
        "left_g",
    ] {
        assert!(show.get(key).is_some(), "{key}");
    }
    for line in show["lines"].as_array().expect("a list") {
        for key in ["component", "bottle", "target_g", "actual_g", "add_g"] {
            assert!(line.get(key).is_some(), "{key}");
        }
        assert!(line["actual_g"].is_null(), "nothing is weighed yet");
    }
    assert_eq!(bench.json(&["batch", "list"], 0).as_array().map(Vec::len), Some(1));
}

/// W09 of the worked examples: 32.48 g of the first component instead of 31.76 g.
#[test]
fn an_overshoot_targets_the_rest_again() {
    let case = case("W09");
    let bench = Bench::new();
    let mass = format!("{} g", case.input("planned_batch_g"));
    let begun = bench.json(&["batch", "start", &case.mixture("ratio"), "--mass", &mass], 0);
    case.check("planned_ChCl_g", number(&line_of(&begun, "choline-chloride")["target_g"]));
    let planned = number(&line_of(&begun, "ethylene-glycol")["target_g"]);
    case.check("planned_EG_g", planned);
    let weighed = bench.json(&["batch", "weigh", "E1", "ChCl", "32.480 g"], 0);
    let rest = number(&line_of(&weighed, "ethylene-glycol")["add_g"]);
    case.check("new_EG_g", rest);
    assert_eq!(weighed["weighing"]["in_window"], false);
    let screen = bench.said(&["batch", "show", "E1"], 0);
    assert!(screen.contains("28.877"), "{screen}");
    // Left as planned, the ratio is what the example says.
    let kept = bench.json(&["batch", "weigh", "E1", "EG", &format!("{planned} g")], 0);
    case.check("mol_EG_per_ChCl_if_EG_left_as_planned", number(&kept["ratio"]["ethylene-glycol"]));
}

/// W18 of the worked examples: 800 µg in 0.2500 g, and 30 µg that the cell takes up in three minutes.
#[test]
fn a_titration_with_its_drift() {
    let case = case("W18");
    let bench = Bench::new();
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g"], 0);
    bench.said(&["batch", "weigh", "E1", "ChCl", "31.761 g"], 0);
    let (sample, minutes) =
        (format!("{:.4} g", case.input("sample_g")), format!("{} min", case.input("minutes")));
    let drift = format!("{} µg/min", case.input("drift_ug_per_min"));
    let titrate = ["batch", "water", "E1", "--sample", &sample, "--found", "830 µg"];
    let apparent = bench.json(&titrate, 0);
    case.check("apparent_ppm_without_drift_correction", number(&apparent["measurement"]["water_ppm"]));
    let mut all = titrate.to_vec();
    all.extend(["--drift", &drift, "--ran", &minutes]);
    let corrected = bench.json(&all, 0);
    let ppm = case.input("water_ppm");
    assert_relative_eq!(number(&corrected["measurement"]["water_ppm"]), ppm, max_relative = 1e-9);
    let expected = format!("{ppm} ppm");
    let advice = bench.json(&["batch", "water", "E1", "--advise", "--expected", &expected], 0);
    case.check("sample_g_for_1_mg_water", number(&advice["coulometric"]["sample_g"]));
    case.check("charge_C_per_mg_water", number(&advice["coulometric"]["charge_c"]));
    assert_eq!(advice["method"], "volumetric");
    // What was titrated is gone.
    let show = bench.json(&["batch", "show", "E1"], 0);
    assert_relative_eq!(number(&show["sampled_g"]), 0.5, max_relative = 1e-12);
    reconciles(&show);
}

/// W10 of the worked examples: 80 g at 0.42 wt% to 5 wt% of the final batch.
#[test]
fn water_is_added_to_a_target() {
    let case = case("W10");
    let bench = Bench::new();
    bench.said(&["batch", "start", &case.mixture("DES"), "--mass", "80 g"], 0);
    for (component, id) in [("ChCl", "choline-chloride"), ("urea", "urea")] {
        let show = bench.json(&["batch", "show", "E1"], 0);
        let target = format!("{} g", number(&line_of(&show, id)["target_g"]));
        bench.said(&["batch", "weigh", "E1", component, &target], 0);
    }
    bench.said(&["batch", "finish", "E1", "--mass", "80 g"], 0);
    bench.said(&["batch", "water", "E1", "--result", "0.42 wt%"], 0);
    let advice = bench.json(&["batch", "add", "E1", "--to-water", "5 wt%"], 0);
    case.check("water_to_add_g", number(&advice["add"][0]["weigh_g"]));
    case.check("final_batch_g", number(&advice["batch_g"]));
    let wetter = bench.json(&["batch", "add", "E1", "--to-water", "0.1 wt%"], 1);
    assert!(0.0 < number(&wetter["dry_first_g"]));
}

/// A corrected mass changes ratio, rest and bottle as if it had been right at first.
#[test]
fn a_correction_changes_all_that_came_of_it() {
    let bench = Bench::new();
    bench.bottle("ChCl", &[]);
    let start = ["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--bottle", "B1"];
    bench.said(&start, 0);
    bench.said(&["batch", "weigh", "E1", "ChCl", "34.280 g", "--from", "B1"], 0);
    let mut book = bench.book();
    let life = meltbook::book::batch(&book, &"E1".parse().unwrap()).unwrap();
    let put = life.put_in[0].clone();
    let PutIn::Component(mut weighed) = put.what else { panic!("a component went in") };
    weighed.mass = Typed::parse("32.480 g").unwrap();
    let stamp = Stamp { author: "CD".to_owned(), time: "2026-11-25T10:00:00.000Z".to_owned() };
    let event = Event::BatchWeighed(weighed);
    book.write(&stamp, |writer| writer.correct(put.entry, &event, "digits swapped")).unwrap();
    drop(book);
    let corrected = bench.json(&["batch", "show", "E1"], 0);
    assert_eq!(line_of(&corrected, "choline-chloride")["actual_g"], 32.48);
    case("W09").check("new_EG_g", number(&line_of(&corrected, "ethylene-glycol")["add_g"]));
    assert_eq!(bench.json(&["bottle", "show", "B1"], 0)["left_g"], 467.52);
    bench.verify();
}

/// Waste, what is left, and what weighing back finds.
#[test]
fn every_gram_is_accounted_for() {
    let bench = Bench::new();
    bench.said(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g"], 0);
    bench.said(&["batch", "weigh", "E1", "ChCl", "31.76 g"], 0);
    bench.said(&["batch", "weigh", "E1", "EG", "--before", "200.00 g", "--after", "171.76 g"], 0);
    bench.said(&["batch", "finish", "E1"], 0);
    bench.said(&["batch", "waste", "E1", "2.1 g", "--because", "spilt"], 0);
    let weighed = bench.json(&["batch", "left", "E1", "57.80 g"], 0);
    assert_relative_eq!(number(&weighed["difference_g"]), -0.1, max_relative = 1e-9);
    assert_relative_eq!(number(&weighed["wasted_g"]), 2.1, max_relative = 1e-12);
    assert_eq!(weighed["total_g"], 60.0);
    reconciles(&weighed);
    assert!(bench.said(&["batch", "show", "E1"], 0).contains("less than the records add up to"));
    bench.verify();
}
