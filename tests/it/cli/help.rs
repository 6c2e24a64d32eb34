//! The help of every command. Commands are found in the help itself, so that none is forgotten.

use meltbook::record::CodeKind;

use crate::book::lab::{Decided, Lab, with_cells};
use crate::golden;
use crate::run::{answer, line, run};

#[test]
fn every_command_explains_itself() {
    let mut pages = Vec::new();
    collect(&[], &mut pages);
    golden::check_all(&pages);
    let names: Vec<String> = pages.into_iter().map(|(name, _)| name).collect();
    golden::nothing_else_in("help", &names);
}

/// A command that does something shows how, in a line that can be copied.
#[test]
fn every_example_runs() {
    let mut pages = Vec::new();
    collect(&[], &mut pages);
    for (name, page) in pages {
        let Some((_, examples)) = page.split_once("Example") else {
            assert!(page.contains("Commands:"), "{name} has no example");
            continue;
        };
        let joined = examples.replace("\\\n", " ");
        let examples: Vec<&str> =
            joined.lines().filter_map(|line| line.trim().strip_prefix("meltbook ")).collect();
        assert!(!examples.is_empty(), "{name} has no example");
        for example in examples {
            let words = words(example);
            let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
            let run = lab_for(&arguments).run("2026-11-25T18:00:00Z", &arguments);
            assert!(run.code < 2, "{}: {}", line(&arguments), run.stderr);
        }
    }
}

#[test]
fn nothing_given_shows_help_as_a_fault() {
    let run = run(&[]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    assert!(run.stderr.contains("Usage: meltbook"), "{}", run.stderr);
}

#[test]
fn the_version_is_that_of_the_crate() {
    assert_eq!(answer(&["--version"], 0), format!("meltbook {}\n", env!("CARGO_PKG_VERSION")));
}

/// A book in which all that the examples name is there, new for each of them.
fn lab_for(arguments: &[&str]) -> Lab {
    // Work on a batch asks for one that has come so far.
    let stage = match arguments {
        ["batch", "weigh" | "finish", ..] => Some(Decided::Making),
        ["batch", "release", ..] => Some(Decided::Nothing),
        _ => None,
    };
    let lab = match stage {
        Some(stage) => {
            Lab::new().with(CodeKind::Electrolyte, &["choline-chloride", "ethylene-glycol"], 60.0, stage)
        }
        None => with_cells()
            .with(CodeKind::Electrolyte, &["choline-chloride", "glycerol"], 40.0, Decided::Release)
            .with(CodeKind::StockSolution, &["choline-chloride", "water"], 10.0, Decided::Release),
    };
    lab.answer("2026-11-03T08:00:00Z", &["bottle", "receive", "ChCl", "--net", "500 g"], 0);
    lab.answer("2026-11-03T08:00:00Z", &["bottle", "receive", "EG", "--net", "500 g"], 0);
    lab.write("components.toml", "component = []\n");
    lab.write("masses.csv", "cell,E1\nC1,1.183\n");
    lab.write("voltages.csv", "cell (V),2026-11-03\nC1,1.482\n");
    lab.answer("2026-11-03T08:00:00Z", &["archive", "kept"], 0);
    lab
}

/// The page of a command and of those below it.
fn collect(command: &[&str], pages: &mut Vec<(String, String)>) {
    let mut arguments = command.to_vec();
    arguments.push("--help");
    let page = answer(&arguments, 0);
    let name = if command.is_empty() { "meltbook".to_owned() } else { command.join("-") };
    for line in page.lines() {
        assert!(line.chars().count() <= 100, "{name}: {line:?} is wider than 100 columns");
    }
    let below = below(&page);
    pages.push((format!("help/{name}.txt"), page));
    for sub in below {
        let mut command = command.to_vec();
        command.push(&sub);
        collect(&command, pages);
    }
}

/// The names under "Commands:", other than that of help itself.
fn below(page: &str) -> Vec<String> {
    let Some((_, list)) = page.split_once("Commands:\n") else { return Vec::new() };
    let lines = list.lines().take_while(|line| !line.is_empty());
    let names = lines.filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let names = names.filter_map(|line| line.split_whitespace().next());
    names.filter(|name| *name != "help").map(str::to_owned).collect()
}

/// The words of a shell line with plain quotes.
fn words(text: &str) -> Vec<String> {
    let mut words = vec![String::new()];
    let mut quote = None;
    for c in text.trim().chars() {
        match c {
            '"' | '\'' if quote.is_none() => quote = Some(c),
            _ if quote == Some(c) => quote = None,
            ' ' if quote.is_none() => words.push(String::new()),
            _ => words.last_mut().expect("there is a first word").push(c),
        }
    }
    words.retain(|word| !word.is_empty());
    words
}
