//! `curve`: published values, a file, batches of the book; what it shows and the keys that scripts rely on.

use approx::assert_relative_eq;
use serde_json::Value;

use crate::golden;
use crate::run::{answer, envelope, folder, json, run_in, write};

#[test]
fn it_shows_values_curve_and_sources() {
    let viscosity = ["curve", "ChCl:EG 1:2", "--property", "viscosity", "--at", "40 °C", "--at", "-10 °C"];
    golden::check("cli/curve-viscosity.txt", &answer(&viscosity, 0));
    let density =
        ["curve", "ChCl:glycerol 1:2", "--property", "density", "--at", "25 °C", "--format", "markdown"];
    golden::check("cli/curve-density.md", &answer(&density, 0));
    // One published conductivity is no curve, and one temperature no pair: the answer is no.
    golden::check(
        "cli/curve-conductivity.txt",
        &answer(&["curve", "ChCl:EG 1:2", "--property", "conductivity"], 1),
    );
    golden::check("cli/curve-walden.txt", &answer(&["curve", "ChCl:EG 1:2", "--property", "walden"], 1));
}

#[test]
fn an_extrapolation_is_called_one() {
    let arguments = ["curve", "ChCl:EG 1:2", "--property", "viscosity", "--at", "40 °C", "--at", "-10 °C"];
    let answer = json(&arguments, 0);
    let series = answer["series"].as_array().expect("a list");
    let last = series.last().expect("there are series");
    assert_eq!(last["series"], "all together");
    let beyond: Vec<&Value> =
        last["at"].as_array().expect("a list").iter().map(|at| &at["beyond_data"]).collect();
    assert_eq!(beyond, [&Value::from(false), &Value::from(true)]);
    for own in series {
        assert!(own["points"].is_array() && own["n"].is_number(), "{own}");
    }
}

/// The other way round, the liquid is the same one.
#[test]
fn the_order_of_the_parts_changes_nothing() {
    let of = |liquid: &str| json(&["curve", liquid, "--property", "density"], 0)["series"].clone();
    assert_eq!(of("ChCl:glycerol 1:2"), of("glycerol:ChCl 2:1"));
    assert_eq!(of("ChCl:glycerol 1:2"), of("ChCl:glycerol 0.5:1"));
}

/// What was measured of a batch is a series by its code; in a file it is the same.
#[test]
fn a_batch_and_a_file_give_one_curve() {
    let folder = folder();
    let run = |arguments: &[&str]| {
        let run = run_in(folder.path(), arguments);
        assert_eq!(run.code, 0, "{arguments:?}: {}", run.stderr);
        run.stdout
    };
    run(&["init", "lab", "--laboratory", "Room 12", "--by", "AB"]);
    run(&["bottle", "receive", "ChCl", "--net", "100 g", "--book", "lab"]);
    run(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--bottle", "B1", "--book", "lab"]);
    let mut file = "T (°C),eta (mPa·s)\n".to_owned();
    for (celsius, value) in [("20", "48.2"), ("30", "33.1"), ("40", "24.0"), ("50", "18.1")] {
        let (value_unit, at) = (format!("{value} mPa·s"), format!("{celsius} °C"));
        run(&["batch", "measure", "E1", "viscosity", &value_unit, "--at", &at, "--book", "lab"]);
        file.push_str(&format!("{celsius},{value}\n"));
    }
    write(folder.path(), "mine.csv", file.as_bytes());
    let asked = ["--property", "viscosity", "--at", "25 °C", "--book", "lab", "--format", "json"];
    let value = |from: &[&str]| {
        let answer = envelope(&run(&[&["curve"], from, &asked[..]].concat()))["answer"].clone();
        answer["series"][0]["at"][0]["value"].as_f64().expect("a number")
    };
    let (batch, points) =
        (value(&["--batch", "E1"]), value(&["--points", "mine.csv", "--x", "T", "--y", "eta"]));
    assert_relative_eq!(batch, points, max_relative = 1e-12);
    assert!((33.1..48.2).contains(&batch));
}
