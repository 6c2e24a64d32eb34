//! What a balance can show, through the program: windows, totals, buoyancy, what to add now. Expected numbers
//! are sums and roundings by hand.

use serde_json::Value;

use crate::run::answer;

fn plan(arguments: &[&str], code: i32) -> Value {
    let mut all = vec!["plan"];
    all.extend(arguments);
    all.extend(["--format", "json"]);
    serde_json::from_str(&answer(&all, code)).unwrap()
}

fn lines(plan: &Value) -> &Vec<Value> {
    plan["answer"]["lines"].as_array().unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn warnings(plan: &Value) -> Vec<&str> {
    plan["warnings"].as_array().unwrap().iter().map(|w| w["code"].as_str().unwrap()).collect()
}

/// 2.5 g on a display of steps of 0.1 g: windows of a hundredth hold no digit, and the plan says so instead of
/// giving one that nobody can hit. What it says would do, does.
#[test]
fn no_window_between_two_digits() {
    let small = ["ChCl:urea 1:2", "--mass", "4.63 g", "--balance", "d=0.1g", "--tolerance", "7 %"];
    let planned = plan(&small, 0);
    for line in lines(&planned) {
        let digit = (number(&line["weigh_g"]) * 10.0).round() / 10.0;
        let flagged = line["flags"].as_array().unwrap().iter().any(|flag| flag == "no_step_in_window");
        assert_eq!(flagged, line["low_g"].is_null(), "{line}");
        if !flagged {
            assert!(number(&line["low_g"]) <= digit && digit <= number(&line["high_g"]), "{line}");
        }
    }
    assert!(lines(&planned).iter().any(|line| line["low_g"].is_null()), "{planned}");
    assert!(warnings(&planned).contains(&"no_step_in_window"));
    let told = planned["warnings"].to_string();
    let batch = told.split("a batch of ").nth(1).and_then(|rest| rest.split(" g)").next()).unwrap();
    let batch: f64 = batch.parse().unwrap();
    let larger = format!("{} g", batch * 1.01);
    let larger = plan(&["ChCl:urea 1:2", "--mass", &larger, "--balance", "d=0.1g", "--tolerance", "7 %"], 0);
    assert!(!warnings(&larger).contains(&"no_step_in_window"), "{larger}");
}

/// What is to be weighed adds up to what is said to be in the flask, as the display shows both.
#[test]
fn total_is_the_sum_of_what_is_shown() {
    let arguments =
        ["ChCl:urea:glycerol 1:1:1", "--mass", "10 g", "--balance", "d=0.1g", "--tolerance", "20 %"];
    let planned = plan(&arguments, 0);
    let sum: f64 = lines(&planned).iter().map(|line| number(&line["rounded_g"])).sum();
    let total = number(&planned["answer"]["totals"]["rounded_g"]);
    assert!((total - sum).abs() < 1e-9, "{total} {sum}");
    assert!((total - 10.0).abs() > 0.05, "a case in which rounding matters: {total}");
    let mut text = vec!["plan"];
    text.extend(arguments);
    assert!(answer(&text, 0).contains(&format!("In the flask                            {total:>6.1}")));
}

/// A density is known for one component and not for the other: neither is corrected, and both are told.
#[test]
fn buoyancy_is_corrected_for_all_or_none() {
    let one = ["ChCl:EG 1:2", "--mass", "60 g", "--air-density", "1.2 kg/m3"];
    let planned = plan(&one, 0);
    assert!(lines(&planned).iter().all(|line| line["reading_g"].is_null()));
    let flags: Vec<&Value> = lines(&planned).iter().map(|line| &line["flags"]).collect();
    assert_eq!(flags[0].to_string(), r#"["buoyancy_not_corrected"]"#);
    assert_eq!(flags[1].to_string(), "[]");
    let conventions = planned["answer"]["conventions"].to_string();
    assert!(conventions.contains("not corrected for, since no density is known of choline chloride"));
    let mut both = one.to_vec();
    both.extend(["--bottle", "ChCl density=1.1g/mL"]);
    let planned = plan(&both, 0);
    for line in lines(&planned) {
        assert!(number(&line["reading_g"]) < number(&line["weigh_g"]), "{line}");
    }
    assert!(!warnings(&planned).contains(&"buoyancy_not_corrected"));
}

/// With something weighed, a stock is what is left now: 1 g of a component that is in already is no shortage.
#[test]
fn stock_is_what_is_left_beside_what_is_weighed() {
    let weighed = ["ChCl:EG 1:2", "--mass", "60 g", "--weighed", "ChCl 32.48g", "--have", "ChCl 1 g"];
    let planned = plan(&weighed, 0);
    assert!(!warnings(&planned).contains(&"not_enough"), "{planned}");
    let stock = &planned["answer"]["limiting"]["stocks"][0];
    assert_eq!(
        (number(&stock["have_g"]), number(&stock["used_g"]), number(&stock["left_g"])),
        (1.0, 0.0, 1.0)
    );
    // Of the other, 28.877 g must follow.
    for (have, code) in [("EG 28.9 g", 0), ("EG 28.5 g", 1)] {
        let mut arguments = weighed.to_vec();
        arguments.extend(["--have", have]);
        let planned = plan(&arguments, code);
        let add = number(&planned["answer"]["retarget"]["lines"][1]["add_g"]);
        let used = number(&planned["answer"]["limiting"]["stocks"][1]["used_g"]);
        assert!((used - 28.877).abs() < 5e-4, "{used}");
        assert!((add - if code == 0 { used } else { 28.5 }).abs() < 1e-9, "{add}");
        assert_eq!(warnings(&planned).contains(&"not_enough"), code == 1);
    }
    // The largest batch is the one that both what is in and what is left allow.
    let all = ["ChCl:EG 1:2", "--weighed", "ChCl 30g", "--have", "ChCl 1.762g", "--have", "EG 28.2391g"];
    let planned = plan(&all, 0);
    assert!((number(&planned["answer"]["totals"]["weigh_g"]) - 60.0).abs() < 1e-3, "{planned}");
}

/// Only whole steps can be added, and the ratio reached is the one that they make.
#[test]
fn masses_to_add_are_steps_of_the_display() {
    let arguments = ["ChCl:EG 1:2", "--mass", "60 g", "--weighed", "ChCl 32.4g", "--balance", "d=0.1g"];
    let mut arguments = arguments.to_vec();
    arguments.extend(["--tolerance", "5 %"]);
    let planned = plan(&arguments, 0);
    let again = &planned["answer"]["retarget"];
    let line = &again["lines"][1];
    assert!((number(&line["add_g"]) - 28.806).abs() < 1e-3, "{line}");
    assert_eq!(number(&line["add_rounded_g"]), 28.8);
    assert!((number(&again["batch_g"]) - 61.2).abs() < 1e-9, "{again}");
    // Ethylene glycol is 62.068 g/mol, choline chloride 139.623 g/mol (computed by hand).
    let ratio = (28.8 / 62.068) / (32.4 / 139.623);
    assert!((number(&again["ratio_after"]["ethylene-glycol"]) - ratio).abs() < 1e-4, "{again} {ratio}");
    assert!((number(&again["deviation_after"]) - (1.0 - ratio / 2.0)).abs() < 1e-4);
    // Not rounded up to more than there is.
    arguments.extend(["--have", "EG 28.79 g"]);
    let planned = plan(&arguments, 0);
    assert_eq!(number(&planned["answer"]["retarget"]["lines"][1]["add_rounded_g"]), 28.7);
}
