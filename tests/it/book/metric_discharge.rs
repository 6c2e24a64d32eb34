//! Discharges that were logged, as metrics of cells: values by hand.

use approx::assert_relative_eq;
use meltbook::record::CodeKind;
use serde_json::Value;

use super::lab::{DESIGN, Decided, Lab};

const BUILT: &str = "2026-11-02T09:00:00Z";
const NOW: &str = "2026-12-25T18:00:00Z";
const A: &str = "choline-chloride and glycerol";
const B: &str = "choline-chloride and ethylene-glycol";

/// Eight cells, C1 to C4 in E1 and C5 to C8 in E2, each with 0.4 g of a mix that is half manganese dioxide. Two of each
/// four were discharged a day after building, two were stored until day 30. Each log falls from 1.5 V by 0.1 V an hour,
/// a row every ten minutes for six hours, at a current of its own in mA; C8 stops after four hours, at 1.1 V.
fn lab() -> Lab {
    let lab = Lab::new();
    for donor in ["glycerol", "ethylene-glycol"] {
        lab.batch(CodeKind::Electrolyte, &["choline-chloride", donor], 40.0, Decided::Release);
    }
    lab.batch(CodeKind::CathodeMix, &["manganese-dioxide", "graphite"], 10.0, Decided::Release);
    for batch in ["E1", "E2"] {
        let uses = format!("{batch}=1.2g M1=0.4g");
        lab.answer(BUILT, &["cell", "build", "--design", DESIGN, "--use", &uses, "--count", "4"], 0);
    }
    for (place, milliamperes) in [5.0, 5.2, 4.5, 4.7, 4.0, 4.2, 3.8, 3.9].into_iter().enumerate() {
        let (cell, file) = (format!("C{}", place + 1), format!("c{}.csv", place + 1));
        let hours = if cell == "C8" { 4 } else { 6 };
        lab.write(&file, &discharge_csv(milliamperes, hours));
        let start = if place % 4 < 2 { "2026-11-03T09:00:00Z" } else { "2026-12-02T09:00:00Z" };
        lab.answer(NOW, &["reading", "import", &file, "--cell", &cell, "--start", start], 0);
    }
    lab
}

fn discharge_csv(milliamperes: f64, hours: u32) -> String {
    let row = |step: u32| {
        let minutes = 10 * step;
        format!("{minutes},{:.5},{milliamperes}\n", 1.5 - 0.1 * f64::from(minutes) / 60.0)
    };
    format!("time (min),voltage (V),current (mA)\n{}", (0..=6 * hours).map(row).collect::<String>())
}

#[track_caller]
fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is a number"))
}

#[track_caller]
fn group<'v>(list: &'v Value, name: &str) -> &'v Value {
    let groups = list.as_array().expect("they are groups");
    groups.iter().find(|group| group["group"] == name).unwrap_or_else(|| panic!("{name} in {list}"))
}

#[track_caller]
fn mean(lab: &Lab, metric: &str, name: &str) -> f64 {
    number(&group(&lab.json(NOW, &["summary", "--metric", metric]), name)["mean"])
}

/// 1.5 V to 1.0 V takes five hours: 5 mA give 25 mAh. E1: 25, 26, 22.5 and 23.5 mAh, whose mean is 24.25 mAh; 0.2 g of
/// oxide make it 121.25 mAh/g, 4.0 cm² of electrode 6.0625 mAh/cm². The mean voltage is 1.25 V: 30.3125 mWh.
#[test]
fn charge_and_energy_come_to_what_the_current_gives() {
    let lab = lab();
    assert_relative_eq!(mean(&lab, "capacity cut-off=1.0V", A), 24.25, max_relative = 1e-9);
    assert_relative_eq!(mean(&lab, "capacity cut-off=1.0V per=g", A), 121.25, max_relative = 1e-9);
    assert_relative_eq!(mean(&lab, "capacity cut-off=1.0V per=cm2", A), 6.0625, max_relative = 1e-9);
    assert_relative_eq!(mean(&lab, "energy cut-off=1.0V", A), 30.3125, max_relative = 1e-9);
    assert_relative_eq!(mean(&lab, "energy cut-off=1.0V per=g", A), 151.5625, max_relative = 1e-9);
    // What was really weighed counts: with 0.5 g of the mix in C1, 25 mAh stand on 0.25 g.
    lab.answer(NOW, &["cell", "weigh", "C1", "M1", "0.5 g"], 0);
    let per_gram = (100.0 + 130.0 + 112.5 + 117.5) / 4.0;
    assert_relative_eq!(mean(&lab, "capacity cut-off=1.0V per=g", A), per_gram, max_relative = 1e-9);
}

/// C8 stopped at 1.1 V: it has no value at 1.0 V, is not counted as one, and is named.
#[test]
fn a_cut_off_that_was_not_reached_gives_no_value() {
    let lab = lab();
    let run = lab.run(NOW, &["summary", "--metric", "capacity cut-off=1.0V", "--format", "json"]);
    let whole = crate::run::envelope(&run.stdout);
    let own = group(&whole["answer"], B);
    assert_eq!((&own["n"], &own["missing"]), (&3.into(), &1.into()));
    assert_relative_eq!(number(&own["mean"]), (20.0 + 21.0 + 19.0) / 3.0, max_relative = 1e-9);
    let warnings = whole["warnings"].to_string();
    assert!(warnings.contains("C8") && warnings.contains("cut-off of 1 V not reached"), "{warnings}");
    // To 1.2 V it takes three hours, and C8 got there.
    assert_relative_eq!(
        mean(&lab, "capacity cut-off=1.2V", B),
        3.0 * (4.0 + 4.2 + 3.8 + 3.9) / 4.0,
        max_relative = 1e-9
    );
    let refused = lab.refused(NOW, &["summary", "--metric", "capacity cut-off=0.5V"]);
    assert!(refused.contains("cut-off of 0.5 V not reached"), "{refused}");
}

/// E1: 22.5 and 23.5 mAh against a mean of 25.5 mAh of the fresh ones.
#[test]
fn retention_stands_against_the_fresh_cells_of_the_lot() {
    let lab = lab();
    let compared = lab.json(NOW, &["compare", "--metric", "retention cut-off=1.0V fresh=3"]);
    let own = group(&compared["groups"], A);
    assert_eq!(own["n"], 2);
    assert_relative_eq!(number(&own["mean"]), 100.0 * 23.0 / 25.5, max_relative = 1e-9);
    // C7 alone of E2: 19 mAh against 20.5 mAh.
    let other = group(&compared["groups"], B);
    assert_eq!(other["n"], 1);
    assert_relative_eq!(number(&other["mean"]), 100.0 * 19.0 / 20.5, max_relative = 1e-9);
    let screen = lab.answer(NOW, &["compare", "--metric", "retention cut-off=1.0V fresh=3"], 0);
    assert!(screen.contains("Fresh cells to compare with: C1, C2, C5, C6"), "{screen}");
}

/// On a resistor the log needs no current: V/R. 47 Ω from 1.5 V to 1.0 V in five hours: 5 h × 1.25 V / 47 Ω.
#[test]
fn a_load_stands_for_the_current() {
    let lab = lab();
    let log = discharge_csv(0.0, 6);
    let voltages = log.lines().map(|row| format!("{}\n", row.rsplit_once(',').expect("it has a current").0));
    lab.write("load.csv", &voltages.collect::<String>());
    let build = ["cell", "build", "--design", DESIGN, "--use", "E1=1.2g M1=0.4g", "--count", "1"];
    lab.answer(NOW, &build, 0);
    let start = ["--cell", "C9", "--start", "2026-12-25T19:00:00Z"];
    lab.answer("2026-12-27T09:00:00Z", &[&["reading", "import", "load.csv"], &start[..]].concat(), 0);
    let asked = ["summary", "--metric", "capacity cut-off=1.0V load=47ohm", "--cells", "C9"];
    let summary = lab.json("2026-12-27T09:00:00Z", &asked);
    assert_relative_eq!(number(&summary[0]["mean"]), 5.0 * 1.25 / 47.0 * 1000.0, max_relative = 1e-6);
}

/// A load that is named where a current was logged does not replace it, in figures or in a metric, and is told.
#[test]
fn a_current_that_was_logged_comes_before_a_load() {
    let lab = lab();
    let asked = ["cell", "figures", "C1", "--cut-off", "1.0 V", "--load", "47 ohm", "--format", "json"];
    let whole = crate::run::envelope(&lab.answer(NOW, &asked, 0));
    let cut = &whole["answer"]["cells"][0]["discharges"][0]["to_cut_off"];
    assert_relative_eq!(number(&cut["capacity_mah"]), 25.0, max_relative = 1e-9);
    assert!(whole["warnings"].to_string().contains("logged_current_taken"), "{}", whole["warnings"]);
    let asked = ["summary", "--metric", "capacity cut-off=1.0V load=47ohm", "--of", "E1", "--format", "json"];
    let whole = crate::run::envelope(&lab.answer(NOW, &asked, 0));
    assert_relative_eq!(number(&whole["answer"][0]["mean"]), 24.25, max_relative = 1e-9);
    assert!(whole["warnings"].to_string().contains("logged_current_taken"), "{}", whole["warnings"]);
}

/// 0.2 g of manganese dioxide give at most 61.7 mAh (0.2 g × 26 801.5 mAh/mol / 86.94 g/mol, one electron; Faraday
/// constant and atomic weights: CODATA, IUPAC): at 20 mA for five hours, 100 mAh, something is wrong.
#[test]
fn more_than_the_electrodes_hold_is_told() {
    let lab = lab();
    let asked = ["summary", "--metric", "capacity cut-off=1.0V", "--format", "json"];
    assert!(!lab.answer(NOW, &asked, 0).contains("more_than_theory"));
    lab.answer(NOW, &["cell", "build", "--design", DESIGN, "--use", "E1=1.2g M1=0.4g", "--count", "1"], 0);
    lab.write("much.csv", &discharge_csv(20.0, 6));
    let import = ["reading", "import", "much.csv", "--cell", "C9", "--start", "2026-12-25T19:00:00Z"];
    lab.answer("2026-12-27T09:00:00Z", &import, 0);
    let whole = crate::run::envelope(&lab.answer("2026-12-27T09:00:00Z", &asked, 0));
    let warnings = whole["warnings"].to_string();
    assert!(warnings.contains("more_than_theory") && warnings.contains("C9: more charge"), "{warnings}");
}

/// A log without a current is not passed over in silence.
#[test]
fn a_log_without_a_current_is_told() {
    let lab = lab();
    lab.answer(NOW, &["cell", "build", "--design", DESIGN, "--use", "E1=1.2g M1=0.4g", "--count", "2"], 0);
    lab.write("volts.csv", "time (s),voltage (V)\n0,1.5\n600,1.2\n1200,0.8\n");
    let import = ["reading", "import", "volts.csv", "--cell", "C9", "--start", "2026-12-25T19:00:00Z"];
    lab.answer("2026-12-27T09:00:00Z", &import, 0);
    let asked = ["cell", "figures", "C9", "C10", "--cut-off", "1.0 V"];
    let screen = lab.answer("2026-12-27T09:00:00Z", &asked, 0);
    assert!(screen.contains("no current stands in its log"), "{screen}");
    assert!(screen.contains("C10 has no log"), "{screen}");
    let metric = lab.refused(
        "2026-12-27T09:00:00Z",
        &["summary", "--metric", "capacity cut-off=1.0V", "--cells", "C9-C10"],
    );
    assert!(metric.contains("the metric names no load (load=47ohm)"), "{metric}");
}
