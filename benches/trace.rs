//! How long a trace takes in a large book, as a person waits for it, next to the SQLite shell with the same
//! recursive question.
//!
//! `cargo bench --bench trace`. Aim: the whole process under 20 ms for a cell, a batch and a bottle in a book of
//! 100,000 cells, 10,000 batches and 1,000 bottles. The book is made once, through the same writing that the
//! program does, and kept in the target folder.

// A measurement of something that fails is none: it ends at once. What it finds is printed.
#![allow(clippy::expect_used, clippy::print_stdout)]

#[path = "trace/large_book.rs"]
mod large_book;

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// Runs of each, fewer of what takes longer than [`PATIENCE`] for all of them.
const RUNS: usize = 60;
/// How long the runs of one row may take.
const PATIENCE: Duration = Duration::from_secs(8);

/// The question that `meltbook trace` asks, for the SQLite shell: every amount up and down with both names.
const QUESTION: &str = "
WITH RECURSIVE
up (code) AS (VALUES ('CODE') UNION SELECT from_code FROM up CROSS JOIN flow ON to_code = up.code),
down (code) AS (VALUES ('CODE') UNION SELECT to_code FROM down CROSS JOIN flow ON from_code = down.code),
part AS (
    SELECT flow.* FROM up CROSS JOIN flow ON to_code = up.code
    UNION ALL SELECT flow.* FROM down CROSS JOIN flow ON from_code = down.code
)
SELECT from_code,
       coalesce((SELECT name FROM bottle WHERE code = from_code), (SELECT name FROM batch WHERE code = from_code)),
       to_code,
       coalesce((SELECT name FROM bottle WHERE code = to_code), (SELECT name FROM batch WHERE code = to_code), 'cell'),
       grams
FROM part
UNION ALL
SELECT cell, 'cell', sequence, what || ' ' || number, NULL FROM down CROSS JOIN reading ON cell = down.code;
";

fn main() {
    let folder = large_book::made();
    let sqlite =
        Command::new("sqlite3").arg("--version").output().is_ok_and(|output| output.status.success());
    if !sqlite {
        println!("sqlite3 shell: not on this machine, left out");
    }
    println!("{:<44} {:<10} {:>9} {:>9} {:>9} {:>10}", "", "", "median", "least", "most", "bytes");
    measured("start of the program", "--version", || program(&folder, &["--version"]));
    for (what, code) in large_book::SUBJECTS {
        for format in ["table", "json", "html"] {
            measured(what, format, || program(&folder, &["trace", code, "--format", format]));
        }
        if sqlite {
            let question = QUESTION.replace("CODE", code);
            measured(what, "sqlite3", || shell(&folder, &question));
        }
    }
    measured("suspect: a bottle", "table", || program(&folder, &["trace", "--suspect", "B500"]));
    measured("suspect: a meter, 20,000 readings", "table", || {
        program(&folder, &["trace", "--suspect", "DMM-3"])
    });
    measured("between 20 and 20 cells", "table", || {
        program(&folder, &["trace", "--between", "C1001-C1020", "C1021-C1040"])
    });
}

fn program(folder: &Path, arguments: &[&str]) -> Vec<u8> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_meltbook"));
    output(command.args(arguments).env("MELTBOOK_BOOK", folder))
}

fn shell(folder: &Path, question: &str) -> Vec<u8> {
    output(Command::new("sqlite3").arg("-readonly").arg(folder.join("book.sqlite")).arg(question))
}

fn output(command: &mut Command) -> Vec<u8> {
    let output = command.stdin(Stdio::null()).stderr(Stdio::inherit()).output().expect("it starts");
    assert!(output.status.success(), "{command:?}");
    output.stdout
}

/// Median, least and most of the time of whole runs, the first not counted.
fn measured(what: &str, how: &str, run: impl Fn() -> Vec<u8>) {
    let bytes = run().len();
    let mut times: Vec<Duration> = Vec::new();
    while times.len() < RUNS && times.iter().sum::<Duration>() < PATIENCE {
        let start = Instant::now();
        std::hint::black_box(run());
        times.push(start.elapsed());
    }
    times.sort();
    let ms = |time: Option<&Duration>| time.map_or(0.0, |time| time.as_secs_f64() * 1e3);
    println!(
        "{what:<44} {how:<10} {:>6.1} ms {:>6.1} ms {:>6.1} ms {bytes:>10}",
        ms(times.get(times.len() / 2)),
        ms(times.first()),
        ms(times.last()),
    );
}
