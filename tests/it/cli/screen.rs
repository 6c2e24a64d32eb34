//! The end of a run: exit codes, and a reader that goes away.

use std::io::Read as _;
use std::process::{Command, Stdio};

use crate::run::{folder, run};

/// 0 done, 1 the answer is no, 2 bad input, 3 storage.
#[test]
fn the_exit_code_says_how_it_ended() {
    let ends: [(i32, &[&str]); 6] = [
        (0, &["plan", "ChCl:urea 1:2", "--mass", "50 g"]),
        (1, &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--have", "ChCl 12.4g"]),
        (1, &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--weighed", "ChCl 30 g", "--accept-ratio"]),
        (2, &["plan", "ChCl:urea 1:2", "--mass", "50"]),
        (2, &["brew", "ChCl:urea 1:2"]),
        (3, &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--out", "nowhere/plan.txt"]),
    ];
    for (code, arguments) in ends {
        let run = run(arguments);
        assert_eq!(run.code, code, "{arguments:?}: {}", run.stderr);
        assert_eq!(run.stderr.is_empty(), code < 2, "{arguments:?}: {}", run.stderr);
        assert_eq!(run.stdout.is_empty(), 2 <= code, "{arguments:?}: {}", run.stdout);
    }
}

/// `meltbook … | head -1`: the reader has seen enough, and nobody says a word.
#[test]
fn a_reader_that_goes_away_is_no_fault() {
    let folder = folder();
    let mut child = Command::new(env!("CARGO_BIN_EXE_meltbook"))
        .args(["component", "list", "--format", "json"])
        .current_dir(folder.path())
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdout = child.stdout.take().expect("it is piped");
    let mut start = [0; 1];
    stdout.read_exact(&mut start).expect("something is written");
    drop(stdout);
    let output = child.wait_with_output().expect("it ends");
    assert_eq!(start, *b"{");
    assert_eq!((output.status.code(), output.stderr.as_slice()), (Some(0), &b""[..]));
}

/// Away from a screen there is no colour, whatever the terminal is called.
#[test]
fn no_colour_away_from_a_screen() {
    let folder = folder();
    let arguments = ["plan", "ChCl:ureum 1:2", "--mass", "50 g"];
    let output = crate::run::command(folder.path(), &arguments)
        .env("TERM", "xterm-256color")
        .env("CLICOLOR_FORCE", "1")
        .output()
        .expect("the program starts");
    assert!(!output.stderr.contains(&0x1b));
}
