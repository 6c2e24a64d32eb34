//! The JSON that scripts rely on.

use meltbook::input::{Fault, Faults, Place, Warning};
use meltbook::report::envelope;
use serde::Serialize;
use serde_json::{Value, json};

use crate::golden;

#[derive(Serialize)]
struct Answer {
    weigh_g: f64,
    volume_ml: f64,
    low_g: Option<f64>,
    high_g: f64,
}

/// One third has 16 digits as a double (IEEE 754 binary64), and all of them are written.
const THIRD: f64 = 1.0 / 3.0;

fn sample() -> String {
    let answer = Answer { weigh_g: THIRD, volume_ml: f64::NAN, low_g: None, high_g: f64::INFINITY };
    let warnings = [Warning::new("density_missing", "no density is known at 25 °C")];
    envelope::answer("plan", &answer, &warnings).unwrap()
}

#[test]
fn an_answer_is_in_its_envelope() {
    golden::check("render/answer.json", &sample().replace(env!("CARGO_PKG_VERSION"), "VERSION"));
}

#[test]
fn numbers_keep_every_digit_and_the_undefined_is_null() {
    let read: Value = serde_json::from_str(&sample()).unwrap();
    assert_eq!(read["answer"]["weigh_g"].as_f64(), Some(THIRD));
    assert_eq!(read["answer"]["volume_ml"], Value::Null);
    assert_eq!(read["answer"]["low_g"], Value::Null);
    assert_eq!(read["answer"]["high_g"], Value::Null);
}

#[test]
fn faults_are_in_theirs() {
    let text = "name = \"a\"\nratio = x\n";
    let mut faults = Faults::none();
    faults.push(Fault::new("bad_toml", "x is no value", Place::in_text("r.toml", text, 19..20)));
    faults.push(
        Fault::new("unknown_key", "unknown key \"a\"", Place::named("--bottle")).with_hint("Leave it out."),
    );
    let read: Value = serde_json::from_str(&envelope::faults(&faults).unwrap()).unwrap();
    let expected = json!({
        "meltbook": env!("CARGO_PKG_VERSION"),
        "kind": "fault",
        "faults": [
            {"code": "bad_toml", "message": "x is no value", "where": "r.toml:2:9", "hint": null},
            {"code": "unknown_key", "message": "unknown key \"a\"", "where": "--bottle", "hint": "Leave it out."},
        ],
    });
    assert_eq!(read, expected);
}

#[test]
fn a_warning_comes_back() {
    let warning = Warning::new("wet", "wetter than asked for");
    let written = serde_json::to_string(&warning).unwrap();
    assert_eq!(serde_json::from_str::<Warning>(&written).unwrap(), warning);
}
