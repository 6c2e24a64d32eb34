//! What statistics say of the sample book, against the numbers that it was made from (`data/demo/truth.toml`).

use approx::assert_abs_diff_eq;
use serde_json::Value;

use super::Sample;

fn group<'v>(list: &'v Value, name: &str) -> &'v Value {
    let groups = list.as_array().expect("they are groups");
    let found = groups.iter().find(|group| group["group"].as_str().is_some_and(|own| own.starts_with(name)));
    found.unwrap_or_else(|| panic!("{name} in {list}"))
}

/// B at 1.459 V less 1.10 mV a day and C at 1.428 V less 1.65 mV a day are 42.6 mV apart on day 21, when the settling
/// has ended (exp(−21/1.6)). Means of 12 cells in 2 batches each: sd √(4²/2 + 9²/12) mV each, 5.4 mV of the difference.
#[test]
fn the_difference_is_that_of_the_model() {
    let compared = Sample::new().json(&["compare", "--metric", "voltage day=21"]);
    let pairs = compared["pairs"].as_array().expect("they are pairs");
    let pair = pairs.iter().find(|pair| pair["a"].as_str().is_some_and(|name| name.starts_with("Liquid B")));
    let difference = pair.expect("B against C")["difference"].as_f64().expect("it is a number");
    assert_abs_diff_eq!(difference, 0.0426, epsilon = 3.0 * 0.0054);
    // C9 was retired on day 12, C28 on day 26.
    let failed = group(&compared["failures"], "Liquid C");
    assert_eq!((failed["failed"].as_u64(), &failed["causes"][0]["counted"]), (Some(1), &Value::Bool(true)));
    let out = group(&compared["failures"], "Liquid A: blend");
    assert_eq!((out["failed"].as_u64(), &out["causes"][0]["counted"]), (Some(1), &Value::Bool(false)));
}

/// C loses 11.55 mV a week, A 6.3 mV. The settling after day 14 is below 10 µV.
#[test]
fn the_slopes_are_those_of_the_model() {
    let sample = Sample::new();
    let slopes = sample.json(&["summary", "--metric", "slope from=14 to=42"]);
    for (name, loss) in [("Liquid A: ethylene", 0.0063), ("Liquid B", 0.0077), ("Liquid C", 0.01155)] {
        let mean = group(&slopes, name)["mean"].as_f64().expect("it is a number");
        // The loss of a cell scatters by exp(0.22 z), whose mean is 1.0245; six cells or more.
        assert_abs_diff_eq!(-mean, loss * 1.0245, epsilon = 3.0 * loss * 0.22 / 6f64.sqrt());
    }
}

/// 18 Ω for A, 52 Ω for B, growing by 0.6 % a day: the polarisation of 20 mV under 100 Ω adds 1 to 2 Ω.
#[test]
fn the_resistances_are_in_the_order_of_the_model() {
    let sample = Sample::new();
    let ohms = sample.json(&["summary", "--metric", "resistance day=21 method=open-to-loaded"]);
    let mean = |name: &str| group(&ohms, name)["mean"].as_f64().expect("it is a number");
    let (a, b) = (mean("Liquid A: ethylene"), mean("Liquid B"));
    assert!(17.0 < a && a < 27.0, "{a}");
    assert!(48.0 < b && b < 70.0, "{b}");
}
