//! How long a D-optimal choice takes: inside the library, and as a whole process, as a person waits for it.
//!
//! `cargo bench --bench mixture`. Aim: 20 runs out of 500 candidates under 1 s, whole process.

// A measurement of something that fails is none: it ends at once.
#![allow(clippy::expect_used)]

use std::fmt::Write as _;
use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use divan::Bencher;
use meltbook::compose::mixture::{Crossing, Model, Order, d_optimal};
use meltbook::statistics::random::Chance;

/// Candidates to choose from.
const CANDIDATES: usize = 500;
/// How many are chosen.
const RUNS: &str = "20";

fn main() {
    divan::main();
}

/// Compositions of four components, each with something of all of them.
fn compositions() -> Vec<Vec<f64>> {
    let mut chance = Chance::of_seed(1);
    let one = || -> Vec<f64> {
        let parts: Vec<f64> = (0..4).map(|_| (1 + chance.below(1000)) as f64).collect();
        let sum: f64 = parts.iter().sum();
        parts.iter().map(|part| part / sum).collect()
    };
    std::iter::repeat_with(one).take(CANDIDATES).collect()
}

/// One random start of the exchange.
#[divan::bench]
fn one_start(bencher: Bencher) {
    let model = Model::new(Order::Quadratic, 4, Vec::new(), Crossing::Every);
    let rows: Vec<Vec<f64>> = compositions().iter().map(|x| model.row(x, &[])).collect();
    let order: Vec<usize> = (0..rows.len()).collect();
    bencher.bench_local(|| {
        d_optimal(black_box(&rows), &[], 20, &order, (1, 1), |_, _| {}).expect("it can be told")
    });
}

/// From the shell's call to the exit code, candidates read from a file, all starts.
#[divan::bench(args = ["quadratic", "special-cubic"], sample_count = 20, sample_size = 1)]
fn whole_process(bencher: Bencher, model: &str) {
    let path = file();
    bencher.bench_local(|| run(&path, model));
}

fn file() -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join("mixture-candidates.csv");
    let mut text = "a,b,c,d\n".to_owned();
    for x in compositions() {
        writeln!(text, "{},{},{},{}", x[0], x[1], x[2], x[3]).expect("a String takes all");
    }
    fs::write(&path, text).expect("the folder of the build can be written to");
    path
}

fn run(path: &Path, model: &str) {
    let path = path.to_str().expect("the path is text");
    let status = Command::new(env!("CARGO_BIN_EXE_meltbook"))
        .args(["mixture", "optimal", "a", "b", "c", "d", "--candidates", path])
        .args(["--runs", RUNS, "--model", model, "--seed", "7"])
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::inherit())
        .status()
        .expect("the program starts");
    assert!(status.success(), "{model}");
}
