//! Measured points of a liquidus: what their heads say, and what a fit to them is worth; what is typed wrong.

use approx::assert_abs_diff_eq;
use serde_json::Value;

use crate::run::{Run, envelope, folder, run, run_in, write};

const N: &str = "naphthalene melts=353.37K fusion=19010J/mol";
const B: &str = "biphenyl melts=342.08K fusion=18570J/mol";

/// Runs with a file of points.
fn with_points(points: &str, arguments: &[&str]) -> Run {
    let folder = folder();
    write(folder.path(), "w.csv", points.as_bytes());
    run_in(folder.path(), &[&["liquidus"], arguments, &["--points", "w.csv"]].concat())
}

fn whole(points: &str, arguments: &[&str]) -> Value {
    let run = with_points(points, &[arguments, &["--format", "json"]].concat());
    assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{arguments:?}");
    envelope(&run.stdout)
}

fn codes(whole: &Value) -> Vec<&str> {
    let warnings = whole["warnings"].as_array().expect("a list").iter();
    warnings.filter_map(|own| own["code"].as_str()).collect()
}

/// Of 50 g choline chloride (139.62 g/mol) in 100 g with urea (60.056 g/mol):
/// x = (50/139.62)/(50/139.62 + 50/60.056) = 60.056/(60.056 + 139.62) = 0.300767.
#[test]
fn fractions_of_the_mass_are_converted() {
    for (head, value) in [("w (wt%)", "50"), ("mass fraction", "0.5"), ("ChCl [w/w %]", "50"), ("w", "0.5")] {
        let found =
            whole(&format!("{head},T (K)\n{value},350\n"), &["ChCl", "urea", "--x", head, "--y", "T"]);
        let x = found["answer"]["points"][0]["composition"]["choline-chloride"].as_f64().expect("a number");
        assert_abs_diff_eq!(x, 0.300767, epsilon = 2e-5);
        assert!(codes(&found).contains(&"mass_fractions_converted"), "{head}");
    }
    for (head, value) in [("x", "0.5"), ("ChCl (mol %)", "50"), ("mole fraction", "0.5"), ("mol (%)", "50")] {
        let found =
            whole(&format!("{head},T (K)\n{value},350\n"), &["ChCl", "urea", "--x", head, "--y", "T"]);
        let x = &found["answer"]["points"][0]["composition"]["choline-chloride"];
        assert_eq!(x.as_f64(), Some(0.5), "{head}");
        assert!(!codes(&found).contains(&"mass_fractions_converted"), "{head}");
    }
}

#[test]
fn a_head_that_does_not_say_of_what_is_asked_back() {
    for (head, code) in [("x (%)", "percent_of_what"), ("x (vol%)", "no_fraction")] {
        let run = with_points(
            &format!("{head},T (K)\n50,350\n60,360\n"),
            &["ChCl", "urea", "--x", "x", "--y", "T"],
        );
        assert_eq!(run.code, 2);
        assert_eq!(run.stderr.matches(code).count(), 1, "told once, not for each row: {}", run.stderr);
        assert!(run.stderr.contains("(mol%)") && run.stderr.contains("(wt%)"), "{}", run.stderr);
    }
}

const PAIR: [&str; 6] = ["naphthalene", "biphenyl", "--pure", N, "--pure", B];
const SWAPPED: [&str; 6] = ["biphenyl", "naphthalene", "--pure", N, "--pure", B];
const COLUMNS: [&str; 4] = ["--x", "x_naphthalene", "--y", "T"];

fn measured() -> String {
    include_str!("../../fixtures/phases/liquidus_naphthalene_biphenyl_measured.csv")
        .replace("T_measured_K", "T (K)")
}

/// The measured diagram with both components taken for each other: pure naphthalene then melts at 68.9 °C, 11 K below
/// its fusion data.
#[test]
fn points_of_swapped_components_are_remarked() {
    let doubts =
        ["points_contradict_fusion_data", "components_swapped", "fit_misses_points", "unit_doubtful"];
    let right = whole(&measured(), &[&PAIR[..], &COLUMNS, &["--model", "margules"]].concat());
    assert!(doubts.iter().all(|own| !codes(&right).contains(own)), "{:?}", codes(&right));
    let wrong = whole(&measured(), &[&SWAPPED[..], &COLUMNS, &["--model", "margules"]].concat());
    for doubt in &doubts[..3] {
        assert!(codes(&wrong).contains(doubt), "{doubt}: {:?}", codes(&wrong));
    }
    let (own, turned) =
        (&wrong["answer"]["fit"]["rss"], &wrong["answer"]["fit"]["rss_with_components_swapped"]);
    assert!(4.0 * turned.as_f64().expect("a number") < own.as_f64().expect("a number"));
}

#[test]
fn degrees_celsius_under_a_head_of_kelvins_are_remarked() {
    let points = "x,T (K)\n0.2,57.9\n0.5,45.5\n0.8,68.0\n";
    let run = with_points(
        points,
        &[&PAIR[..], &["--x", "x", "--y", "T", "--model", "margules", "--format", "json"]].concat(),
    );
    let found = envelope(&run.stdout);
    assert!(codes(&found).contains(&"unit_doubtful"), "{:?}", codes(&found));
    let points = points.replace("(K)", "(°C)").replace("57.9", "331.0");
    let found = whole(&points, &[&PAIR[..], &["--x", "x", "--y", "T"]].concat());
    assert!(codes(&found).contains(&"unit_doubtful"), "{:?}", codes(&found));
}

/// One point for one parameter: nothing judges the fit, so there is no band, although fusion data have uncertainties.
#[test]
fn a_fit_that_nothing_judges_has_no_band() {
    let pure = ["ChCl", "urea", "--pure", "ChCl melts=597±7K fusion=4300±600J/mol", "--x", "x", "--y", "T"];
    let fitted = [&pure[..], &["--model", "margules"]].concat();
    let found = whole("x,T (K)\n0.33,300\n", &fitted);
    assert_eq!(found["answer"]["fit"]["judged"], Value::Bool(false));
    assert_eq!(found["answer"]["eutectic_band_k"], Value::Null);
    assert_eq!(found["answer"]["band"], Value::Array(Vec::new()));
    assert!(codes(&found).contains(&"nothing_left"), "{:?}", codes(&found));
    let shown = with_points("x,T (K)\n0.33,300\n", &fitted).stdout;
    assert!(
        shown.contains("to 1 mixture, nothing left to judge it by") && !shown.contains("of draws"),
        "{shown}"
    );
    // Two points leave one degree of freedom.
    let two = whole("x,T (K)\n0.33,300\n0.4,310\n", &fitted);
    assert_eq!(two["answer"]["fit"]["judged"], Value::Bool(true));
    assert!(two["answer"]["eutectic_band_k"].is_array());
}

/// A point above the ideal curve lies above it, in words.
#[test]
fn a_point_above_an_ideal_liquid_is_said_to_lie_above() {
    let points = "x,T (K)\n0.5,325.0\n";
    let shown = with_points(points, &[&PAIR[..], &["--x", "x", "--y", "T"]].concat()).stdout;
    let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(shown.contains("K above an ideal liquid") && !shown.contains("lies −"), "{shown}");
}

fn refused(arguments: &[&str]) -> String {
    let run = run(&[&["liquidus"], arguments].concat());
    assert_eq!(run.code, 2, "{arguments:?}: {}", run.stdout);
    run.stderr
}

#[test]
fn slips_get_a_way_out_that_works() {
    let twice = refused(&[
        "ChCl",
        "bb",
        "--pure",
        "bb melts=300K fusion=9kJ/mol",
        "--pure",
        "bb melts=301K fusion=9kJ/mol",
    ]);
    assert!(twice.contains("\"bb\" is given twice") && !twice.contains("Did you mean"), "{twice}");
    let slip = refused(&["ChCl", "bb", "--pure", "bb melts=300 fusion=9kJ/mol"]);
    assert!(slip.contains("melts=300 ") && !slip.contains("unknown_component"), "{slip}");
    let bare = refused(&["ChCl", "urea", "--model", "ideal A=3J/mol"]);
    assert!(bare.contains("ideal has no parameter A"), "{bare}");
    let both = refused(&["ChCl", "urea", "--model", "ideal", "--model", "margules A=-1kJ/mol"]);
    assert!(both.contains("model_twice"), "{both}");
    let one = refused(&["ChCl:urea 1:2"]);
    assert!(one.contains("liquidus ChCl urea"), "{one}");
}
