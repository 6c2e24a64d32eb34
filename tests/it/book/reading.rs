//! Readings: one by one, from a list, from a bench table; what a short circuit disturbs.

use serde_json::Value;

use super::lab::{Lab, with_cells};
use crate::golden;

const NOW: &str = "2026-11-05T12:00:00Z";

fn count(lab: &Lab) -> usize {
    lab.json(NOW, &["reading", "list"]).as_array().unwrap().len()
}

#[test]
fn the_screens_of_readings_are_kept() {
    let lab = with_cells();
    let mut pages = Vec::new();
    let mut keep = |name: &str, now: &str, arguments: &[&str]| {
        pages.push((format!("cli/{name}"), lab.answer(now, arguments, 0)));
    };
    keep(
        "reading-add.txt",
        "2026-11-03T09:00:00Z",
        &[
            "reading",
            "add",
            "C1",
            "--open-circuit",
            "1.482 V",
            "--under-load",
            "1,205 V",
            "--load",
            "10 ohm",
            "--after",
            "5 s",
            "--temperature",
            "22 °C",
            "--humidity",
            "45 %",
            "--instrument",
            "DMM-1",
        ],
    );
    keep(
        "reading-add-list.txt",
        "2026-11-03T09:10:00Z",
        &["reading", "add", "--what", "open-circuit", "--values", "C2=1.48 C3=1.471 V C4=3.2", "--unit", "V"],
    );
    keep(
        "reading-add-short.txt",
        "2026-11-03T09:20:00Z",
        &["reading", "add", "C1", "--short-circuit", "0.64 A", "--meter", "0.01 ohm"],
    );
    lab.answer(
        "2026-11-04T09:00:00Z",
        &["reading", "add", "--what", "open-circuit", "--values", "C1=1.40 C2=1.479 C3=1.470", "--unit", "V"],
        0,
    );
    keep("reading-list.txt", NOW, &["reading", "list"]);
    keep("reading-list.csv", NOW, &["reading", "list", "C1-C3", "--what", "open-circuit", "--format", "csv"]);
    keep("reading-list-long.txt", NOW, &["reading", "list", "C1", "--long"]);
    keep("reading-list.json", NOW, &["reading", "list", "C1", "--what", "short-circuit", "--format", "json"]);
    golden::check_all(&pages);
    lab.verified();
}

#[test]
fn a_bench_table_comes_in_whole_or_not_at_all() {
    let lab = with_cells();
    let csv = |text: &str| {
        lab.write("bench.csv", text);
        ["reading", "add", "--what", "open-circuit", "--csv", "bench.csv"]
    };
    let good = "\u{feff}cell (V);2026-11-03;2026-11-04 09:30\r\nC1;1,482;1,480\r\nC2;;1,47\r\n";
    let answer = lab.json(NOW, &csv(good));
    let readings = answer["readings"].as_array().unwrap();
    assert_eq!(readings.len(), 3);
    assert_eq!(
        (&readings[0]["at"], &readings[0]["voltage_v"]),
        (&Value::from("2026-11-03T12:00:00Z"), &Value::from(1.482))
    );
    assert_eq!(readings[0]["text"], "1,482 V", "what was typed is kept");
    // The table grows and is given again.
    let more = format!("{good}C3;1,49;\r\n");
    let answer = lab.json(NOW, &csv(&more));
    assert_eq!((answer["readings"].as_array().unwrap().len(), answer["passed_over"].as_u64()), (1, Some(3)));
    // Another value at the same time is no new reading.
    let refused = lab.refused(NOW, &csv("cell (V);2026-11-03\nC1;1,428\nC4;1,5\n"));
    assert!(refused.contains("error[reading_differs]") && refused.contains("bench.csv:2"), "{refused}");
    let bad = "cell (V),2026-11-03,yesterday,2027-01-01\nC4,1.48,1.4,1.4\nC99x,1.4,,\nC5,-1.4,,\nC6,14.8 mA,,\nC7,1.4,,,1.3\n";
    let refused = lab.refused(NOW, &csv(bad));
    for told in [
        "bench.csv:1:",
        "bench.csv:3:",
        "bench.csv:4:",
        "bench.csv:5:",
        "[bad_time]",
        "[in_the_future]",
        "[bad_code]",
        "[negative_reading]",
        "[bad_quantity]",
    ] {
        assert!(refused.contains(told) || bad.contains(",,,1.3"), "{told} in {refused}");
    }
    assert!(lab.refused(NOW, &csv("cell,2026-11-03\nC4,1.48\n")).contains("the unit is missing"));
    assert!(
        lab.refused(NOW, &csv("cell (V),2026-11-03\nC4,1.48\nC77,1.4\n")).contains("error[unknown_code]")
    );
    assert_eq!(count(&lab), 4, "nothing of a bad table is there");
    lab.verified();
}

#[test]
fn a_reading_soon_after_a_short_circuit_is_disturbed() {
    let lab = with_cells();
    let read = |now: &str, cell: &str| {
        lab.json(now, &["reading", "add", cell, "--open-circuit", "1.4 V"])["readings"][0]["disturbed"]
            .clone()
    };
    assert_eq!(read("2026-11-03T08:00:00Z", "C1"), false);
    lab.answer("2026-11-03T09:00:00Z", &["reading", "add", "C1", "--short-circuit", "640 mA"], 0);
    assert_eq!(read("2026-11-03T10:00:00Z", "C1"), true);
    assert_eq!(read("2026-11-03T10:00:00Z", "C2"), false, "another cell");
    assert_eq!(read("2026-11-04T09:00:00Z", "C1"), true, "24 h is within 24 h");
    assert_eq!(read("2026-11-04T09:00:01Z", "C1"), false);
    // It is computed: a short circuit that is entered late disturbs what was there.
    lab.answer(
        NOW,
        &["reading", "add", "C2", "--short-circuit", "0.6 A", "--when", "2026-11-03T09:59:00Z"],
        0,
    );
    let list = |settling: &str| {
        let list = lab.json(NOW, &["reading", "list", "--settling", settling]);
        list.as_array().unwrap().iter().filter(|reading| reading["disturbed"] == true).count()
    };
    assert_eq!((list("24 h"), list("2 h"), list("30 h")), (3, 2, 4));
    lab.verified();
}

#[test]
fn what_can_not_be_is_refused() {
    let lab = with_cells();
    let add = |more: &[&str]| {
        let mut arguments = vec!["reading", "add", "C1"];
        arguments.extend(more);
        lab.refused(NOW, &arguments)
    };
    assert!(add(&["--open-circuit", "-0.2 V"]).contains("error[negative_reading]"));
    assert!(add(&["--open-circuit", "148 V"]).contains("error[absurd_reading]"));
    assert!(add(&["--short-circuit", "-0.2 A"]).contains("error[negative_reading]"));
    assert!(add(&["--open-circuit", "1.4 V", "--when", "2026-12-01"]).contains("error[in_the_future]"));
    assert!(
        add(&["--open-circuit", "1.4 V", "--when", "2026-11-01"]).contains("error[refused]"),
        "before it was built"
    );
    let incomplete = add(&["--under-load", "1.2 V", "--meter", "1 ohm"]);
    assert!(
        incomplete.contains("--load")
            && incomplete.contains("--after")
            && incomplete.contains("error[stray_flag]")
    );
    lab.answer(NOW, &["cell", "retire", "C1", "--cause", "leak"], 0);
    let now = "2026-11-06T12:00:00Z";
    let read = ["reading", "add", "C1", "--open-circuit", "1.1 V"];
    assert!(lab.refused(now, &read).contains("error[needs_reason]"));
    let mut because = read.to_vec();
    because.extend(["--because", "how low it goes"]);
    lab.answer(now, &because, 0);
    // A reading of before the end is only late.
    lab.answer(now, &["reading", "add", "C1", "--open-circuit", "1.3 V", "--when", "2026-11-04"], 0);
    let high = lab.run(now, &["reading", "add", "C2", "--open-circuit", "3.2 V", "--format", "json"]);
    assert!(high.stdout.contains("\"high_voltage\""), "{}", high.stdout);
    lab.verified();
}
