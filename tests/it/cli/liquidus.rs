//! `liquidus`: what a person sees, the keys that scripts rely on, honest words where data end.

use serde_json::Value;

use crate::golden;
use crate::run::{Run, envelope, folder, run_in, write};

const N: &str = "naphthalene melts=353.37K fusion=19010J/mol";
const B: &str = "biphenyl melts=342.08K fusion=18570J/mol";
const D: &str = "p-dichlorobenzene melts=326.25K fusion=18190J/mol";

/// The measured points of the fixture with heads as a bench has them.
fn run(arguments: &[&str]) -> Run {
    let folder = folder();
    let measured = include_str!("../../fixtures/phases/liquidus_naphthalene_biphenyl_measured.csv");
    write(folder.path(), "measured.csv", measured.replace("T_measured_K", "T (K)").as_bytes());
    run_in(folder.path(), &[&["liquidus"], arguments].concat())
}

fn shown(arguments: &[&str], code: i32) -> String {
    let run = run(arguments);
    assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{arguments:?}");
    run.stdout
}

fn json(arguments: &[&str], code: i32) -> Value {
    envelope(&shown(&[arguments, &["--format", "json"]].concat(), code))
}

const MEASURED: [&str; 6] = ["--points", "measured.csv", "--x", "x_naphthalene", "--y", "T"];
const PAIR: [&str; 6] = ["naphthalene", "biphenyl", "--pure", N, "--pure", B];
const THREE: [&str; 9] =
    ["naphthalene", "biphenyl", "p-dichlorobenzene", "--pure", N, "--pure", B, "--pure", D];

#[test]
fn it_shows_the_prediction_and_what_it_rests_on() {
    for (name, arguments, code) in [
        ("liquidus-disagree.txt", vec!["ChCl", "urea", "--liquid-at", "80 °C"], 0),
        ("liquidus-cold.txt", vec!["ChCl", "urea", "--liquid-at", "-20 °C"], 1),
        ("liquidus-three.txt", [&THREE[..], &["--liquid-at", "25 °C"]].concat(), 0),
        ("liquidus-fitted.txt", [&PAIR[..], &MEASURED, &["--model", "redlich-kister terms=2"]].concat(), 0),
        ("liquidus-two-liquids.txt", [&PAIR[..], &["--model", "margules A=9kJ/mol"]].concat(), 0),
        (
            "liquidus-compound.md",
            [
                &PAIR[..],
                &["--compound", "naphthalene:biphenyl 1:2 melts=325±1K fusion=50kJ/mol", "--glass", "-60 °C"],
                &["--format", "markdown"],
            ]
            .concat(),
            0,
        ),
        ("liquidus.csv", [&PAIR[..], &["--format", "csv"]].concat(), 0),
        (
            "liquidus-three.html",
            [&THREE[..], &["--model", "margules naphthalene:biphenyl A=-1500J/mol", "--format", "html"]]
                .concat(),
            0,
        ),
    ] {
        golden::check(&format!("cli/{name}"), &shown(&arguments, code));
    }
}

#[test]
fn the_answer_has_its_keys() {
    let whole = json(&["ChCl", "urea"], 0);
    let answer = &whole["answer"];
    assert_eq!(answer["model"], "ideal");
    let eutectic = &answer["eutectics"][0];
    assert!(eutectic["composition"]["choline-chloride"].is_number() && eutectic["temperature_k"].is_number());
    for point in answer["curve"].as_array().expect("a list") {
        assert!(point["composition"]["urea"].is_number() && point["temperature_k"].is_number());
        assert!(point["solid"].is_string());
    }
    // Both published sets, the first of them in front.
    let sets = answer["sets"].as_array().expect("a list");
    assert_eq!(sets.len(), 2);
    assert_eq!(sets[0]["eutectics"], answer["eutectics"]);
    let apart = sets[1]["eutectics"][0]["temperature_k"].as_f64().unwrap()
        - eutectic["temperature_k"].as_f64().unwrap();
    assert!((46.0..46.3).contains(&apart), "{apart}");
    assert_eq!((&answer["seed"], &answer["draws"]), (&Value::from(1), &Value::from(2000)));
    let codes: Vec<&str> =
        whole["warnings"].as_array().expect("a list").iter().filter_map(|own| own["code"].as_str()).collect();
    for code in ["transition_left_out", "decomposes", "ideal_assumed", "bands_in_part", "data_disagree"] {
        assert!(codes.contains(&code), "{code}");
    }
}

/// "Deep" as a number: with A below 0 the eutectic lies below the ideal one by what the fixture's two eutectics say.
#[test]
fn the_depression_is_a_number() {
    let pure = ["--pure", "ChCl melts=597K fusion=4300J/mol", "--model", "margules A=-4000J/mol"];
    let answer = &json(&[&["ChCl", "urea"], &pure[..]].concat(), 0)["answer"];
    // liquidus_nonideal.csv and eutectic_ideal_binary.csv: 343.21685855 K − 303.66169841 K.
    let depression = answer["depression_k"].as_f64().expect("a number");
    assert!((depression - 39.55516014).abs() < 1e-5, "{depression}");
}

#[test]
fn a_seed_gives_the_same_and_another_not() {
    let of = |seed: &str| json(&["ChCl", "urea", "--seed", seed], 0)["answer"]["eutectic_band_k"].clone();
    assert_eq!(of("5"), of("5"));
    assert_ne!(of("5"), of("6"));
}

/// Swapped, the answer is the same with the fractions the other way round.
#[test]
fn the_order_of_the_components_changes_nothing() {
    let eutectic = |arguments: &[&str]| json(arguments, 0)["answer"]["eutectics"][0].clone();
    let (one, other) = (eutectic(&["thymol", "phenol"]), eutectic(&["phenol", "thymol"]));
    for key in ["thymol", "phenol"] {
        let (a, b) = (one["composition"][key].as_f64().unwrap(), other["composition"][key].as_f64().unwrap());
        assert!((a - b).abs() < 1e-9);
    }
}

/// The window of the answer is where the curve is not above the temperature.
#[test]
fn a_window_ends_where_the_curve_passes_the_temperature() {
    let pair = [&PAIR[..], &["--liquid-at", "50 °C"]].concat();
    let answer = &json(&pair, 0)["answer"];
    let window = &answer["liquid_windows"][0];
    let end = |key: &str| window[key]["naphthalene"].as_f64().expect("a number");
    for point in answer["curve"].as_array().expect("a list") {
        let x = point["composition"]["naphthalene"].as_f64().expect("a number");
        let kelvin = point["temperature_k"].as_f64().expect("a number");
        assert_eq!((end("from")..=end("to")).contains(&x), kelvin <= 323.15, "{x}");
    }
    let none = json(&[&PAIR[..], &["--liquid-at", "10 °C"]].concat(), 1);
    assert_eq!(none["answer"]["liquid_windows"], Value::Array(Vec::new()));
}

/// Below a measured glass transition no sign of a curve, a band or a eutectic stands in the chart, no row of the curve
/// has a temperature, and it is said; above it all is as without.
#[test]
fn nothing_is_drawn_below_a_glass() {
    let model = ["--model", "margules A=-4000±400J/mol", "--pure", "ChCl melts=597±7K fusion=4300±600J/mol"];
    let liquid = [&["ChCl", "urea"], &model[..]].concat();
    let with = [&liquid[..], &["--glass", "50 °C"]].concat();
    // The eutectic of this liquid lies at 30.5 °C: liquidus_nonideal.csv, 303.66169841 K.
    let shown = shown(&with, 0);
    let chart = chart_of(&shown);
    let level = chart.iter().position(|line| line.ends_with("glass")).expect("the glass is drawn");
    for line in &chart[level + 1..] {
        assert!(!line.contains(['•', '·', '░', '●']), "{line}");
    }
    assert!(chart[..level].iter().any(|line| line.contains('•')));
    let words = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("That lies below the glass transition at 50.0 °C"), "{shown}");
    let rows = shown.lines().skip_while(|line| !line.starts_with("The curve"));
    let rows: Vec<&str> = rows.filter(|line| line.trim_start().starts_with("0.")).collect();
    assert_eq!(rows.iter().filter(|row| row.contains("a glass")).count(), 2, "{rows:?}");
    for (with, without) in curve(&with).iter().zip(curve(&liquid)) {
        assert_eq!(with["temperature_k"], without["temperature_k"]);
        assert_eq!(with["below_glass"], with["temperature_k"].as_f64().unwrap() < 323.15);
        assert_eq!(without["below_glass"], false);
    }
}

fn chart_of(shown: &str) -> Vec<&str> {
    let lines = shown.lines().skip_while(|line| !line.starts_with("temperature (°C)"));
    lines.take_while(|line| !line.contains("mole fraction")).filter(|line| !line.contains('└')).collect()
}

fn curve(arguments: &[&str]) -> Vec<Value> {
    json(arguments, 0)["answer"]["curve"].as_array().expect("a list").clone()
}

/// A compound that comes apart on heating is said to.
#[test]
fn incongruent_melting_is_said() {
    let pair = ["A", "B", "--pure", "A melts=400K fusion=20kJ/mol", "--pure", "B melts=300K fusion=10kJ/mol"];
    let compound = ["--compound", "A:B 1:1 melts=340.1157K fusion=20kJ/mol"];
    let whole = json(&[&pair[..], &compound].concat(), 0);
    let own = &whole["answer"]["peritectics"][0];
    assert!((own["temperature_k"].as_f64().unwrap() - 330.0).abs() < 2e-3, "{own}");
    let warnings = whole["warnings"].as_array().expect("a list");
    let said = warnings.iter().find(|own| own["code"] == "melts_incongruently").expect("it is said");
    let message = said["message"].as_str().unwrap();
    // 330 K.
    assert!(
        message.contains("comes apart at 56.9\u{a0}°C") || message.contains("comes apart at 56.8\u{a0}°C"),
        "{message}"
    );
    assert!(message.contains("into A and a liquid of 0.279 A"), "{message}");
    // At a melting point above what A's curve has there it melts as itself, and nothing is said.
    let congruent = ["--compound", "A:B 1:1 melts=370K fusion=20kJ/mol"];
    let whole = json(&[&pair[..], &congruent].concat(), 0);
    let warnings = whole["warnings"].as_array().expect("a list");
    assert!(warnings.iter().all(|own| own["code"] != "melts_incongruently"));
    assert_eq!(whole["answer"]["eutectics"].as_array().expect("a list").len(), 2);
}

/// A column of weights does to the answer what rows that stand there so many times do.
#[test]
fn weights_of_a_file_are_repeats() {
    let folder = folder();
    let rows = [(0.2, 331.9, 1), (0.35, 325.2, 3), (0.45, 317.2, 2), (0.6, 329.9, 1), (0.8, 342.1, 4)];
    let (mut weighted, mut repeated) = ("x,T (K),w\n".to_owned(), "x,T (K)\n".to_owned());
    for (x, kelvin, weight) in rows {
        weighted.push_str(&format!("{x},{kelvin},{weight}\n"));
        (0..weight).for_each(|_| repeated.push_str(&format!("{x},{kelvin}\n")));
    }
    write(folder.path(), "weighted.csv", weighted.as_bytes());
    write(folder.path(), "repeated.csv", repeated.as_bytes());
    let of = |file: &str, more: &[&str]| {
        let columns = ["--points", file, "--x", "x", "--y", "T", "--model", "margules", "--format", "json"];
        let run = run_in(folder.path(), &[&["liquidus"], &PAIR[..], &columns, more].concat());
        assert_eq!(run.code, 0, "{}", run.stderr);
        envelope(&run.stdout)["answer"]["fit"]["parameters"][0]["value"].as_f64().expect("a number")
    };
    let (one, other) = (of("weighted.csv", &["--weights", "w"]), of("repeated.csv", &[]));
    assert!((one - other).abs() < 1e-6 * other.abs(), "{one} {other}");
    assert!((one - of("weighted.csv", &[])).abs() > 1e-3 * other.abs(), "the weights are read");
}
