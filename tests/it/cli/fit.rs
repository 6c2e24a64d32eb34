//! `fit`: the certified numbers through the program itself, honest words where data say too little.

use approx::assert_relative_eq;
use serde_json::Value;
use tempfile::TempDir;

use crate::golden;
use crate::run::{Run, envelope, folder, run_in, write};

/// The points of `tests/fixtures/statistics/fits` with heads as a bench has them.
fn bench() -> TempDir {
    let folder = folder();
    let decay = include_str!("../../fixtures/statistics/fits/decay-offset.csv");
    let vft = include_str!("../../fixtures/statistics/fits/vft-viscosity.csv");
    write(folder.path(), "decay.csv", decay.replace("x,y", "day (d),voltage (V)").as_bytes());
    write(folder.path(), "viscosity.csv", vft.replace("x,y", "temperature (K),viscosity (mPa·s)").as_bytes());
    let celsius: String = vft
        .lines()
        .skip(1)
        .map(|line| {
            let (kelvin, rest) = line.split_once(',').expect("two columns");
            let kelvin: f64 = kelvin.parse().expect("a number");
            format!("{:.2};{}\n", kelvin - 273.15, rest.replace('.', ","))
        })
        .collect();
    write(folder.path(), "celsius.csv", format!("T (°C);viscosity\n{celsius}").as_bytes());
    write(folder.path(), "short.csv", b"day,voltage\n0,1\n1,0.98\n2,0.959\n3,0.941\n4,0.921\n");
    write(
        folder.path(),
        "cells.csv",
        b"day,voltage (V),cell\n0,1.320,C1\n0,1.318,C2\n7,1.314,C1\n7,1.312,C2\n14,1.309,C1\n14,,C2\n\
          21,1.303,C1\n21,1.301,C2\n28,1.297,C1\n28,1.297,C2\n",
    );
    folder
}

fn run(folder: &TempDir, line: &str) -> Run {
    let arguments: Vec<&str> = line.split(' ').collect();
    run_in(folder.path(), &arguments)
}

fn json(folder: &TempDir, line: &str, code: i32) -> Value {
    let run = run(folder, &format!("{line} --format json"));
    assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{line}");
    envelope(&run.stdout)["answer"].clone()
}

#[test]
fn it_shows_parameters_curve_and_residuals() {
    let folder = bench();
    for (name, line, code) in [
        ("fit-decay.txt", "fit decay.csv --x day --y voltage --form decay --at 90", 0),
        (
            "fit-vft.md",
            "fit viscosity.csv --x temperature --y viscosity --form vft --log --format markdown",
            0,
        ),
        ("fit-short.txt", "fit short.csv --x day --y voltage --form decay", 1),
        ("fit-cells.txt", "fit cells.csv --x day --y voltage --form line --by cell", 0),
        ("fit-cells.csv", "fit cells.csv --x day --y voltage --form line --by cell --format csv", 0),
    ] {
        let run = run(&folder, line);
        assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{line}");
        golden::check(&format!("cli/{name}"), &run.stdout);
    }
}

/// Values of the fixture, through header, units and decimal commas.
#[test]
fn temperatures_are_taken_as_their_header_says() {
    let folder = bench();
    let kelvin = json(&folder, "fit viscosity.csv --x temperature --y viscosity --form vft", 0);
    let celsius = json(&folder, "fit celsius.csv --x T --y viscosity --form vft --at 25", 0);
    for (parameter, (name, expected)) in
        [("a", 0.140724291877), ("b", 921.172792305278), ("T0", 168.120203322931)].iter().enumerate()
    {
        for answer in [&kelvin, &celsius] {
            assert_eq!(answer["parameters"][parameter]["name"], *name);
            let value = answer["parameters"][parameter]["value"].as_f64().expect("a number");
            assert_relative_eq!(value, *expected, max_relative = 1e-6);
        }
    }
    assert_eq!(celsius["at"][0]["x"], Value::from(298.15));
}

#[test]
fn a_fit_has_its_keys() {
    let folder = bench();
    let answer = json(&folder, "fit decay.csv --x day --y voltage --form decay", 0);
    for key in ["rss", "residual_sd", "n", "df", "r_squared", "condition"] {
        assert!(answer[key].is_number(), "{key}");
    }
    assert_eq!((&answer["form"], &answer["converged"]), (&Value::from("decay"), &Value::from(true)));
    assert_eq!(answer["notes"], Value::Array(Vec::new()));
    let names: Vec<&str> = answer["parameters"]
        .as_array()
        .expect("a list")
        .iter()
        .map(|own| own["name"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["a", "b", "tau"]);
    let groups = json(&folder, "fit cells.csv --x day --y voltage --form line --by cell", 0);
    assert_eq!(
        (&groups["groups"][1]["group"], &groups["groups"][1]["n"]),
        (&Value::from("C2"), &Value::from(4))
    );
}

/// A straight line is no decay, and the answer is no.
#[test]
fn what_the_data_can_not_tell_is_said() {
    let folder = bench();
    let answer = json(&folder, "fit short.csv --x day --y voltage --form decay", 1);
    assert_eq!(answer["identifiable"], Value::from(false));
    assert!(!answer["notes"].as_array().expect("a list").is_empty());
    let two = json(&folder, "fit decay.csv --x day --y voltage --form double-decay", 1);
    assert_eq!(two["identifiable"], Value::from(false));
}
