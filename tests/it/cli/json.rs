//! The JSON that scripts rely on: one envelope, the promised keys, every digit.

use serde_json::Value;

use crate::run::{envelope, json, run};

/// Every key is there, whatever its value.
#[track_caller]
fn has(value: &Value, keys: &[&str]) {
    let object = value.as_object().unwrap_or_else(|| panic!("{value} is an object"));
    for key in keys {
        assert!(object.contains_key(*key), "{key} is missing in {value}");
    }
}

#[track_caller]
fn each<'v>(value: &'v Value, keys: &[&str]) -> &'v Vec<Value> {
    let list = value.as_array().unwrap_or_else(|| panic!("{value} is a list"));
    assert!(!list.is_empty());
    list.iter().for_each(|entry| has(entry, keys));
    list
}

#[test]
fn every_answer_is_one_object_of_its_kind() {
    let commands: [(&str, &[&str]); 9] = [
        ("formula", &["formula", "H2O"]),
        ("component list", &["component", "list"]),
        ("component show", &["component", "show", "urea"]),
        ("recipe list", &["recipe", "list"]),
        ("recipe show", &["recipe", "show", "ChCl:urea 1:2"]),
        ("plan", &["plan", "ChCl:urea 1:2", "--mass", "50 g"]),
        ("sheet", &["sheet", "ChCl:urea 1:2", "--mass", "50 g"]),
        ("cautions", &["cautions", "ChCl"]),
        ("blend", &["blend", "--liquid", "ChCl:urea 1:2 mass=60g"]),
    ];
    for (kind, arguments) in commands {
        let mut all = arguments.to_vec();
        all.extend(["--format", "json"]);
        let run = run(&all);
        assert_eq!((run.code, run.stderr.as_str()), (0, ""));
        assert_eq!(envelope(&run.stdout)["kind"], kind);
        assert!(run.stdout.ends_with("}\n"));
    }
}

#[test]
fn formulas_and_components_have_their_keys() {
    each(&json(&["formula", "ZnSO4·7H2O"], 0), &["input", "hill", "molar_mass_g_per_mol", "crystal_water"]);
    let keys = ["component", "name", "roles", "cas", "formula", "molar_mass_g_per_mol"];
    each(&json(&["component", "list"], 0), &keys);
}

#[test]
fn a_blend_has_its_keys() {
    let answer = json(
        &["blend", "--liquid", "ChCl:urea 1:2 mass=80g", "--ratio", "ChCl:urea 1:2.2", "--water", "2 wt%"],
        0,
    );
    has(&answer, &["ratio", "water_wt_pct", "mass_g", "add", "dry_first_g", "before", "composition"]);
    each(&answer["add"], &["component", "weigh_g"]);
}

#[test]
fn a_plan_has_its_keys() {
    let plan = json(
        &[
            "plan",
            "ChCl:EG 1:2 + 0.5 mol/kg ZnCl2 to 2 wt% water",
            "--mass",
            "60 g",
            "--weighed",
            "ChCl 32.48g",
        ],
        0,
    );
    has(&plan, &["recipe", "size", "conventions", "lines", "totals", "composition", "ratio_uncertainty"]);
    has(&plan["recipe"], &["name", "basis", "text"]);
    has(&plan["size"], &["kind", "value"]);
    let line_keys = [
        "component",
        "role",
        "bottle",
        "ratio",
        "amount_mol",
        "dry_pure_g",
        "weigh_g",
        "rounded_g",
        "water_g",
        "impurity_g",
        "volume_ml",
        "uncertainty_g",
        "low_g",
        "high_g",
        "flags",
    ];
    let lines = each(&plan["lines"], &line_keys);
    assert!(lines.iter().any(|line| line["component"] == "water"), "added water is a line");
    let totals = ["dry_pure_g", "weigh_g", "water_g", "water_wt_pct", "water_ppm", "impurity_g", "volume_ml"];
    has(&plan["totals"], &totals);
    let shares = [
        "component",
        "mole_fraction",
        "mole_fraction_dry",
        "mass_fraction",
        "molality_mol_per_kg",
        "molarity_mol_per_l",
    ];
    each(&plan["composition"], &shares);
    has(&plan["retarget"], &["lines", "batch_g", "ratio_if_nothing_added"]);
    each(&plan["retarget"]["lines"], &["component", "weighed_g", "add_g"]);
}

#[test]
fn cautions_have_their_keys() {
    let cautions = json(&["cautions", "ChCl:oxalic-acid 1:1", "--heat", "90 °C"], 0);
    has(&cautions, &["scheme", "components", "mixture", "alerts", "practice"]);
    each(&cautions["components"], &["component", "h_codes", "basis", "source"]);
    each(&cautions["alerts"], &["id", "severity", "message", "source"]);
}

/// 50 g of 1:2 by the molar masses that the program itself gives: no digit is lost on the way out.
#[test]
fn numbers_keep_every_digit() {
    let masses: Vec<f64> = json(&["formula", "C5H14ClNO", "CO(NH2)2"], 0)
        .as_array()
        .expect("a list")
        .iter()
        .map(|formula| formula["molar_mass_g_per_mol"].as_f64().expect("a number"))
        .collect();
    let plan = json(&["plan", "ChCl:urea 1:2", "--mass", "50 g"], 0);
    let weigh = |at: usize| plan["lines"][at]["weigh_g"].as_f64().expect("a number");
    let unit = masses[0] + 2.0 * masses[1];
    approx::assert_relative_eq!(weigh(0), 50.0 * masses[0] / unit, max_relative = 1e-14);
    approx::assert_relative_eq!(weigh(1), 50.0 * 2.0 * masses[1] / unit, max_relative = 1e-14);
    approx::assert_relative_eq!(weigh(0) + weigh(1), 50.0, max_relative = 1e-14);
}

/// What is undefined is null: the ratio of an addition, the window without a tolerance left.
#[test]
fn what_is_undefined_is_null() {
    let plan = json(&["plan", "ChCl:urea 1:2 + 0.1 mol/kg ZnCl2", "--mass", "50 g"], 0);
    assert!(plan["lines"][2]["ratio"].is_null());
    assert!(plan["lines"][0]["rounded_g"].is_null(), "no balance, nothing rounded");
    assert!(plan["totals"]["volume_ml"].is_null(), "no density, no volume");
}
