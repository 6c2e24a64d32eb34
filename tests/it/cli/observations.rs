//! `summary` and `compare` on files of columns.

use approx::assert_relative_eq;
use serde_json::Value;

use crate::golden;
use crate::reference::worked_case::case;
use crate::run::{Run, envelope, folder, run_in, write};

/// An invented set: two batches of each of three electrolytes, two cells that failed.
const CELLS: &str = include_str!("../../fixtures/observations/cells.csv");

#[track_caller]
fn on(text: &str, arguments: &[&str]) -> Run {
    let folder = folder();
    write(folder.path(), "cells.csv", text.as_bytes());
    let run = run_in(folder.path(), arguments);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{arguments:?}");
    run
}

#[track_caller]
fn json(text: &str, arguments: &[&str]) -> Value {
    let mut all = arguments.to_vec();
    all.extend(["--format", "json"]);
    envelope(&on(text, &all).stdout)["answer"].clone()
}

#[track_caller]
fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is a number"))
}

const SUMMARY: [&str; 8] =
    ["summary", "cells.csv", "--value", "ocv", "--by", "electrolyte", "--excluded", "cause"];
const COMPARE: [&str; 10] = [
    "compare",
    "cells.csv",
    "--value",
    "ocv",
    "--by",
    "electrolyte",
    "--excluded",
    "cause",
    "--batch",
    "batch",
];

#[test]
fn summaries_are_as_kept() {
    for (format, ending) in
        [("table", "txt"), ("json", "json"), ("csv", "csv"), ("markdown", "md"), ("html", "html")]
    {
        let mut arguments = SUMMARY.to_vec();
        arguments.extend(["--format", format]);
        golden::check(&format!("cli/summary.{ending}"), &on(CELLS, &arguments).stdout);
    }
    let few =
        "electrolyte;ocv_mV\nA;1480,5\nB;1470\nB;1475\nC;1466\nC;1466\nC;1466\nD;1450\nD;1451\nD;1480\n";
    golden::check("cli/summary-few.txt", &on(few, &SUMMARY[..6]).stdout);
}

#[test]
fn comparisons_are_as_kept() {
    let check = |name: &str, text: &str, more: &[&str]| {
        let arguments: Vec<&str> = COMPARE.iter().copied().chain(more.iter().copied()).collect();
        golden::check(&format!("cli/{name}"), &on(text, &arguments).stdout);
    };
    check("compare.txt", CELLS, &[]);
    check("compare.json", CELLS, &["--format", "json"]);
    check("compare.csv", CELLS, &["--format", "csv"]);
    check("compare-dunnett.txt", CELLS, &["--method", "classical", "--baseline", "reline"]);
    check("compare-ranks.txt", CELLS, &["--method", "ranks"]);
    let one_batch: String =
        CELLS.lines().filter(|line| !line.contains("2,C")).map(|line| format!("{line}\n")).collect();
    check("compare-one-batch.txt", &one_batch, &[]);
    let pair: String =
        CELLS.lines().filter(|line| !line.starts_with("reline")).map(|line| format!("{line}\n")).collect();
    check("compare-pair.txt", &pair, &[]);
}

/// Slopes of cells, and their values at a day: invented readings, the slopes by hand.
#[test]
fn readings_of_a_cell_are_never_pooled() {
    let text = "electrolyte,cell,day,ocv_mV\n\
                A,C1,0,1500\nA,C1,7,1493\nA,C1,14,1486\n\
                A,C2,0,1490\nA,C2,7,1481\nA,C2,14,1476\n\
                B,C3,0,1480\nB,C3,14,1452\n\
                B,C4,0,1482\nB,C4,14,1461\n";
    let slopes =
        ["compare", "cells.csv", "--value", "ocv", "--by", "electrolyte", "--cell", "cell", "--time", "day"];
    let answer = json(text, &slopes);
    assert_eq!(answer["unit"], "mV/d");
    assert_eq!(answer["groups"][0]["n"], 2, "two cells, not six readings");
    assert_relative_eq!(number(&answer["groups"][0]["mean"]), -1.0, max_relative = 1e-12);
    assert_relative_eq!(number(&answer["groups"][1]["mean"]), -1.75, max_relative = 1e-12);
    let at: Vec<&str> = slopes.iter().copied().chain(["--at-day", "3.5"]).collect();
    let answer = json(text, &at);
    assert_relative_eq!(number(&answer["groups"][0]["mean"]), (1496.5 + 1485.5) / 2.0, max_relative = 1e-12);
    assert_relative_eq!(number(&answer["groups"][1]["mean"]), (1473.0 + 1476.75) / 2.0, max_relative = 1e-12);
    let folder = folder();
    write(folder.path(), "cells.csv", text.as_bytes());
    let late: Vec<&str> = slopes.iter().copied().chain(["--at-day", "20"]).collect();
    let run = run_in(folder.path(), &late);
    assert!(run.code == 2 && run.stderr.contains("no_value"), "{}", run.stderr);
}

/// W22 of `tests/fixtures/practice/worked_examples.toml`, from a file with weeks.
#[test]
fn w22_slope_of_the_open_circuit_voltage() {
    let case = case("W22");
    let read = |key: &str| {
        case.input[key].as_array().unwrap().iter().map(|value| value.to_string()).collect::<Vec<_>>()
    };
    let rows: Vec<String> =
        read("weeks").iter().zip(read("ocv_V")).map(|(week, ocv)| format!("C1,{week},{ocv}\n")).collect();
    let slope = |rows: &[String]| {
        let text = format!("cell,week,ocv (V)\n{}", rows.concat());
        let answer =
            json(&text, &["summary", "cells.csv", "--value", "ocv", "--cell", "cell", "--time", "week"]);
        assert_eq!(answer[0]["unit"], "V/week");
        1000.0 * number(&answer[0]["mean"])
    };
    case.check("ocv_slope_mV_per_week_all", slope(&rows));
    case.check("ocv_slope_mV_per_week_without_week0", slope(&rows[1..]));
}

/// S06 of `tests/fixtures/practice/stats_examples.toml`: published readings of seven cells.
#[test]
fn s06_seven_cells() {
    let file: toml::Table = include_str!("../../fixtures/practice/stats_examples.toml").parse().unwrap();
    let case =
        file["case"].as_array().unwrap().iter().find(|case| case["id"].as_str() == Some("S06")).unwrap();
    let numbers = |key: &str| -> Vec<f64> {
        case["input"][key].as_array().unwrap().iter().map(|value| value.as_float().unwrap()).collect()
    };
    let current = case["input"]["stated_current_A"].as_float().unwrap();
    let pairs: Vec<(f64, f64)> = numbers("ocv_V").into_iter().zip(numbers("loaded_V")).collect();
    let text: String =
        pairs.iter().map(|(open, loaded)| format!("{open},{}\n", (open - loaded) / current)).collect();
    let text = format!("ocv_V,resistance_ohm\n{text}");
    let expect = |key: &str, value: &Value| {
        assert_relative_eq!(number(value), case["expect"][key].as_float().unwrap(), max_relative = 1e-6);
    };
    let ocv = json(&text, &["summary", "cells.csv", "--value", "ocv"]);
    expect("ocv_mean_V", &ocv[0]["mean"]);
    expect("ocv_cv_percent", &ocv[0]["rsd_pct"]);
    let resistance = json(&text, &["summary", "cells.csv", "--value", "resistance"]);
    expect("Ri_mean_ohm", &resistance[0]["mean"]);
    expect("Ri_sd_ohm", &resistance[0]["sd"]);
    expect("Ri_cv_percent", &resistance[0]["rsd_pct"]);
    let ratio = number(&resistance[0]["max"]) / number(&resistance[0]["min"]);
    assert_relative_eq!(ratio, case["expect"]["Ri_max_over_min"].as_float().unwrap(), max_relative = 1e-6);
}

/// One table, three ways to write it.
#[test]
fn spreadsheets_of_every_country_are_read() {
    let plain = json(
        "group,ocv (V)\nA,1.48\nA,1.47\nA,\nB,1.45\nB,1.44\n",
        &["summary", "cells.csv", "--value", "ocv", "--by", "group"],
    );
    for text in [
        "group;OCV / V\r\nA;1,48\r\nA;1,47\r\nA;n/a\r\nB;1,45 V\r\nB;1,44\r\n",
        "\u{feff}group\tocv_V\tnote\nA\t1.48\t\nA\t1.47\tlow\nA\t-\tread late\n\nB\t1.45\t\nB\t1.44\t\n",
        "\"group\",\"ocv [V]\"\n\"A\",\"1,48\"\nA,1.47\nA,\n,\nB,1.45\nB,1.44\n",
    ] {
        let answer = json(text, &["summary", "cells.csv", "--value", "OCV", "--by", "group"]);
        assert_eq!(answer, plain, "{text}");
    }
    assert_eq!((&plain[0]["missing"], &plain[0]["unit"]), (&Value::from(1), &Value::from("V")));
}

/// The keys that scripts rely on.
#[test]
fn answers_have_their_keys() {
    let has = |value: &Value, keys: &str| {
        for key in keys.split_whitespace() {
            assert!(value.get(key).is_some(), "{key} is missing in {value}");
        }
    };
    let summary = json(CELLS, &SUMMARY);
    assert_eq!(summary.as_array().unwrap().len(), 3);
    for group in summary.as_array().unwrap() {
        has(
            group,
            "group n mean sd rsd_pct ci95 median mad q1 q3 quartile_type min max shapiro_w shapiro_p grubbs_g grubbs_critical \
             tolerance_k tolerance",
        );
    }
    let comparison = json(CELLS, &COMPARE);
    has(&comparison, "groups tests pairs notes");
    has(&comparison["tests"][0], "name statistic df p");
    has(&comparison["pairs"][0], "a b difference ci95 p p_adjusted hedges_g");
    // What is undefined is null.
    let one = json("ocv\n1.48\n", &["summary", "cells.csv", "--value", "ocv"]);
    for key in ["sd", "ci95", "shapiro_w", "grubbs_g", "tolerance"] {
        assert!(one[0][key].is_null(), "{key}");
    }
}

/// Failed cells can't vanish: they are counted, named, and compared with as well.
#[test]
fn what_is_left_out_is_shown() {
    let answer = json(CELLS, &COMPARE);
    let reline = &answer["failures"][1];
    assert_eq!((&reline["failed"], &reline["of"]), (&Value::from(1), &Value::from(8)));
    assert_eq!(reline["causes"][0]["cause"], "leak");
    assert!(answer["tests"].as_array().unwrap().iter().any(|test| test["name"] == "fisher_exact"));
    assert!(
        number(&answer["with_excluded"]["groups"][1]["mean"]) < number(&answer["groups"][1]["mean"]) - 0.05
    );
}

/// Codes of the warnings of a run.
fn warned(text: &str, arguments: &[&str]) -> String {
    let mut all = arguments.to_vec();
    all.extend(["--format", "json"]);
    envelope(&on(text, &all).stdout)["warnings"].to_string()
}

/// Without --cell each line counts as a cell: that the same cell comes again is told, and not that cells of two
/// groups, or of two batches, bear the same number.
#[test]
fn readings_pooled_by_mistake_are_told() {
    let asked = ["summary", "cells.csv", "--value", "ocv", "--by", "e"];
    let long = "e,cell,day,ocv (V)\nA,C1,1,1.40\nA,C2,1,1.41\nA,C1,2,1.39\nB,C3,1,1.38\nB,C4,1,1.37\n";
    let said = warned(long, &asked);
    assert!(said.contains("repeated_cells") && said.contains("cell C1 comes again in line 4"), "{said}");
    let numbered = "e,batch,cell,ocv (V)\nA,1,1,1.40\nA,2,1,1.41\nB,3,1,1.38\nB,4,1,1.37\n";
    let by_batch = [&asked[..], &["--batch", "batch"]].concat();
    assert!(!warned(numbered, &by_batch).contains("repeated_cells"));
    let compare = ["compare", "cells.csv", "--value", "ocv", "--by", "e"];
    assert!(warned(long, &compare).contains("repeated_cells"));
}

/// Millivolts among volts are told.
#[test]
fn values_in_two_units_are_told() {
    let asked = ["summary", "cells.csv", "--value", "ocv", "--by", "e"];
    let said = warned("e,ocv (V)\nA,1.45\nA,1452\nA,1.44\n", &asked);
    assert!(said.contains("far_apart") && said.contains("1452"), "{said}");
    assert!(!warned("e,ocv (V)\nA,1.45\nA,0.05\nA,1.44\n", &asked).contains("far_apart"));
}

/// p against a baseline is adjusted for those comparisons, not for all pairs.
#[test]
fn a_baseline_is_named_with_its_p() {
    let four = "e,ocv\nA,1.40\nA,1.41\nA,1.42\nB,1.44\nB,1.45\nB,1.47\nC,1.41\nC,1.42\nC,1.44\n";
    let asked = ["compare", "cells.csv", "--value", "ocv", "--by", "e", "--baseline", "A"];
    let screen = on(four, &asked).stdout;
    assert!(screen.contains("adjusted for 2 comparisons") && !screen.contains("among all pairs"), "{screen}");
}

/// A group that was made once has no part where the unit is the batch: it is said, with what can be done.
#[test]
fn what_was_made_once_is_told() {
    let text = "e,b,ocv\nA,1,1.40\nA,1,1.41\nA,2,1.42\nA,2,1.43\nB,3,1.44\nB,3,1.45\nB,4,1.47\nB,4,1.46\n\
                C,5,1.30\nC,5,1.31\n";
    let asked = ["compare", "cells.csv", "--value", "ocv", "--by", "e", "--batch", "b"];
    let screen = on(text, &asked).stdout;
    assert!(screen.contains("Nothing is said of C: made once"), "{screen}");
    let screen = on(text, &[&asked[..], &["--baseline", "C"]].concat()).stdout;
    assert!(screen.contains("Nothing can be compared with C: it was made once"), "{screen}");
}

/// Names that are too long to stand beside their values are shown in full, each above its own.
#[test]
fn long_names_are_not_cut() {
    let text = "e,ocv\ncholine chloride and glycerol,1.40\ncholine chloride and glycerol,1.41\n\
                choline chloride and ethylene glycol,1.44\ncholine chloride and ethylene glycol,1.45\n";
    let screen = on(text, &["summary", "cells.csv", "--value", "ocv", "--by", "e"]).stdout;
    for name in ["\ncholine chloride and glycerol\n", "\ncholine chloride and ethylene glycol\n"] {
        assert!(screen.contains(name), "{screen}");
    }
}

/// A fault names the line as an editor counts it, however lines end.
#[test]
fn lines_are_counted_alike_however_they_end() {
    for end in ["\n", "\r\n"] {
        let text = ["e,ocv", "A,1.40", "A,1.4x", "B,1.45"].join(end);
        let folder = folder();
        write(folder.path(), "cells.csv", text.as_bytes());
        let run = run_in(folder.path(), &["summary", "cells.csv", "--value", "ocv", "--by", "e"]);
        assert!(run.code == 2 && run.stderr.contains("cells.csv:3"), "{end:?}: {}", run.stderr);
    }
}
