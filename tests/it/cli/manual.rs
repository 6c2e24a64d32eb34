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

/// A file where the folder should be is no fault of a book: place, value, rule and way out are those of the argument.
#[test]
fn a_file_is_no_folder() {
    let here = folder();
    fs::write(here.path().join("notes"), "mine").expect("it is written");
    for arguments in [
        &["manual", "notes"][..],
        &["mixture", "lattice", "ChCl", "urea", "--degree", "2", "--seed", "1", "--recipes", "notes"],
    ] {
        let run = run_in(here.path(), arguments);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""));
        assert!(run.stderr.contains("notes is a file, and a folder is asked for"), "{}", run.stderr);
        assert!(!run.stderr.contains("disk") && !run.stderr.contains("book"), "{}", run.stderr);
    }
    assert_eq!(fs::read_to_string(here.path().join("notes")).expect("it is there"), "mine");
}

/// What bash offers behind each flag: files behind those that read or write one alone.
#[test]
fn files_are_offered_where_files_belong() {
    let script = run_in(folder().path(), &["completions", "bash"]).stdout;
    let flags: Vec<(&str, &str)> = script
        .split("\n                ")
        .filter(|block| block.starts_with("--"))
        .filter_map(|block| block.split_once(')'))
        .collect();
    assert!(100 < flags.len(), "{}", flags.len());
    let kept =
        fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/golden/help")).expect("the help is kept");
    let page = |file: std::io::Result<fs::DirEntry>| fs::read_to_string(file.ok()?.path()).ok();
    let help: String = kept.filter_map(page).collect();
    for (flag, offered) in flags {
        let takes = |value: &str| help.contains(&format!("{flag} <{value}>"));
        let is_file = ["FILE", "DESIGN", "RECIPE"].into_iter().any(takes);
        assert!(is_file || !offered.contains("compgen -f"), "{flag}: {offered}");
    }
    for words in
        ["density viscosity conductivity walden", "line vft arrhenius", "ghs clp hcs", "clear hazy turbid"]
    {
        assert!(script.contains(&format!("compgen -W \"{words}\"")), "{words}");
    }
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
