//! Where a predicted liquidus ends: at a heat-capacity term, at two liquids, at a glass, at a decomposition, and how a
//! window of three components ends.

use approx::assert_abs_diff_eq;
use serde_json::Value;

use crate::run::{answer, envelope, json};

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn list(value: &Value) -> &[Value] {
    value.as_array().unwrap_or_else(|| panic!("{value} is no list"))
}

/// The point of a curve at a mole fraction of one component.
fn point<'v>(set: &'v Value, component: &str, x: f64) -> &'v Value {
    let at = |own: &&Value| (number(&own["composition"][component]) - x).abs() < 1e-9;
    list(&set["curve"]).iter().find(at).expect("the curve has the point")
}

fn codes(arguments: &[&str], code: i32) -> Vec<String> {
    let whole = envelope(&answer(&[arguments, &["--format", "json"]].concat(), code));
    list(&whole["warnings"]).iter().filter_map(|own| Some(own["code"].as_str()?.to_owned())).collect()
}

const BENT: [&str; 5] = ["liquidus", "ChCl", "urea", "--pure", "ChCl melts=687K fusion=9kJ/mol cp=40J/mol/K"];

/// The heat-capacity term takes the enthalpy of fusion to 0 at 687 K − 9000/40 K = 462 K. There
///
///   ΔG = 9000 (1 − 462/687) − 40 (687 − 462 − 462 ln(687/462)) = 2947.60 − 40 · 41.6925 = 1279.90 J/mol
///   ln x = −1279.90/(8.314463 · 462) = −0.333195,  x = 0.71663
///
/// so the curve of the salt ends at 0.71663 and meets that of urea (below 405.55 K) nowhere.
#[test]
fn a_heat_capacity_term_ends_a_curve_and_makes_no_eutectic() {
    let found = json(&BENT, 0);
    assert!(list(&found["eutectics"]).is_empty(), "the step of the curve is no eutectic");
    let [end] = list(&found["branch_ends"]) else { panic!("one end: {}", found["branch_ends"]) };
    assert_eq!(end["solid"], "choline chloride");
    assert_abs_diff_eq!(number(&end["temperature_k"]), 462.0, epsilon = 1e-9);
    assert_abs_diff_eq!(number(&end["composition"]["choline-chloride"]), 0.71663, epsilon = 1e-4);
    assert_eq!(point(&found, "choline-chloride", 0.7)["not_known_of"][0], "choline chloride");
    assert!(list(&point(&found, "choline-chloride", 0.8)["not_known_of"]).is_empty());
    let shown = answer(&BENT, 0);
    assert!(shown.contains("No eutectic is predicted: a curve ends"), "{shown}");
    assert!(shown.contains("≥ 40.7") && shown.contains("choline chloride is not known"), "{shown}");
    assert!(!shown.contains("Ratio"), "no empty table of eutectics: {shown}");
    // What is not known is not promised to stay liquid.
    let window = json(&[&BENT[..], &["--liquid-at", "60 °C"]].concat(), 1);
    assert!(list(&window["liquid_windows"]).is_empty());
    assert!(codes(&BENT, 0).contains(&"branch_ends".to_owned()));
}

/// A term that does not bend so far leaves the eutectic where both curves meet.
#[test]
fn a_small_heat_capacity_term_leaves_the_eutectic() {
    let pure = "ChCl melts=597K fusion=4300J/mol cp=5J/mol/K";
    let found = json(&["liquidus", "ChCl", "urea", "--pure", pure], 0);
    assert_eq!((list(&found["eutectics"]).len(), list(&found["branch_ends"]).len()), (1, 0));
}

const APART: [&str; 9] = [
    "liquidus",
    "aa",
    "bb",
    "--pure",
    "aa melts=300K fusion=10kJ/mol",
    "--pure",
    "bb melts=350K fusion=15kJ/mol",
    "--model",
    "margules A=9000J/mol",
];

/// The binodal of A x (1 − x): ln((1 − x)/x) = A/(R T) (1 − 2 x). At 363.15 K A/(R T) = 2.980728, and x = 0.072543:
/// ln(0.927457/0.072543) = 2.548235 = 2.980728 · 0.854914. Nothing is solid there: pure bb melts at 350 K.
#[test]
fn a_window_leaves_out_where_there_are_two_liquids() {
    let arguments = [&APART[..], &["--liquid-at", "90 °C"]].concat();
    let found = json(&arguments, 0);
    let [low, high] = list(&found["liquid_windows"]) else { panic!("{}", found["liquid_windows"]) };
    assert_abs_diff_eq!(number(&low["from"]["aa"]), 0.0, epsilon = 1e-9);
    assert_abs_diff_eq!(number(&low["to"]["aa"]), 0.072543, epsilon = 1e-5);
    assert_abs_diff_eq!(number(&high["from"]["aa"]), 0.927457, epsilon = 1e-5);
    assert_abs_diff_eq!(number(&high["to"]["aa"]), 1.0, epsilon = 1e-9);
    let [two] = list(&found["two_liquids_at"]) else { panic!("{}", found["two_liquids_at"]) };
    assert_abs_diff_eq!(number(&two["from"]["aa"]), 0.072543, epsilon = 1e-5);
    let shown = answer(&arguments, 0);
    assert!(shown.contains("there are two liquids from 0.073 to 0.927 aa"), "{shown}");
    // Below the monotectic there are no two liquids in equilibrium, and still no window between.
    let below = json(&[&APART[..], &["--liquid-at", "71 °C"]].concat(), 0);
    assert!(list(&below["two_liquids_at"]).is_empty());
    for window in list(&below["liquid_windows"]) {
        assert!(number(&window["to"]["aa"]) < 0.07 || 0.93 < number(&window["from"]["aa"]), "{window}");
    }
}

/// Both liquids meet solid bb where the binodal also fulfils R T ln(1 − x) + A x² + 15000 (1 − T/350) = 0: at 346.583 K,
/// x = 0.060272, −179.137 + 32.694 + 146.443 = 0 (J/mol). Between x and 1 − x the first solid comes out there.
#[test]
fn between_two_liquids_the_curve_is_the_three_phase_line() {
    let found = json(&APART, 0);
    let [split] = list(&found["two_liquids"]) else { panic!("{}", found["two_liquids"]) };
    assert_abs_diff_eq!(number(&split["temperature_k"]), 346.58301, epsilon = 1e-4);
    assert_abs_diff_eq!(number(&split["from"]), 0.060272, epsilon = 1e-5);
    assert_abs_diff_eq!(number(&split["to"]), 1.0 - 0.060272, epsilon = 1e-5);
    assert_eq!(split["solid"], "bb");
    for x in [0.07, 0.2, 0.5, 0.93] {
        let own = point(&found, "aa", x);
        assert_abs_diff_eq!(number(&own["temperature_k"]), 346.58301, epsilon = 1e-4);
        assert_eq!((&own["two_liquids"], &own["solid"]), (&Value::Bool(true), &Value::from("bb")));
    }
    assert_eq!(point(&found, "aa", 0.05)["two_liquids"], Value::Bool(false));
    // No value above the melting point of bb is left, on the screen or for scripts.
    let rows = answer(&[&APART[..], &["--format", "csv"]].concat(), 0);
    for row in rows.lines().skip(1) {
        let kelvin: f64 = row.split(',').nth(2).and_then(|own| own.parse().ok()).expect("a temperature");
        assert!(kelvin <= 350.0, "{row}");
    }
    assert!(answer(&APART, 0).contains("bb, out of two liquids"));
}

/// Three components that come apart in the middle: what one liquid would do there stands nowhere as a temperature.
#[test]
fn three_components_that_come_apart_have_no_temperature_there() {
    let three = ["liquidus", "aa", "bb", "cc", "--pure", "aa melts=300K fusion=10kJ/mol", "--pure"];
    let rest = ["bb melts=350K fusion=15kJ/mol", "--pure", "cc melts=320K fusion=12kJ/mol"];
    let model = ["--model", "margules aa:bb A=9kJ/mol", "--liquid-at", "90 °C"];
    let found = json(&[&three[..], &rest, &model].concat(), 0);
    let (apart, one): (Vec<_>, Vec<_>) =
        list(&found["curve"]).iter().partition(|own| own["two_liquids"] == Value::Bool(true));
    assert!(!apart.is_empty() && apart.iter().all(|own| own["temperature_k"].is_null()));
    assert!(one.iter().all(|own| own["temperature_k"].is_number()));
    // At 90 °C nothing is solid, so the two liquids are all that is missing from the window.
    let share = number(&found["liquid_share"]);
    assert!((0.3..0.99).contains(&share), "{share}");
}

const COLD: [&str; 7] = [
    "liquidus",
    "naphthalene",
    "biphenyl",
    "--pure",
    "naphthalene melts=353.37K fusion=19010±900J/mol",
    "--pure",
    "biphenyl melts=342.08±2K fusion=18570J/mol",
];

/// Below the line of the glass in a chart of characters.
fn below_the_glass(shown: &str) -> Vec<&str> {
    let lines: Vec<&str> = shown.lines().collect();
    let at = lines.iter().position(|line| line.ends_with("╌ glass")).expect("the chart has the line");
    lines[at + 1..].iter().take_while(|line| !line.contains('└')).copied().collect()
}

#[test]
fn below_a_glass_nothing_is_drawn_and_words_say_so() {
    let glass = ["--glass", "330 K", "--liquid-at", "318 K", "--model", "margules A=-900J/mol"];
    let shown = answer(&[&COLD[..], &glass].concat(), 0);
    let below = below_the_glass(&shown);
    assert!(!below.iter().any(|line| line.contains(['•', '·', '░', '●'])), "{shown}");
    let [verdict, ..] = shown.lines().skip(3).collect::<Vec<_>>()[..] else { panic!("{shown}") };
    assert!(
        verdict.starts_with("Eutectic predicted") && verdict.contains("That lies below the glass"),
        "{shown}"
    );
    assert!(shown.contains("(glass)"), "{shown}");
    assert!(shown.contains("no window is predicted there"), "{shown}");
    let found = json(&[&COLD[..], &glass].concat(), 0);
    assert_eq!(found["eutectics"][0]["below_glass"], Value::Bool(true));
    assert_eq!(found["liquid_at_below_glass"], Value::Bool(true));
    // biphenyl at 0.1 freezes above 330 K, the middle does not.
    assert_eq!(point(&found, "naphthalene", 0.1)["below_glass"], Value::Bool(false));
    assert_eq!(point(&found, "naphthalene", 0.5)["below_glass"], Value::Bool(true));
    let rows = answer(&[&COLD[..], &glass, &["--format", "csv"]].concat(), 0);
    let head = rows.lines().next().expect("a head");
    assert!(head.ends_with("low_k,high_k,below_glass,liquid_at"), "{head}");
}

#[test]
fn below_a_glass_a_triangle_is_blank_and_words_say_so() {
    let third = ["--pure", "p-dichlorobenzene melts=326.25K fusion=18190J/mol"];
    let three = [&COLD[..3], &["p-dichlorobenzene"], &COLD[3..], &third].concat();
    let glass = ["--glass", "20 °C", "--liquid-at", "18 °C"];
    let shown = answer(&[&three[..], &glass].concat(), 0);
    // The eutectic at 17.4 °C has neither its mark nor its line in the key.
    assert!(!shown.contains("● 17"), "{shown}");
    assert!(shown.contains("(glass)"), "{shown}");
    assert!(shown.contains("no window is predicted there"), "{shown}");
    assert!(answer(&three, 0).contains("● 17"));
}

/// Choline chloride decomposes from 302 °C by the table; one published set has it melt at 414 °C.
#[test]
fn no_curve_is_drawn_where_a_component_decomposes() {
    let shown = answer(&["liquidus", "ChCl", "urea"], 0);
    assert!(!shown.contains("400 ┤"), "{shown}");
    assert!(shown.contains("decomposing") && shown.contains("is not drawn"), "{shown}");
    let found = json(&["liquidus", "ChCl", "urea"], 0);
    assert_eq!(point(&found["sets"][1], "choline-chloride", 0.9)["decomposes"], "choline-chloride");
    assert_eq!(point(&found["sets"][0], "choline-chloride", 0.5)["decomposes"], Value::Null);
}

/// At 293.15 K water is above its melting point, so an ideal liquid holds so much of each solid as it bears:
///
///   choline chloride (687 K, 13.8 kJ/mol): ln x = −13800/8.314463 · (1/293.15 − 1/687) = −3.24586, x = 0.038935
///   urea (405.55 K, 13.9 kJ/mol):          ln x = −13900/8.314463 · (1/293.15 − 1/405.55) = −1.58057, x = 0.205859
///
/// and of water what is left of both, 0.755206, to 1. With 597 K and 4.3 kJ/mol x is 0.407423 of choline chloride.
#[test]
fn a_window_of_three_components_is_not_that_of_the_grid() {
    let found = json(&["liquidus", "ChCl", "urea", "water", "--liquid-at", "20 °C"], 0);
    let range = |set: usize, at: usize| {
        let own = &found["sets"][set]["liquid_ranges"][at];
        (number(&own["from"]), number(&own["to"]))
    };
    for (set, at, from, to) in [
        (1, 0, 0.0, 0.038935),
        (1, 1, 0.0, 0.205859),
        (1, 2, 0.755206, 1.0),
        (0, 0, 0.0, 0.407423),
        (0, 1, 0.0, 0.205859),
    ] {
        assert_abs_diff_eq!(range(set, at).0, from, epsilon = 1e-4);
        assert_abs_diff_eq!(range(set, at).1, to, epsilon = 1e-4);
    }
    let shown = answer(&["liquidus", "ChCl", "urea", "water", "--liquid-at", "20 °C"], 0).replace('\n', " ");
    assert!(
        shown.contains("choline chloride 0.000 to 0.039") && shown.contains("counted on a 1 % grid"),
        "{shown}"
    );
}

/// A region smaller than a step of the grid is found by its eutectic.
#[test]
fn a_window_smaller_than_the_grid_is_not_missed() {
    let third = ["--pure", "p-dichlorobenzene melts=326.25K fusion=18190J/mol"];
    let three = [&COLD[..3], &["p-dichlorobenzene"], &COLD[3..], &third].concat();
    let eutectic = &json(&three, 0)["eutectics"][0];
    let (x, kelvin) = (number(&eutectic["composition"]["naphthalene"]), number(&eutectic["temperature_k"]));
    let found = json(&[&three[..], &["--liquid-at", &format!("{} K", kelvin + 0.02)]].concat(), 0);
    let [own, ..] = list(&found["liquid_ranges"]) else { panic!("there is a window") };
    assert!(number(&own["from"]) <= x && x <= number(&own["to"]), "{own}");
    // By 2 000 draws of the stated uncertainties.
    assert!((0.2..0.8).contains(&number(&found["draws_with_window"])), "{}", found["draws_with_window"]);
    json(&[&three[..], &["--liquid-at", &format!("{} K", kelvin - 0.02)]].concat(), 1);
}

#[test]
fn a_model_beyond_all_measure_is_told_as_such() {
    let strong = codes(&["liquidus", "ChCl", "urea", "--model", "margules A=-500kJ/mol"], 0);
    assert!(
        strong.contains(&"too_cold".to_owned()) && !strong.contains(&"beyond_data".to_owned()),
        "{strong:?}"
    );
    assert!(!codes(&["liquidus", "ChCl", "urea"], 0).contains(&"too_cold".to_owned()));
}

const NEAR_CRITICAL: [&str; 7] = [
    "liquidus",
    "naphthalene",
    "biphenyl",
    "--pure",
    "naphthalene melts=353.37±0.5K fusion=19010±200J/mol",
    "--pure",
    "biphenyl melts=342.08±0.5K fusion=18570±200J/mol",
];

/// A liquid of Margules' model comes apart where A > 2 R T (the second derivative of its Gibbs energy at x = 0.5): at
/// 350.15 K above 5822.6 J/mol. Of 6000 ± 100 that is 1.774 standard deviations down: 3.8 % of draws have one liquid there.
#[test]
fn windows_that_are_one_in_some_draws_keep_their_own_ends() {
    let arguments =
        [&NEAR_CRITICAL[..], &["--model", "margules A=6000±100J/mol", "--liquid-at", "77 °C"]].concat();
    let found = json(&arguments, 0);
    let [low, high] = list(&found["liquid_windows"]) else { panic!("{}", found["liquid_windows"]) };
    for window in [low, high] {
        assert_abs_diff_eq!(number(&window["draws_joined"]), 0.038, epsilon = 0.02);
        assert_abs_diff_eq!(
            number(&window["draws_with_it"]) + number(&window["draws_joined"]),
            1.0,
            epsilon = 0.01
        );
    }
    let text = answer(&arguments, 0);
    assert!(text.contains("of the draws they are one"), "{text}");
    // Both end at 0.5 at most, where they would meet.
    assert!(number(&low["band"]["to"][1]) <= 0.5 && 0.5 <= number(&high["band"]["from"][0]));
}

/// At 345.15 K the limit is 2 R T = 5739.5 J/mol: 5700 ± 200 lies above it in 42 % of the draws.
#[test]
fn a_window_that_two_liquids_part_in_some_draws_says_so() {
    let arguments =
        [&NEAR_CRITICAL[..], &["--model", "margules A=5700±200J/mol", "--liquid-at", "72 °C"]].concat();
    let found = json(&arguments, 0);
    let [one] = list(&found["liquid_windows"]) else { panic!("{}", found["liquid_windows"]) };
    assert_abs_diff_eq!(number(&one["draws_parted_by_liquids"]), 0.42, epsilon = 0.06);
    let text = answer(&arguments, 0);
    assert!(text.contains("two liquids part it near 0.5"), "{text}");
}
