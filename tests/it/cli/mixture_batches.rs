//! `mixture fit --plot`: readings of one batch are one result, so that errors come from batches.

use approx::assert_relative_eq;
use serde_json::Value;
use tempfile::TempDir;

use crate::run::{envelope, folder, run_in, write};

const FIT: [&str; 12] = [
    "mixture", "fit", "read.csv", "--part", "a,b", "--value", "y", "--model", "linear", "--plot", "batch",
    "--seed",
];

fn found(folder: &TempDir, rows: &str) -> (Value, String) {
    write(folder.path(), "read.csv", format!("batch,a,b,y\n{rows}").as_bytes());
    let run = |more: &[&str]| {
        let run = run_in(folder.path(), &[&FIT[..], &["1"], more].concat());
        assert_eq!(run.code, 0, "{} {}", run.stdout, run.stderr);
        run.stdout
    };
    let shown = run(&[]).split_whitespace().collect::<Vec<_>>().join(" ");
    (envelope(&run(&["--format", "json"]))["answer"].clone(), shown)
}

/// Two batches each of pure a and pure b, three readings of each that differ by 0.01. By hand the batches have the means 1.0,
/// 1.4 and 3.0, 3.6: about the means 1.2 and 3.3 that is 2 · 0.2² + 2 · 0.3² = 0.26 on 4 − 2 degrees of freedom, all of it
/// pure error, and the standard error of a mean of two is √(0.13/2). Of twelve single readings the error would have ten.
#[test]
fn readings_of_a_batch_are_one_result() {
    let folder = folder();
    let mut rows = String::new();
    for (batch, a, y) in [("P", 1, 1.0), ("Q", 1, 1.4), ("R", 0, 3.0), ("S", 0, 3.6)] {
        for off in [-0.01, 0.0, 0.01] {
            rows.push_str(&format!("{batch},{a},{},{}\n", 1 - a, y + off));
        }
    }
    let (answer, shown) = found(&folder, &rows);
    assert_eq!(answer["n"], 4);
    assert_eq!(answer["batches"], serde_json::json!({ "column": "batch", "readings": [3, 3, 3, 3] }));
    assert_eq!(
        (&answer["anova"]["df_error"], &answer["lack_of_fit"]["df_pure_error"]),
        (&2.into(), &2.into())
    );
    assert_relative_eq!(answer["anova"]["ss_error"].as_f64().unwrap(), 0.26, max_relative = 1e-9);
    let sd = answer["parameters"][0]["sd"].as_f64().unwrap();
    assert_relative_eq!(sd, (0.13f64 / 2.0).sqrt(), max_relative = 1e-9);
    assert!(shown.contains("3 readings of each batch (batch) at one setting count as one result"), "{shown}");
    assert!(shown.contains("line 2 and 2 more"), "{shown}");
    assert!(!shown.contains("all results count as independent"), "{shown}");
}

/// A plain mean whatever the number: 1 and 1.2 of one batch, 2 of the other.
#[test]
fn unequal_numbers_are_said() {
    let folder = folder();
    let (answer, shown) = found(&folder, "P,1,0,1.0\nP,1,0,1.2\nQ,1,0,2.0\nR,0,1,3.0\n");
    assert_eq!(answer["batches"]["readings"], serde_json::json!([2, 1, 1]));
    assert_relative_eq!(answer["parameters"][0]["value"].as_f64().unwrap(), 1.55, max_relative = 1e-9);
    assert!(shown.contains("1 to 2 readings of a batch (batch)"), "{shown}");
    assert!(shown.contains("4 readings make 3 results"), "{shown}");
}
