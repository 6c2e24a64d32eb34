//! What `compare` says of results that seem to disagree, of groups that may be one, and of values that stand out. All sets are
//! invented.

use serde_json::Value;

use crate::run::{envelope, folder, run_in, write};

fn compared(text: &str) -> (Value, Value) {
    let folder = folder();
    write(folder.path(), "cells.csv", text.as_bytes());
    let asked = [
        "compare",
        "cells.csv",
        "--value",
        "ocv",
        "--by",
        "electrolyte",
        "--batch",
        "batch",
        "--format",
        "json",
    ];
    let run = run_in(folder.path(), &asked);
    assert_eq!(run.code, 0, "{}", run.stderr);
    let all = envelope(&run.stdout);
    (all["answer"].clone(), all["warnings"].clone())
}

/// Lines of a file: each batch with its group, its name and its values.
fn file(batches: &[(&str, &str, &[f64])]) -> String {
    let lines = batches.iter().flat_map(|(group, batch, values)| {
        values.iter().map(move |value| format!("{group},{batch},{value}\n"))
    });
    "electrolyte,batch,ocv\n".to_owned() + &lines.collect::<String>()
}

/// Three batches of each of three liquids; one of the pairs is far apart, one near.
const BATCHES: [(&str, &str, &[f64]); 9] = [
    ("A", "A1", &[1.400, 1.408, 1.405]),
    ("A", "A2", &[1.402, 1.409, 1.407]),
    ("A", "A3", &[1.404, 1.405, 1.412]),
    ("B", "B1", &[1.425, 1.430, 1.424]),
    ("B", "B2", &[1.447, 1.446, 1.450]),
    ("B", "B3", &[1.433, 1.436, 1.439]),
    ("C", "C1", &[1.412, 1.413, 1.418]),
    ("C", "C2", &[1.416, 1.414, 1.409]),
    ("C", "C3", &[1.411, 1.417, 1.416]),
];

#[test]
fn intervals_that_seem_to_disagree_are_explained() {
    let (answer, _) = compared(&file(&BATCHES));
    let covers = |limits: &Value| limits[0].as_f64() <= Some(0.0) && Some(0.0) <= limits[1].as_f64();
    let pairs = answer["pairs"].as_array().unwrap();
    let apart = pairs.iter().filter(|pair| covers(&pair["ci95"]) != covers(&pair["hedges_g_ci95"]));
    let names: Vec<String> = apart
        .map(|pair| format!("{} and {}", pair["a"].as_str().unwrap(), pair["b"].as_str().unwrap()))
        .collect();
    assert!(!names.is_empty(), "{pairs:?}");
    let told = answer["explanations"][0].as_str().unwrap();
    assert!(
        told.starts_with(&format!(
            "One of the two intervals covers zero and the other does not ({})",
            names.join("; ")
        )),
        "{told}"
    );
    assert!(told.contains("wide enough for all pairs together") && told.contains("quote that one"), "{told}");
}

#[test]
fn the_two_analyses_say_what_each_asks() {
    let (answer, _) = compared(&file(&BATCHES));
    let told = answer["explanations"].to_string();
    assert!(
        told.contains("Welch's test and the nested analysis both ask") && told.contains("Quote the first"),
        "{told}"
    );
    // Without batches there is one analysis alone, and two groups of one spread leave nothing to explain.
    let plain = file(&[("A", "E1", &[1.40, 1.41, 1.42, 1.43]), ("B", "E2", &[1.60, 1.61, 1.62, 1.63])]);
    let (answer, warnings) = compared(&plain);
    assert_eq!(answer["explanations"], serde_json::json!([]), "{answer}");
    assert_eq!(answer["stands_out"], serde_json::json!([]), "{answer}");
    assert!(!warnings.to_string().contains("look_alike"), "{warnings}");
}

#[test]
fn groups_that_look_alike_are_asked_about() {
    let values: &[f64] = &[1.40, 1.41, 1.42];
    let alike = [
        ("A", "a"),
        ("ChCl–EG", "ChCl-EG"),
        // Cyrillic capital es, and a blank that does not break.
        ("С1", "C1"),
        ("liquid\u{a0}A", "liquid A"),
    ];
    for (first, second) in alike {
        let (_, warnings) = compared(&file(&[(first, "E1", values), (second, "E2", &[1.50, 1.51, 1.53])]));
        let told = warnings.as_array().unwrap().iter().find(|warning| warning["code"] == "look_alike");
        let told = told.unwrap_or_else(|| panic!("{first} and {second}: {warnings}"))["message"].to_string();
        assert!(told.contains("are they one?"), "{told}");
    }
    let (_, warnings) = compared(&file(&[
        ("A", "E1", values),
        ("A", "e1", values),
        ("B", "E2", values),
        ("B", "E3", values),
    ]));
    assert!(warnings.to_string().contains("the batches \\\"E1\\\" and \\\"e1\\\""), "{warnings}");
    let (_, warnings) = compared(&file(&[("A", "E1", values), ("B", "E2", &[1.50, 1.51, 1.53])]));
    assert!(!warnings.to_string().contains("look_alike"), "{warnings}");
}

/// What `summary` flags, `compare` flags too; it counts all the same.
#[test]
fn a_value_that_stands_out_is_flagged_and_stays() {
    let (answer, _) = compared(&file(&[
        ("A", "E1", &[1.400, 1.402, 1.401, 1.403, 1.399, 1.700]),
        ("B", "E2", &[1.41, 1.42, 1.43]),
    ]));
    let told = answer["stands_out"][0].as_str().unwrap();
    assert!(told.starts_with("A: 1.7") && told.contains("stands out by Grubbs"), "{told}");
    assert_eq!(answer["groups"][0]["n"], 6);
}

/// Dates as times: a slope for each day between them, and days that count from the first reading of each cell. The values fall by
/// 0.01 V in three days and as much again in seven.
#[test]
fn times_may_be_dates() {
    let cells = [("C1", "A", 1.450), ("C2", "A", 1.460), ("C3", "B", 1.500), ("C4", "B", 1.495)];
    let dated = |first: &str, second: &str, third: &str| {
        let lines = cells.iter().flat_map(|(cell, group, start)| {
            [(first, 0.0), (second, 0.01), (third, 0.02)]
                .map(|(time, fall)| format!("{cell},{group},{time},{:.3}\n", start - fall))
        });
        "cell,electrolyte,day,ocv_V\n".to_owned() + &lines.collect::<String>()
    };
    let ask = |text: &str, more: &[&str]| {
        let folder = folder();
        write(folder.path(), "cells.csv", text.as_bytes());
        let mut asked = vec![
            "summary",
            "cells.csv",
            "--value",
            "ocv_V",
            "--by",
            "electrolyte",
            "--cell",
            "cell",
            "--time",
            "day",
        ];
        asked.extend_from_slice(more);
        run_in(folder.path(), &asked)
    };
    let dates = dated("2026-09-01", "2026-09-04T12:00:00Z", "2026-09-11");
    let numbers = dated("0", "3", "10");
    let answer = |text: &str, more: &[&str]| {
        let run = ask(text, &[more, &["--format", "json"]].concat());
        assert_eq!(run.code, 0, "{}", run.stderr);
        envelope(&run.stdout)
    };
    for more in [&[][..], &["--at-day", "7"]] {
        let (by_date, by_number) = (answer(&dates, more), answer(&numbers, more));
        for (one, other) in
            by_date["answer"].as_array().unwrap().iter().zip(by_number["answer"].as_array().unwrap())
        {
            let (one, other) = (one["mean"].as_f64().unwrap(), other["mean"].as_f64().unwrap());
            assert!((one - other).abs() < 1e-12, "{one} {other}");
        }
        assert_eq!(by_date["warnings"].to_string().contains("days_from_first"), !more.is_empty());
    }
    let mixed = ask(&dated("2026-09-01", "3", "10"), &[]);
    assert_eq!(mixed.code, 2);
    assert!(mixed.stderr.contains("line 2 has a date as its time, and line 3 a number"), "{}", mixed.stderr);
    let other = ask(&dated("1.9.2026", "3", "10"), &[]);
    assert!(other.stderr.contains("or as dates like 2026-11-25"), "{}", other.stderr);
}

/// One value between two readings carries no more digits than they do: 1.450 V and 1.440 V, 1.4457 V between them.
#[test]
fn an_interpolated_value_has_the_digits_of_its_readings() {
    let folder = folder();
    write(folder.path(), "cells.csv", b"cell,liquid,day,ocv_V\nC1,A,0,1.450\nC1,A,7,1.440\n");
    let asked = [
        "summary",
        "cells.csv",
        "--value",
        "ocv_V",
        "--by",
        "liquid",
        "--cell",
        "cell",
        "--time",
        "day",
        "--at-day",
        "3",
    ];
    let run = run_in(folder.path(), &asked);
    assert_eq!(run.code, 0, "{}", run.stderr);
    assert!(run.stdout.contains("mean 1.446 V"), "{}", run.stdout);
    assert!(!run.stdout.contains("1.4457"), "{}", run.stdout);
}

/// Slopes that are equal but for what rounding puts into them have no scatter: nothing is said of a difference, and soon.
#[test]
fn rounding_is_no_scatter() {
    let folder = folder();
    let mut text = String::from("el,cell,day,V\n");
    for (group, start, fall) in [("A", 1.5, 0.0013), ("B", 1.45, 0.0017)] {
        for cell in 1..=3 {
            for day in [0.0, 7.0, 14.0] {
                let volts = start - 0.001 * f64::from(cell) - fall * day;
                text += &format!("{group},{group}{cell},{day},{volts:.4}\n");
            }
        }
    }
    write(folder.path(), "equal.csv", text.as_bytes());
    let asked = ["compare", "equal.csv", "--value", "V", "--by", "el", "--cell", "cell", "--time", "day"];
    let run = run_in(folder.path(), &asked);
    assert!(run.code < 2, "{}", run.stderr);
    assert!(!run.stdout.contains("Hedges g 1") && !run.stdout.contains("p < 0.0001"), "{}", run.stdout);
}
