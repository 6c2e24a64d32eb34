//! Pages for man and completions: one of each for every command that the help names.

use std::fs;

use crate::run::{folder, run_in};

/// The commands that the help of the program lists.
fn commands() -> Vec<String> {
    let help = run_in(folder().path(), &["--help"]).stdout;
    let list = help.split_once("Commands:\n").expect("it lists commands").1;
    let lines = list.lines().take_while(|line| line.starts_with("  "));
    let names =
        lines.filter(|line| !line.starts_with("   ")).filter_map(|line| line.split_whitespace().next());
    names.filter(|name| *name != "help").map(str::to_owned).collect()
}

#[test]
fn every_command_has_a_page() {
    let here = folder();
    let run = run_in(here.path(), &["manual", "man1"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    let commands = commands();
    assert!(20 < commands.len(), "{commands:?}");
    for command in &commands {
        let page =
            fs::read_to_string(here.path().join(format!("man1/meltbook-{command}.1"))).expect("it is there");
        // A heading and the parts that man-pages(7) names.
        assert!(
            page.contains(".TH") && page.contains(".SH NAME") && page.contains(".SH SYNOPSIS"),
            "{command}"
        );
        assert!(page.contains("meltbook"), "{command}");
    }
    let below = fs::read_to_string(here.path().join("man1/meltbook-batch-weigh.1")).expect("it is there");
    assert!(below.contains("meltbook batch weigh E2 ChCl"), "its example stands there: {below}");
    let again = run_in(here.path(), &["manual", "man1"]);
    assert_eq!(again.code, 2);
    assert!(again.stderr.contains("is there already"), "{}", again.stderr);
}

#[test]
fn every_shell_completes_every_command() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let run = run_in(folder().path(), &["completions", shell]);
        assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{shell}");
        for command in commands() {
            assert!(run.stdout.contains(&command), "{shell}: {command}");
        }
        assert!(run.stdout.contains("cautions"), "{shell}");
    }
}
