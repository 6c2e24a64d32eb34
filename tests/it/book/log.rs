//! Logs in the book: taken in whole or not at all, kept as they came, read back for figures.

use approx::assert_relative_eq;
use serde_json::Value;

use super::lab::{Lab, with_cells};
use crate::golden;

const NOW: &str = "2026-11-10T12:00:00Z";

/// A discharge at 5 mA from 1.5 V, 0.1 V an hour down, a row a minute for six hours.
fn discharge_csv() -> String {
    let row =
        |minute: i32| format!("{};{}\n", minute, decimal(1500.0 - 0.1 * f64::from(minute) / 60.0 * 1000.0));
    let rows: String = (0..=360).map(row).collect();
    format!("Bench logger\nsensor 3\n\nTime (min);U (mV);I (mA)\n{}", rows.replace('\n', ";5,0\n"))
}

fn decimal(number: f64) -> String {
    format!("{number:.4}").replace('.', ",")
}

const IMPORT: [&str; 7] = ["reading", "import", "run.csv", "--cell", "C3", "--start", "2026-11-03T09:00:00Z"];

fn with(more: &[&'static str]) -> Vec<&'static str> {
    IMPORT.iter().copied().chain(more.iter().copied()).collect()
}

fn files(lab: &Lab) -> usize {
    std::fs::read_dir(lab.path().join("files")).unwrap().count()
}

fn logged() -> Lab {
    let lab = with_cells();
    lab.write("run.csv", &discharge_csv());
    lab.answer(NOW, &with(&["--instrument", "LOG-1"]), 0);
    lab
}

#[test]
fn a_log_is_kept_as_it_came() {
    let lab = with_cells();
    let text = discharge_csv();
    lab.write("run.csv", &text);
    let answer = lab.json(NOW, &with(&["--instrument", "LOG-1"]));
    let hash = meltbook::record::Hash::of(text.as_bytes()).to_string();
    assert_eq!((&answer["file"], &answer["rows"]), (&Value::from(hash.as_str()), &Value::from(361)));
    assert_eq!(std::fs::read(lab.path().join("files").join(&hash)).unwrap(), text.as_bytes());
    let cell = &answer["cells"][0];
    assert_eq!((&cell["cell"], &cell["last"]), (&Value::from("C3"), &Value::from("2026-11-03T15:00:00Z")));
    assert_relative_eq!(cell["voltage_v"]["last"].as_f64().unwrap(), 0.9, max_relative = 1e-12);
    lab.verified();
    let again = lab.refused(NOW, &IMPORT);
    assert!(
        again.contains("error[refused]") && again.contains("this very file was taken in by entry"),
        "{again}"
    );
    // Struck, it may be read otherwise.
    let entry = answer["entry"].to_string();
    lab.answer(NOW, &["strike", &entry, "--because", "another start"], 0);
    lab.answer(
        NOW,
        &with(&["--start", "2026-11-04T09:00:00Z"])[..5]
            .iter()
            .copied()
            .chain(["--start", "2026-11-04T09:00:00Z"])
            .collect::<Vec<_>>(),
        0,
    );
    assert_eq!(files(&lab), 1, "the same bytes are one file");
    lab.verified();
}

#[test]
fn the_screens_of_logs_are_kept() {
    let lab = with_cells();
    lab.write("run.csv", &discharge_csv());
    let mut pages = Vec::new();
    let mut keep = |name: &str, arguments: &[&str]| {
        pages.push((format!("cli/{name}"), lab.answer(NOW, arguments, 0)));
    };
    keep("reading-import.txt", &with(&["--instrument", "LOG-1", "--save-mapping", "meter.toml"]));
    keep("cell-figures-discharge.txt", &["cell", "figures", "C3", "--cut-off", "1.0 V"]);
    keep("cell-figures-discharge.csv", &["cell", "figures", "C3", "--cut-off", "1.0 V", "--format", "csv"]);
    keep("cell-figures-not-reached.txt", &["cell", "figures", "C3", "--cut-off", "0.8 V"]);
    keep("cell-figures.json", &["cell", "figures", "C3", "--cut-off", "1.0 V", "--format", "json"]);
    keep("cell-capacity.txt", &["cell", "capacity", "C3", "--load", "47 ohm", "--voltage", "1.48 V"]);
    keep("cell-capacity-design.txt", &["cell", "capacity", super::lab::DESIGN]);
    keep("cell-capacity.json", &["cell", "capacity", "C3", "--ratio", "2", "--format", "json"]);
    keep(
        "cell-figures-tester.txt",
        &[
            "cell",
            "figures",
            "--open-circuit",
            "1.33 V",
            "--short-circuit",
            "8.25mA",
            "--loaded",
            "2.4mA load=375ohm",
        ],
    );
    keep(
        "cell-figures-retention.txt",
        &["cell", "figures", "--fresh", "148.0 mAh", "--stored", "136.9 mAh", "--stored-for", "6 weeks"],
    );
    let mapping = std::fs::read_to_string(lab.path().join("meter.toml")).unwrap();
    pages.push(("cli/reading-import-mapping.toml".to_owned(), mapping));
    golden::check_all(&pages);
    lab.verified();
}

/// The straight line has a closed form: 1.0 V after 5 h, 25 mAh, 31.25 mWh.
#[test]
fn a_discharge_comes_out_of_the_kept_file() {
    let lab = logged();
    std::fs::remove_file(lab.path().join("run.csv")).unwrap();
    let figures = lab.json(NOW, &["cell", "figures", "C3", "--cut-off", "1.0 V"]);
    let discharge = &figures["cells"][0]["discharges"][0];
    let cut = &discharge["to_cut_off"];
    let close = |value: &Value, wanted: f64| {
        assert_relative_eq!(value.as_f64().unwrap(), wanted, max_relative = 1e-6)
    };
    close(&cut["on_time_s"], 18_000.0);
    close(&cut["capacity_mah"], 25.0);
    close(&cut["energy_mwh"], 31.25);
    close(&cut["mean_voltage_v"], 1.25);
    // Half of 0.4 g of mix is the oxide.
    close(&discharge["mah_per_g_oxide"], 125.0);
    close(&discharge["mah_per_cm2"], 25.0 / 4.0);
    let never = lab.run(NOW, &["cell", "figures", "C3", "--cut-off", "0.8 V"]);
    assert!(never.stdout.contains("cut-off not reached"), "{}", never.stdout);
    // The same from a file in no book.
    lab.write("again.csv", &discharge_csv());
    let outside = lab.json(NOW, &["cell", "figures", "--log", "again.csv", "--cut-off", "1.0 V"]);
    close(&outside["cells"][0]["discharges"][0]["to_cut_off"]["capacity_mah"], 25.0);
    // A cell in no book has no code, and is called what it is called; without a book too.
    let folder = crate::run::folder();
    crate::run::write(folder.path(), "again.csv", discharge_csv().as_bytes());
    let asked = [
        "cell",
        "figures",
        "--log",
        "again.csv",
        "--cell",
        "left one",
        "--cut-off",
        "1.0 V",
        "--format",
        "json",
    ];
    let run = crate::run::run_in(folder.path(), &asked);
    assert_eq!(run.code, 0, "{}", run.stderr);
    let answer = crate::run::envelope(&run.stdout)["answer"].clone();
    assert_eq!(answer["cells"][0]["cell"], "left one");
    close(&answer["cells"][0]["discharges"][0]["to_cut_off"]["capacity_mah"], 25.0);
}

#[test]
fn a_bad_row_stops_all_of_it_unless_it_is_left_out() {
    let lab = with_cells();
    let bad = discharge_csv().replacen("\n7;", "\n7;x", 1).replacen("\n9;", "\n2;", 1);
    lab.write("run.csv", &bad);
    let refused = lab.refused(NOW, &IMPORT);
    for told in
        ["error[bad_rows]", "2 rows can't be read, 359 can", "run.csv:12", "run.csv:14", "is no number"]
    {
        assert!(refused.contains(told), "{told} in {refused}");
    }
    assert_eq!(files(&lab), 0, "nothing is kept");
    let answer = lab.json(NOW, &with(&["--skip-bad"]));
    assert_eq!((answer["skipped"].as_u64(), answer["rows"].as_u64()), (Some(2), Some(359)));
    let lines: Vec<u64> =
        answer["skipped_rows"].as_array().unwrap().iter().map(|row| row["line"].as_u64().unwrap()).collect();
    assert_eq!(lines, [12, 14]);
    lab.verified();
}

#[test]
fn an_overlap_is_shown_and_each_log_taken_by_itself() {
    let lab = logged();
    lab.write("more.csv", "Time,U (V),I (mA),Cell\n2026-11-03 14:00,1.4,5,C3\n2026-11-03 16:00,1.3,5,C3\n2026-11-03 15:00,1.3,5,C4\n");
    let answer = lab.run(NOW, &["reading", "import", "more.csv", "--format", "json"]);
    let answer = crate::run::envelope(&answer.stdout);
    let overlap = &answer["answer"]["overlaps"][0];
    assert_eq!(
        (&overlap["cell"], &overlap["from"], &overlap["to"]),
        (&Value::from("C3"), &Value::from("2026-11-03T14:00:00Z"), &Value::from("2026-11-03T15:00:00Z"))
    );
    assert_eq!(answer["warnings"][0]["code"], "overlap");
    let figures = lab.json(NOW, &["cell", "figures", "C3", "--longest-gap", "3 h"]);
    let discharges = figures["cells"][0]["discharges"].as_array().unwrap();
    let charges: Vec<f64> =
        discharges.iter().map(|one| one["total"]["capacity_mah"].as_f64().unwrap()).collect();
    assert_relative_eq!(charges[0], 30.0, max_relative = 1e-9);
    assert_relative_eq!(charges[1], 10.0, max_relative = 1e-9);
    lab.verified();
}

/// A logger that was started again: two files, one discharge; the time between is a rest.
#[test]
fn logs_that_follow_each_other_are_one_discharge() {
    let lab = logged();
    lab.write("on.csv", "Time,U (V),I (mA)\n2026-11-03 18:00,0.9,5\n2026-11-03 19:00,0.8,5\n");
    lab.answer(NOW, &["reading", "import", "on.csv", "--cell", "C3"], 0);
    let figures = lab.json(NOW, &["cell", "figures", "C3", "--cut-off", "0.85 V", "--longest-gap", "2 h"]);
    let discharges = figures["cells"][0]["discharges"].as_array().unwrap();
    assert_eq!(discharges.len(), 1);
    assert_relative_eq!(
        discharges[0]["to_cut_off"]["capacity_mah"].as_f64().unwrap(),
        32.5,
        max_relative = 1e-6
    );
    assert_relative_eq!(discharges[0]["rest_s"].as_f64().unwrap(), 3.0 * 3600.0, max_relative = 1e-12);
}

#[test]
fn what_can_not_be_is_refused() {
    let lab = with_cells();
    lab.write("run.csv", &discharge_csv());
    let import = |start: &'static str, cell: &'static str| {
        lab.refused(NOW, &["reading", "import", "run.csv", "--cell", cell, "--start", start])
    };
    assert!(import("2026-11-01T09:00:00Z", "C3").contains("C3 was built on"), "before it was built");
    assert!(import("2026-11-10T09:00:00Z", "C3").contains("error[in_the_future]"));
    assert!(import("2026-11-03T09:00:00Z", "C77").contains("error[unknown_code]"));
    assert!(import("2026-11-03T09:00:00Z", "E1").contains("error[wrong_kind]"));
    lab.answer("2026-11-03T12:00:00Z", &["cell", "retire", "C3", "--cause", "leak"], 0);
    assert!(import("2026-11-03T09:00:00Z", "C3").contains("error[needs_reason]"));
    assert_eq!(files(&lab), 0, "nothing of a refused file is kept");
    lab.answer(NOW, &with(&["--because", "how low it goes"]), 0);
    assert_eq!(files(&lab), 1);
    lab.verified();
}

#[test]
fn a_flipped_byte_or_a_missing_file_is_found() {
    let lab = logged();
    let file = std::fs::read_dir(lab.path().join("files")).unwrap().next().unwrap().unwrap().path();
    let whole = std::fs::read(&file).unwrap();
    for at in [0, whole.len() / 2, whole.len() - 1] {
        let mut flipped = whole.clone();
        flipped[at] ^= 1;
        std::fs::write(&file, &flipped).unwrap();
        let run = lab.run(NOW, &["verify"]);
        assert!(run.code == 1 && run.stdout.contains("was changed"), "byte {at}: {}", run.stdout);
    }
    std::fs::remove_file(&file).unwrap();
    let run = lab.run(NOW, &["verify"]);
    assert!(run.code == 1 && run.stdout.contains("is missing: entry"), "{}", run.stdout);
    std::fs::write(&file, &whole).unwrap();
    lab.verified();
}

#[test]
fn an_archive_takes_logs_along() {
    let lab = logged();
    lab.answer(NOW, &["archive", "kept"], 0);
    lab.answer(NOW, &["restore", "kept", "again"], 0);
    let figures =
        |book: &str| lab.json(NOW, &["cell", "figures", "C3", "--cut-off", "1.0 V", "--book", book]);
    assert_eq!(figures("."), figures("again"));
    lab.answer(NOW, &["verify", "--book", "again"], 0);
}

#[test]
fn a_mapping_and_names_of_channels_serve_the_next_file() {
    let lab = with_cells();
    let mapping = "time = \"Stamp\"\nzone = \"Europe/Vienna\"\nvoltage = \"Value unit=mV\"\ncell_column = \"Channel\"\n\n[cells]\n\"CH 1\" = \"C1\"\n\"CH 2\" = \"C2\"\n";
    lab.write("meter.toml", mapping);
    lab.write("a.csv", "Stamp\tChannel\tValue\n2026-11-03 10:00\tCH 1\t1500\n2026-11-03 10:00\tCH 2\t1480\n");
    let answer = lab.json(NOW, &["reading", "import", "a.csv", "--mapping", "meter.toml"]);
    let cells = answer["cells"].as_array().unwrap();
    assert_eq!((&cells[0]["cell"], &cells[1]["cell"]), (&Value::from("C1"), &Value::from("C2")));
    assert_eq!(cells[0]["first"], "2026-11-03T09:00:00Z");
    assert_eq!(cells[1]["voltage_v"]["first"], 1.48);
    let read = |text: &str| {
        lab.write("meter.toml", text);
        lab.refused(NOW, &["reading", "import", "a.csv", "--mapping", "meter.toml"])
    };
    assert!(read("volts = \"U\"\n").contains("error[unknown_key]"));
    assert!(read("zone = \"Mars\"\n").contains("error[unknown_zone]"));
}

#[test]
fn a_bench_table_comes_in_as_readings() {
    let lab = with_cells();
    lab.write("bench.csv", "cell (V),2026-11-03,2026-11-04\nC1,1.48,1.47\n");
    let refused = lab.refused(NOW, &["reading", "import", "bench.csv"]);
    assert!(refused.contains("error[bench_table]"), "{refused}");
    lab.answer(NOW, &["reading", "import", "bench.csv", "--what", "open-circuit"], 0);
    assert_eq!(lab.json(NOW, &["reading", "list"]).as_array().unwrap().len(), 2);
}

/// Retention from cells of the book: C1 and C2 fresh, C3 and C4 after 35 more days.
#[test]
fn retention_comes_from_the_discharges_of_cells() {
    let lab = with_cells();
    let later = "2026-12-20T12:00:00Z";
    let log = |name: &str, cell: &str, day: &str, hours: f64| {
        let text = format!("t (h),U (V),I (mA)\n0,1.5,5\n{hours},1.0,5\n{},0.5,5\n", 2.0 * hours);
        lab.write(name, &text);
        lab.answer(later, &["reading", "import", name, "--cell", cell, "--start", day], 0);
    };
    log("a.csv", "C1", "2026-11-03T09:00:00Z", 5.0);
    log("b.csv", "C2", "2026-11-03T09:00:00Z", 5.4);
    log("c.csv", "C3", "2026-12-08T09:00:00Z", 4.6);
    log("d.csv", "C4", "2026-12-08T09:00:00Z", 4.8);
    let ask = ["cell", "figures", "--fresh", "C1-C2", "--stored", "C3-C4"];
    let refused = lab.refused(later, &ask);
    assert!(refused.contains("error[no_capacity]"), "{refused}");
    let mut with_cut_off = ask.to_vec();
    with_cut_off.extend(["--cut-off", "1.0 V"]);
    let kept = &lab.json(later, &with_cut_off)["charge_retention"];
    let close = |value: &Value, wanted: f64| {
        assert_relative_eq!(value.as_f64().unwrap(), wanted, max_relative = 1e-9)
    };
    close(&kept["fresh"]["mean_mah"], 26.0);
    close(&kept["stored"]["mean_mah"], 23.5);
    close(&kept["retention_pct"], 23.5 / 26.0 * 100.0);
    close(&kept["stored_s"], 35.0 * 86_400.0);
    close(&kept["parasitic_a"], 2.5e-3 * 3600.0 / (35.0 * 86_400.0));
}
