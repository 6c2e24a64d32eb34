//! `summary`, `compare` and `sample-size` on the cells of the book, with values by hand.

use approx::assert_relative_eq;
use meltbook::record::CodeKind;
use serde_json::Value;

use super::lab::{DESIGN, Decided, Lab};

const BUILT: &str = "2026-11-02T09:00:00Z";
const NOW: &str = "2026-11-25T18:00:00Z";
const DAY_10: &str = "2026-11-12T09:00:00Z";
const DAY_18: &str = "2026-11-20T09:00:00Z";
const A: &str = "choline-chloride and glycerol";
const B: &str = "choline-chloride and ethylene-glycol";

/// Two lots of each of A and B with three cells in each: C1 to C3 in E1, C4 to C6 in E2, C7 to C9 in E3, C10 to C12 in
/// E4; C13 alone in E5, of urea. Open-circuit voltages on days 10 and 18.
fn lab() -> Lab {
    let lab = Lab::new();
    for donor in ["glycerol", "glycerol", "ethylene-glycol", "ethylene-glycol", "urea"] {
        lab.batch(CodeKind::Electrolyte, &["choline-chloride", donor], 40.0, Decided::Release);
    }
    lab.batch(CodeKind::CathodeMix, &["manganese-dioxide", "graphite"], 10.0, Decided::Release);
    for (batch, count) in [("E1", "3"), ("E2", "3"), ("E3", "3"), ("E4", "3"), ("E5", "1")] {
        let uses = format!("{batch}=1.2g M1=0.4g");
        let build = ["cell", "build", "--design", DESIGN, "--use", &uses, "--count", count, "--seed", "7"];
        lab.answer(BUILT, &build, 0);
    }
    read(&lab, DAY_10, "open-circuit", &VOLTS_10, &[]);
    read(&lab, DAY_18, "open-circuit", &VOLTS_18, &[]);
    lab
}

const VOLTS_10: [f64; 13] =
    [1.420, 1.424, 1.428, 1.416, 1.421, 1.423, 1.381, 1.386, 1.388, 1.379, 1.380, 1.391, 1.5];
/// Two hundredths of a volt below, but for C1, which fell by four.
const VOLTS_18: [f64; 13] =
    [1.380, 1.404, 1.408, 1.396, 1.401, 1.403, 1.361, 1.366, 1.368, 1.359, 1.360, 1.371, 1.48];

/// Readings of C1, C2 and so on at one time.
fn read(lab: &Lab, at: &str, what: &str, values: &[f64], more: &[&str]) {
    let values: Vec<String> =
        values.iter().enumerate().map(|(place, value)| format!("C{}={value}", place + 1)).collect();
    let (values, unit) = (values.join(" "), if what == "short-circuit" { "mA" } else { "V" });
    let mut arguments =
        vec!["reading", "add", "--what", what, "--values", &values, "--unit", unit, "--when", at];
    arguments.extend(more);
    lab.answer(NOW, &arguments, 0);
}

#[track_caller]
fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is a number"))
}

fn group<'v>(list: &'v Value, name: &str) -> &'v Value {
    let groups = list.as_array().expect("they are groups");
    groups.iter().find(|group| group["group"] == name).unwrap_or_else(|| panic!("{name} in {list}"))
}

/// Halfway between the days: 1.400, 1.414, 1.418 in E1; 1.406, 1.411, 1.413 in E2. Their mean is 1.410333… V.
#[test]
fn values_lie_between_the_readings_around_the_day() {
    let lab = lab();
    let summary = lab.json(NOW, &["summary", "--metric", "voltage day=14"]);
    let own = group(&summary, A);
    assert_eq!((&own["n"], own["unit"].as_str()), (&6.into(), Some("V")));
    assert_relative_eq!(number(&own["mean"]), (1.400 + 1.414 + 1.418 + 1.406 + 1.411 + 1.413) / 6.0);
    assert_relative_eq!(number(&own["min"]), 1.400, max_relative = 1e-12);
    let lots = lab.json(NOW, &["summary", "--metric", "voltage day=14", "--by", "batch"]);
    assert_relative_eq!(number(&group(&lots, "E2")["mean"]), 1.410, max_relative = 1e-12);
    assert_eq!(lots.as_array().map(Vec::len), Some(5));
    let designs = lab.json(NOW, &["summary", "--metric", "voltage day=14", "--by", "design", "--of", "E1"]);
    assert_eq!((designs.as_array().map(Vec::len), &designs[0]["n"]), (Some(1), &3.into()));
    let some = lab.json(NOW, &["summary", "--metric", "voltage day=10", "--recipe", B, "--cells", "C1-C8"]);
    assert_eq!(some[0]["n"], 2);
    let screen = lab.answer(NOW, &["summary", "--metric", "voltage day=14", "--of", "E1"], 0);
    assert!(screen.contains("What was taken of each cell"), "{screen}");
    assert!(screen.contains('│') && screen.contains('┼'), "a strip plot:\n{screen}");
}

/// The unit is the batch, since two electrolytes have two lots each; C13 is alone and takes no part.
#[test]
fn lots_are_the_unit() {
    let lab = lab();
    let compared = lab.json(NOW, &["compare", "--metric", "voltage day=14"]);
    assert_eq!(compared["unit_of_analysis"], "batch");
    let own = group(&compared["groups"], A);
    assert_eq!((&own["n"], &own["cells"], &own["batches"]), (&2.into(), &6.into(), &2.into()));
    assert_eq!(compared["pairs"].as_array().map(Vec::len), Some(1));
    // (1.41066… + 1.410)/2 less (1.375 + 1.37333…)/2.
    let difference = (4.232 / 3.0 + 1.410) / 2.0 - (1.375 + 4.120 / 3.0) / 2.0;
    assert_relative_eq!(number(&compared["pairs"][0]["difference"]), difference, max_relative = 1e-9);
    let cells = lab.json(NOW, &["compare", "--metric", "voltage day=14", "--of", "E1", "--of", "E3"]);
    assert_eq!(cells["unit_of_analysis"], "cell");
}

/// What `reading list` writes, `compare` reads, and comes to the same to the last digit.
#[test]
fn the_book_and_its_table_come_to_the_same() {
    let lab = lab();
    // It disturbs what is read an hour later, which counts on neither way.
    read(&lab, "2026-11-16T08:00:00Z", "short-circuit", &[8.25], &["--meter", "0.5 ohm", "--after", "2 s"]);
    read(&lab, "2026-11-16T09:00:00Z", "open-circuit", &[1.2], &[]);
    let csv = lab.answer(
        NOW,
        &["reading", "list", "--what", "open-circuit", "--undisturbed", "--format", "csv"],
        0,
    );
    assert!(
        csv.starts_with("cell,electrolyte,batch,cause,kind,age (d),open-circuit (V),disturbed,"),
        "{csv}"
    );
    lab.write("readings.csv", &csv);
    let columns =
        ["readings.csv", "--value", "open-circuit", "--by", "electrolyte", "--cell", "cell", "--time", "age"];
    for (method, metric, more) in [
        ("welch", "voltage day=14", &["--at-day", "14"]),
        ("classical", "voltage day=11.3", &["--at-day", "11.3"]),
        ("ranks", "voltage day=18", &["--at-day", "18"]),
    ] {
        let mut by_file = vec!["compare", "--batch", "batch", "--excluded", "cause", "--method", method];
        by_file.extend(columns);
        by_file.extend(more);
        let file = lab.json(NOW, &by_file);
        let book = lab.json(NOW, &["compare", "--metric", metric, "--method", method]);
        for key in ["groups", "tests", "pairs", "unit_of_analysis", "batches", "failures"] {
            assert_eq!(file[key], book[key], "{key} by {method}");
        }
    }
}

/// A wrong dose is out whenever it was found, and is counted with and without; a leak found on day 19 leaves the value
/// of day 14 in and counts as a failure; the end of a test is neither.
#[test]
fn causes_come_from_the_records_alone() {
    let lab = lab();
    for (cell, cause, at) in [
        ("C1", "wrong-dose", "2026-11-21T09:00:00Z"),
        ("C4", "leak", "2026-11-21T09:00:00Z"),
        ("C7", "end-of-test", "2026-11-21T09:00:00Z"),
        ("C10", "other: outlier", "2026-11-21T09:00:00Z"),
    ] {
        lab.answer(NOW, &["cell", "retire", cell, "--cause", cause, "--when", at], 0);
    }
    let run = lab.run(NOW, &["compare", "--metric", "voltage day=14", "--format", "json"]);
    let whole = crate::run::envelope(&run.stdout);
    let answer = &whole["answer"];
    assert_eq!(group(&answer["groups"], A)["cells"], 5);
    assert_eq!(group(&answer["with_excluded"]["groups"], A)["cells"], 6);
    assert_eq!(group(&answer["groups"], B)["cells"], 6);
    let failed = group(&answer["failures"], A);
    assert_eq!((&failed["failed"], &failed["of"]), (&2.into(), &6.into()));
    let of = |cell: &str| {
        let causes = failed["causes"].as_array().expect("they are causes");
        causes.iter().find(|cause| cause["cell"] == cell).cloned().unwrap_or_default()
    };
    assert_eq!((of("C1")["cause"].as_str(), &of("C1")["counted"]), (Some("wrong dose"), &false.into()));
    assert_eq!((of("C4")["cause"].as_str(), &of("C4")["counted"]), (Some("leak"), &true.into()));
    assert_relative_eq!(number(&of("C1")["value"]), 1.400, max_relative = 1e-12);
    assert_eq!(group(&answer["failures"], B)["failed"], 0);
    let codes: Vec<&str> =
        whole["warnings"].as_array().unwrap().iter().filter_map(|own| own["code"].as_str()).collect();
    assert!(codes.contains(&"not_physical"), "{codes:?}");
    let late = lab.json(NOW, &["compare", "--metric", "voltage day=18"]);
    assert_eq!(group(&late["failures"], A)["failed"], 2);
    let screen = lab.answer(NOW, &["compare", "--metric", "voltage day=14"], 0);
    assert!(screen.contains("leak, later: it counts"), "{screen}");
    // C1 alone is left out and a cross; C4 counts, and is a dot.
    assert_eq!(screen.matches('×').count(), 1, "{screen}");
}

/// −20 mV in 8 days are −17.5 mV a week; C1 falls by 40 mV.
#[test]
fn a_slope_stands_for_each_cell() {
    let lab = lab();
    let slopes = lab.json(NOW, &["summary", "--metric", "slope from=7 to=21", "--by", "batch"]);
    assert_relative_eq!(number(&group(&slopes, "E2")["mean"]), -0.0175, max_relative = 1e-9);
    assert_relative_eq!(number(&group(&slopes, "E1")["mean"]), -0.0175 * 4.0 / 3.0, max_relative = 1e-9);
    assert_eq!(slopes[0]["unit"], "V/week");
}

/// 1.40 V open and 1.12 V on 100 Ω: 0.28 V over 11.2 mA are 25 Ω; a short circuit is a metric of its own.
#[test]
fn resistance_and_current_are_metrics_of_their_own() {
    let lab = lab();
    read(&lab, "2026-11-22T09:00:00Z", "open-circuit", &[1.40, 1.40], &[]);
    read(&lab, "2026-11-22T09:01:00Z", "under-load", &[1.12, 1.12], &["--load", "100 ohm", "--after", "5 s"]);
    read(
        &lab,
        "2026-11-22T09:02:00Z",
        "short-circuit",
        &[8.0, 6.0],
        &["--meter", "0.5 ohm", "--after", "2 s"],
    );
    let ohms =
        lab.json(NOW, &["summary", "--metric", "resistance day=20 method=open-to-loaded", "--of", "E1"]);
    assert_relative_eq!(number(&ohms[0]["mean"]), 25.0, max_relative = 1e-9);
    assert_eq!((&ohms[0]["n"], &ohms[0]["missing"]), (&2.into(), &1.into()));
    let other = lab.refused(NOW, &["summary", "--metric", "resistance day=20 method=two-loads"]);
    assert!(other.contains("no undisturbed set of readings for two loads"), "{other}");
    assert!(other.contains("2 under-load on 100 Ω on day 20"), "{other}");
    let loaded = lab.refused(NOW, &["summary", "--metric", "loaded day=20 load=47ohm"]);
    assert!(loaded.contains("100 Ω"), "{loaded}");
    // Read once, two minutes after day 20: of that day, there being none before.
    let current = lab.json(NOW, &["summary", "--metric", "current day=20"]);
    assert_relative_eq!(number(&current[0]["mean"]), 7.0, max_relative = 1e-9);
    let far = lab.refused(NOW, &["summary", "--metric", "current day=21", "--cells", "C1-C2"]);
    assert!(far.contains("no short-circuit reading after day 20, the last that counts"), "{far}");
}

/// Rejected, never judged and expired lots are told.
#[test]
fn what_stands_against_a_lot_is_said() {
    let lab = lab();
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "levulinic-acid"], 40.0, Decided::Nothing);
    let build =
        ["cell", "build", "--design", DESIGN, "--use", "E6=1.2g", "--count", "1", "--because", "a first try"];
    let built = lab.run(BUILT, &build);
    assert_eq!(built.code, 0, "{}", built.stderr);
    lab.answer(NOW, &["reading", "add", "C14", "--open-circuit", "1.3 V", "--when", DAY_10], 0);
    lab.answer(NOW, &["batch", "reject", "E5", "--because", "crystals"], 0);
    let run = lab.run(NOW, &["summary", "--metric", "voltage day=10", "--format", "json"]);
    let whole = crate::run::envelope(&run.stdout);
    let codes: Vec<&str> =
        whole["warnings"].as_array().unwrap().iter().filter_map(|own| own["code"].as_str()).collect();
    assert!(codes.contains(&"lot_rejected") && codes.contains(&"lot_not_released"), "{codes:?}");
}

/// Variances within E1 and E2 on day 10: 16 and 13 mV² (1.416, 1.421, 1.423), pooled 14.5 mV² on 4 degrees of freedom.
/// χ² with 4 degrees of freedom has 0.4844 and 11.1433 at 2.5 and 97.5 % (tables; NIST/SEMATECH e-Handbook, 1.3.6.7.4).
#[test]
fn a_spread_is_taken_from_the_book() {
    let lab = lab();
    let asked = ["sample-size", "--difference", "15 mV", "--baseline", A, "--metric", "voltage day=10"];
    let answer = lab.json(NOW, &asked);
    assert_relative_eq!(number(&answer["sd"]), 14.5f64.sqrt(), max_relative = 1e-9);
    let limits = [&answer["spread"]["ci95"][0], &answer["spread"]["ci95"][1]].map(number);
    assert_relative_eq!(limits[0], (4.0 * 14.5 / 11.1433f64).sqrt(), max_relative = 1e-4);
    assert_relative_eq!(limits[1], (4.0 * 14.5 / 0.4844f64).sqrt(), max_relative = 1e-4);
    assert_eq!((&answer["spread"]["cells"], &answer["spread"]["batches"]), (&6.into(), &2.into()));
    let typed = ["sample-size", "--difference", "15 mV", "--sd", "3.8078865529 mV"];
    assert_eq!(answer["per_group"], lab.json(NOW, &typed)["per_group"]);
    let cautious = ["sample-size", "--difference", "15 mV", "--sd", "10.94 mV"];
    assert_eq!(answer["spread"]["per_group_at_upper_limit"], lab.json(NOW, &cautious)["per_group"]);
    let lot =
        lab.json(NOW, &["sample-size", "--per-group", "6", "--baseline", "E1", "--metric", "voltage day=10"]);
    assert_relative_eq!(number(&lot["sd"]), 0.004, max_relative = 1e-9);
    assert_eq!(lot["unit"], "V");
    let screen = lab.answer(NOW, &asked, 0);
    assert!(screen.contains("2 batches, pooled within each"), "{screen}");
}
