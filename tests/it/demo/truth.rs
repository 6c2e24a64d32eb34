//! The readings are those of the model: each cell by its liquid, and all that is read of it consistent.

use std::collections::BTreeMap;

use serde_json::Value;

use super::Sample;

/// The last readings of a kind on a day, by cell.
fn on(sample: &Sample, what: &str, day: &str) -> BTreeMap<String, f64> {
    let list = sample.json(&["reading", "list", "--what", what, "--day", day]);
    let list = list.as_array().cloned().expect("a list");
    list.iter()
        .map(|reading| {
            let text = |key: &str| reading[key].as_str().expect("a text").to_owned();
            (text("cell"), number(reading))
        })
        .collect()
}

fn number(reading: &Value) -> f64 {
    ["voltage_v", "current_a"].iter().find_map(|key| reading[*key].as_f64()).expect("a number")
}

/// The two cells that fail; what they read says nothing of their liquids.
const FAILED: [&str; 2] = ["C9", "C28"];

/// The cells of A are the first twelve, then those of B, then those of C, without those that fail.
fn groups(values: &BTreeMap<String, f64>) -> Vec<Vec<f64>> {
    let of = |first: u32| {
        let cells = (first..first + 12).map(|number| format!("C{number}"));
        let sound = cells.filter(|cell| !FAILED.contains(&cell.as_str()));
        sound.filter_map(|cell| values.get(&cell).copied()).collect()
    };
    [1, 13, 25].into_iter().map(of).collect()
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len() as f64
}

fn sd(values: &[f64]) -> f64 {
    let mean = mean(values);
    (values.iter().map(|value| (value - mean).powi(2)).sum::<f64>() / (values.len() - 1) as f64).sqrt()
}

/// After six weeks A and B differ by about as much as single cells scatter, and both clearly from C.
#[test]
fn one_pair_of_liquids_is_hard_to_tell_apart() {
    let sample = Sample::new();
    let groups = groups(&on(&sample, "open-circuit", "2026-10-21"));
    let scatter = mean(&groups.iter().map(|group| sd(group)).collect::<Vec<_>>());
    assert!((0.006..0.022).contains(&scatter), "{scatter}");
    let apart = |one: usize, other: usize| (mean(&groups[one]) - mean(&groups[other])) / scatter;
    assert!((0.0..2.5).contains(&apart(0, 1)), "{}", apart(0, 1));
    assert!(3.0 < apart(0, 2) && 3.0 < apart(1, 2), "{} {}", apart(0, 2), apart(1, 2));
}

/// Ohm's law: the resistance by the load and that by the short circuit are the same but for the polarisation.
#[test]
fn readings_of_a_cell_fit_together() {
    let sample = Sample::new();
    let day = "2026-10-07";
    let (open, load, short) =
        (on(&sample, "open-circuit", day), on(&sample, "under-load", day), on(&sample, "short-circuit", day));
    assert_eq!((open.len(), load.len(), short.len()), (34, 34, 34));
    for (cell, volts) in &open {
        let by_load = 100.0 * (volts / load[cell] - 1.0);
        let by_short = volts / short[cell] - 0.5;
        let ratio = by_load / by_short;
        assert!((0.85..1.2).contains(&ratio), "{cell}: {by_load} by the load, {by_short} by the short");
    }
}

/// It settles fast at first and then loses slowly.
#[test]
fn cells_settle_and_then_lose_slowly() {
    let sample = Sample::new();
    let days = ["2026-09-09", "2026-09-14", "2026-09-21", "2026-10-19"];
    let means: Vec<Vec<f64>> = days
        .iter()
        .map(|day| groups(&on(&sample, "open-circuit", day)).iter().map(|group| mean(group)).collect())
        .collect();
    (0..3).for_each(|liquid| {
        let fall = |from: usize, to: usize, days: f64| (means[from][liquid] - means[to][liquid]) / days;
        assert!(4.0 * fall(2, 3, 28.0) < fall(0, 1, 5.0), "the first days");
        assert!(0.0005 < fall(2, 3, 28.0), "the later weeks");
    });
}
