//! How long it takes to take in a long log, next to the SQLite shell's own import of the same file.
//!
//! `cargo bench --bench log`; rows by MELTBOOK_ROWS (ten million unless it says otherwise). Aim: no longer than
//! twice the shell's import, in bounded memory. Where there is no shell, its line is left out.

// A measurement of something that fails is none: it ends at once, and its result is what is printed.
#![allow(clippy::expect_used, clippy::print_stdout)]

use std::fs::File;
use std::io::{BufWriter, Write as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const ROWS: u64 = 10_000_000;

fn main() {
    let rows = std::env::var("MELTBOOK_ROWS").ok().and_then(|rows| rows.parse().ok()).unwrap_or(ROWS);
    let folder = tempfile::tempdir().expect("a folder");
    let log = folder.path().join("log.csv");
    write(&log, rows);
    let bytes = log.metadata().expect("it is there").len();
    println!("{rows} rows, {} MB", bytes / 1_000_000);
    let book = book(folder.path());
    let import =
        ["reading", "import", "log.csv", "--book", &book, "--cell", "C1", "--start", "2026-11-03T00:00:00Z"];
    report("meltbook reading import", rows, run(folder.path(), &import));
    let figures = ["cell", "figures", "C1", "--book", &book, "--cut-off", "0.9 V"];
    report("meltbook cell figures", rows, run(folder.path(), &figures));
    match shell(folder.path()) {
        Some(time) => report("sqlite3 .import and sum", rows, time),
        None => println!("there is no sqlite3 shell here"),
    }
}

/// A discharge, two samples a second.
fn write(path: &Path, rows: u64) {
    let mut out = BufWriter::new(File::create(path).expect("a file"));
    writeln!(out, "Time (s),Voltage (V),Current (mA)").expect("it is written");
    for row in 0..rows {
        let volts = 1.5 - 0.8 * row as f64 / rows as f64;
        writeln!(out, "{:.1},{volts:.5},{:.4}", row as f64 * 0.1, volts / 47.0 * 1000.0)
            .expect("it is written");
    }
    out.flush().expect("it is written");
}

/// A book with a cell C1.
fn book(folder: &Path) -> String {
    let go = |arguments: &[&str]| {
        run(folder, arguments);
    };
    let book = "book";
    go(&["init", book, "--laboratory", "Bench", "--by", "AB"]);
    go(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", book]);
    let because = ["--because", "for the bench", "--when", "2026-11-02"];
    let build =
        ["cell", "build", "--design", "open-vial-zinc-manganese-dioxide", "--use", "E1=1g", "--count", "1"];
    go(&build.iter().chain(&because).chain(&["--book", book]).copied().collect::<Vec<_>>());
    book.to_owned()
}

fn run(folder: &Path, arguments: &[&str]) -> Duration {
    let start = Instant::now();
    let mut command = Command::new(env!("CARGO_BIN_EXE_meltbook"));
    command.current_dir(folder).args(arguments).env("TZ", "UTC").env("MELTBOOK_NOW", "2026-11-25T09:00:00Z");
    let status = command.stdout(Stdio::null()).status().expect("it runs");
    assert!(status.success(), "{arguments:?}");
    start.elapsed()
}

/// The shell's import into a new database, and the sums that a summary needs.
fn shell(folder: &Path) -> Option<Duration> {
    let start = Instant::now();
    let script = "CREATE TABLE log (t REAL, v REAL, i REAL);\n.mode csv\n.import --skip 1 log.csv log\n\
                  SELECT count(*), min(t), max(t), min(v), max(v), min(i), max(i) FROM log;\n";
    let mut child = Command::new("sqlite3")
        .arg("shell.sqlite")
        .current_dir(folder)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .ok()?;
    child.stdin.take()?.write_all(script.as_bytes()).ok()?;
    child.wait().ok()?.success().then(|| start.elapsed())
}

fn report(what: &str, rows: u64, time: Duration) {
    println!(
        "{what:<26} {:>7.2} s, {:>6.2} million rows a second",
        time.as_secs_f64(),
        rows as f64 / 1e6 / time.as_secs_f64()
    );
}
