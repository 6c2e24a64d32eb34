//! Measured liquidus out of the book: by what was weighed, as it was then, with its water, and what is left out.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use serde_json::Value;

use super::bench::{Bench, number};
use crate::golden;
use crate::run::envelope;

/// Molar masses in g/mol, CIAAW 2021 abridged, added up by hand: C5H14ClNO and CH4N2O.
const CHOLINE_CHLORIDE: f64 = 139.623;
const UREA: f64 = 60.056;
const WATER: f64 = 18.015;
/// J/(mol K), CODATA 2018.
const R: f64 = 8.314462618;

const PURE: [&str; 4] =
    ["--pure", "ChCl melts=597K fusion=4300J/mol", "--pure", "urea melts=405.55K fusion=13900J/mol"];

/// Batches of these grams of choline chloride and urea, pure and dry, with a liquidus in °C.
fn bench(batches: &[(&str, &str, &str)]) -> Bench {
    let bench = Bench::new();
    for (at, (chloride, urea, celsius)) in batches.iter().enumerate() {
        let code = format!("E{}", at + 1);
        bench.said(&["batch", "start", "ChCl:urea 1:2", "--mass", "40 g"], 0);
        put_in(&bench, &code, "ChCl", chloride);
        put_in(&bench, &code, "urea", urea);
        bench.said(&["batch", "finish", &code, "--because", "off the recipe on purpose"], 0);
        seen(&bench, &code, celsius);
    }
    bench
}

fn put_in(bench: &Bench, code: &str, component: &str, grams: &str) {
    let mass = format!("{grams} g");
    bench.said(&["batch", "weigh", code, component, &mass, "--because", "off the recipe on purpose"], 0);
}

fn seen(bench: &Bench, code: &str, celsius: &str) -> String {
    let text = format!("{celsius} °C");
    bench.said(&["batch", "measure", code, "liquidus", &text, "--method", "last crystal seen, 0.2 K/min"], 0);
    bench.book().head().expect("it can be read").0.to_string()
}

fn asked(bench: &Bench, more: &[&str]) -> Value {
    envelope(
        &bench.said(&[&["liquidus", "ChCl", "urea"], &PURE[..], more, &["--format", "json"]].concat(), 0),
    )
}

fn fraction(chloride: f64, urea: f64) -> f64 {
    let (chloride, urea) = (chloride / CHOLINE_CHLORIDE, urea / UREA);
    chloride / (chloride + urea)
}

fn fraction_of(point: &Value) -> f64 {
    number(&point["composition"]["choline-chloride"])
}

fn warned(answer: &Value, code: &str) -> Vec<String> {
    let warnings = answer["warnings"].as_array().expect("a list").iter();
    let own = warnings.filter(|own| own["code"] == code).filter_map(|own| own["message"].as_str());
    own.map(str::to_owned).collect()
}

/// Not by the recipe's 1 : 2, but by what the balance showed.
#[test]
fn fractions_are_those_of_the_real_masses() {
    let bench = bench(&[("13.962", "12.011", "12.3"), ("9", "21", "71")]);
    let answer = &asked(&bench, &["--batch", "E1..E2"])["answer"];
    for (point, (from, chloride, urea, kelvin)) in answer["points"]
        .as_array()
        .expect("a list")
        .iter()
        .zip([("E1", 13.962, 12.011, 285.45), ("E2", 9.0, 21.0, 344.15)])
    {
        assert_eq!((&point["from"], &point["weight"]), (&from.into(), &1.0.into()));
        assert_relative_eq!(fraction_of(point), fraction(chloride, urea), max_relative = 1e-5);
        assert_abs_diff_eq!(number(&point["temperature_k"]), kelvin, epsilon = 1e-9);
        assert_eq!(point["method"], "last crystal seen, 0.2 K/min");
        // Schröder and van Laar, ideal, urea comes out first: 1/T = 1/Tm − R ln x/ΔH.
        let ideal = 1.0 / (1.0 / 405.55 - R * (1.0 - fraction(chloride, urea)).ln() / 13900.0);
        assert_abs_diff_eq!(number(&point["ideal_less_measured_k"]), ideal - kelvin, epsilon = 1e-3);
    }
}

/// Water stands beside a point, and what an ideal liquid would lose by it: x falls to x (1 − w), w its mole fraction.
#[test]
fn water_is_told_and_warned_of() {
    let bench = bench(&[("13.962", "12.011", "12.3"), ("9", "21", "71")]);
    bench.said(&["batch", "water", "E2", "--result", "2.0 wt%"], 0);
    let whole = asked(&bench, &["--batch", "all"]);
    let [dry, wet] = &whole["answer"]["points"].as_array().expect("a list")[..] else { panic!("two points") };
    assert_eq!((number(&dry["water_wt_pct"]), &dry["water_titrated"]), (0.0, &false.into()));
    assert_abs_diff_eq!(number(&dry["below_ideal_by_water_k"]), 0.0, epsilon = 1e-9);
    assert_eq!(wet["water_titrated"], true);
    assert_relative_eq!(number(&wet["water_wt_pct"]), 2.0, max_relative = 1e-9);
    // Of 100 g: 2 g are water, 98 g are 9 parts of choline chloride and 21 of urea.
    let moles = [2.0 / WATER, 98.0 * 0.3 / CHOLINE_CHLORIDE, 98.0 * 0.7 / UREA];
    let share = |component: f64| component / moles.iter().sum::<f64>();
    let ideal = |x: f64| 1.0 / (1.0 / 405.55 - R * x.ln() / 13900.0);
    let lowered = ideal(moles[2] / (moles[1] + moles[2])) - ideal(share(moles[2]));
    assert!(5.0 < lowered, "{lowered}");
    assert_abs_diff_eq!(number(&wet["below_ideal_by_water_k"]), lowered, epsilon = 2e-3);
    let [message] = &warned(&whole, "wet_points")[..] else { panic!("one warning") };
    assert!(message.starts_with("E2: more than 0.5 wt% water"), "{message}");
    let [message] = &warned(&whole, "water_not_titrated")[..] else { panic!("one warning") };
    assert!(message.starts_with("E1: "), "{message}");
    let shown = bench.said(&[&["liquidus", "ChCl", "urea"], &PURE[..], &["--batch", "all"]].concat(), 0);
    golden::check("cli/liquidus-book.txt", &shown);
}

/// What was put in after the measurement does not belong to it.
#[test]
fn a_point_has_the_composition_of_its_day() {
    let bench = bench(&[("10", "20", "80")]);
    bench.said(&["batch", "add", "E1", "--component", "ChCl", "4 g"], 0);
    seen(&bench, "E1", "45");
    let answer = &asked(&bench, &["--batch", "E1"])["answer"];
    let found: Vec<f64> = answer["points"].as_array().expect("a list").iter().map(fraction_of).collect();
    assert_relative_eq!(found[0], fraction(10.0, 20.0), max_relative = 1e-5);
    assert_relative_eq!(found[1], fraction(14.0, 20.0), max_relative = 1e-5);
}

#[test]
fn corrections_and_strikes_count() {
    let bench = bench(&[("10", "20", "80"), ("14", "12", "12")]);
    let entry = seen(&bench, "E1", "78");
    bench.said(&["strike", &entry, "--because", "read off the wrong thermometer"], 0);
    let entry = seen(&bench, "E2", "31");
    let values = ["--set", "value=13", "--set", "text=13 °C", "--because", "digits swapped"];
    bench
        .refused(&["correct", &entry, "--set", "value=13", "--because", "digits swapped"], "does_not_add_up");
    bench.said(&[&["correct", entry.as_str()], &values[..]].concat(), 0);
    let answer = &asked(&bench, &["--batch", "all"])["answer"];
    let points = answer["points"].as_array().expect("a list");
    let celsius: Vec<f64> =
        points.iter().map(|own| (number(&own["temperature_k"]) - 273.15).round()).collect();
    assert_eq!(celsius, [80.0, 12.0, 13.0]);
}

/// Other components, no liquidus, nothing in it: left out, and why; rejected or unfinished: taken in, and said.
#[test]
fn what_is_left_out_is_named_with_its_reason() {
    let bench = bench(&[("10", "20", "80"), ("14", "12", "12")]);
    bench.said(&["batch", "reject", "E2", "--because", "smells of amine"], 0);
    bench.said(&["batch", "start", "ChCl:glycerol 1:2", "--mass", "40 g"], 0);
    put_in(&bench, "E3", "ChCl", "14");
    put_in(&bench, "E3", "glycerol", "18");
    seen(&bench, "E3", "8");
    bench.said(&["batch", "start", "ChCl:urea 1:2", "--mass", "40 g"], 0);
    put_in(&bench, "E4", "ChCl", "14");
    put_in(&bench, "E4", "urea", "12");
    bench.said(&["batch", "measure", "E4", "melting-onset", "10 °C"], 0);
    bench.said(&["batch", "start", "ChCl:urea 1:2", "--mass", "40 g"], 0);
    let whole = asked(&bench, &["--batch", "all"]);
    assert_eq!(whole["answer"]["points"].as_array().expect("a list").len(), 2);
    let left_out = warned(&whole, "batches_left_out");
    assert_eq!(
        left_out,
        [
            "left out: E3: holds glycerol too",
            "left out: E4: no liquidus was measured; the onset of melting is the eutectic, not the liquidus",
            "left out: E5: no liquidus was measured",
        ]
    );
    let taken = warned(&whole, "batches_taken_in");
    assert_eq!(taken, ["taken in: E2: rejected, which says nothing against what was measured of it"]);
    let refusal = bench.refused(
        &[&["liquidus", "ChCl", "urea"], &PURE[..], &["--batch", "E3", "--batch", "E5"]].concat(),
        "nothing_measured",
    );
    assert!(refusal.contains("E3: holds glycerol too; E5: no liquidus was measured"), "{refusal}");
}

/// A model through the points of the book is that through a file with the same points, and both together count both.
#[test]
fn a_fit_to_batches_is_that_to_a_file_of_them() {
    let bench = bench(&[("6", "24", "104.1"), ("9", "21", "71.6"), ("13.962", "12.011", "14.2")]);
    let model = ["--model", "margules"];
    let of_book = asked(&bench, &[&model[..], &["--batch", "all"]].concat());
    let mut file = "x,T (K)\n".to_owned();
    for own in of_book["answer"]["points"].as_array().expect("a list") {
        file.push_str(&format!("{},{}\n", fraction_of(own), number(&own["temperature_k"])));
    }
    bench.write("points.csv", &file);
    let columns = ["--points", "points.csv", "--x", "x", "--y", "T"];
    let of_file = asked(&bench, &[&model[..], &columns].concat());
    let of = |answer: &Value, key: &str| number(&answer["answer"]["fit"]["parameters"][0][key]);
    assert_relative_eq!(of(&of_book, "value"), of(&of_file, "value"), max_relative = 1e-9);
    assert_relative_eq!(of(&of_book, "sd"), of(&of_file, "sd"), max_relative = 1e-9);
    let both = asked(&bench, &[&model[..], &columns, &["--batch", "all"]].concat());
    assert_eq!(both["answer"]["fit"]["n"], 6);
    assert_relative_eq!(of(&both, "value"), of(&of_file, "value"), max_relative = 1e-6);
}
