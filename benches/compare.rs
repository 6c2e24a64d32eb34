//! How long a comparison of 3 × 12 cells takes as a whole process, out of a file of columns and out of a book.
//!
//! `cargo bench --bench compare`. Aim: under 10 ms. The book is the sample book of `meltbook demo`: 36 cells with six
//! weeks of readings.

// A measurement of something that fails is none: it ends at once.
#![allow(clippy::expect_used)]

use std::path::PathBuf;
use std::process::{Command, Stdio};

use divan::Bencher;

fn main() {
    divan::main();
}

/// Where the book and the files are kept, made once.
fn folder() -> PathBuf {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("compare");
    if !folder.join("cells.csv").is_file() {
        // What is left of a making that was cut short.
        drop(std::fs::remove_dir_all(&folder));
        std::fs::create_dir_all(&folder).expect("the folder is made");
        let book = folder.join("book");
        run(&["demo", book.to_str().expect("the path is text")]);
        let readings = folder.join("readings.csv");
        let list = ["reading", "list", "--what", "open-circuit", "--undisturbed", "--format", "csv"];
        let readings = readings.to_str().expect("the path is text");
        run(&[&list[..], &["--book", book.to_str().expect("the path is text"), "--out", readings]].concat());
        std::fs::write(folder.join("cells.csv"), cells()).expect("the file is written");
    }
    folder
}

/// One line for each of 36 cells, two batches for each of three electrolytes.
fn cells() -> String {
    let mut text = String::from("electrolyte,batch,cell,ocv (V)\n");
    for cell in 0..36 {
        let (group, batch) = (cell / 12, cell / 6);
        let volts = 1.46 - 0.02 * f64::from(group) + 0.001 * f64::from((cell * 7) % 11);
        text.push_str(&format!(
            "{},E{},C{},{volts:.4}\n",
            ["A", "B", "C"][group as usize],
            batch + 1,
            cell + 1
        ));
    }
    text
}

/// One value a cell.
#[divan::bench(args = ["table", "json", "html"], sample_count = 100, sample_size = 1)]
fn file_of_cells(bencher: Bencher, format: &str) {
    let path = folder().join("cells.csv");
    let path = path.to_str().expect("the path is text");
    bencher.bench_local(|| {
        run(&[
            "compare",
            path,
            "--value",
            "ocv",
            "--by",
            "electrolyte",
            "--batch",
            "batch",
            "--format",
            format,
        ]);
    });
}

/// Every reading of every cell, and the value at a day.
#[divan::bench(sample_count = 100, sample_size = 1)]
fn file_of_readings(bencher: Bencher) {
    let path = folder().join("readings.csv");
    let path = path.to_str().expect("the path is text");
    bencher.bench_local(|| {
        run(&[
            "compare",
            path,
            "--value",
            "open-circuit",
            "--by",
            "electrolyte",
            "--batch",
            "batch",
            "--cell",
            "cell",
            "--time",
            "age",
            "--at-day",
            "14",
        ]);
    });
}

/// The cells of the book.
#[divan::bench(args = ["voltage day=14", "slope from=7 to=42"], sample_count = 100, sample_size = 1)]
fn book(bencher: Bencher, metric: &str) {
    let book = folder().join("book");
    let book = book.to_str().expect("the path is text");
    bencher.bench_local(|| run(&["compare", "--metric", metric, "--book", book]));
}

/// What any start of the program costs, to set against the above.
#[divan::bench(sample_count = 100, sample_size = 1)]
fn process_that_only_says_its_version() {
    run(&["--version"]);
}

fn run(arguments: &[&str]) {
    let status = Command::new(env!("CARGO_BIN_EXE_meltbook"))
        .args(arguments)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .expect("the program starts");
    assert!(status.success(), "{arguments:?}");
}
