//! The help of every command. Commands are found in the help itself, so that none is forgotten.

use meltbook::record::CodeKind;

use crate::book::lab::{DESIGN, Decided, Lab, with_cells};
use crate::golden;
use crate::run::{answer, line, run, words};

/// When the examples of cells are run.
const NOW: &str = "2026-11-25T18:00:00Z";

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
        // Each command's examples run in a book of their own, so that none depends on another's.
        let folder = book_for_examples();
        let Some((_, examples)) = page.split_once("Example") else {
            assert!(page.contains("Commands:"), "{name} has no example");
            continue;
        };
        // A line that is wider than the page is broken where no shell goes on.
        assert!(!examples.lines().any(|line| line.trim() == "\\"), "{name}: a line is too long to be copied");
        let joined = examples.replace("\\\n", " ");
        let examples: Vec<&str> =
            joined.lines().filter_map(|line| line.trim().strip_prefix("meltbook ")).collect();
        assert!(!examples.is_empty(), "{name} has no example");
        for example in examples {
            let words = words(example);
            let arguments: Vec<&str> = words.iter().map(String::as_str).collect();
            let run = match arguments.first() {
                Some(&("cell" | "reading" | "due" | "label" | "trace" | "study")) => {
                    book_with_cells().run(NOW, &arguments)
                }
                Some(&"report") => book_with_readings().run(NOW, &arguments),
                _ if arguments.contains(&"--metric") || arguments.contains(&"--study") => {
                    book_with_readings().run(NOW, &arguments)
                }
                _ => crate::run::run_in(folder.path(), &arguments),
            };
            assert!(run.code < 2, "{}: {}", line(&arguments), run.stderr);
        }
    }
}

/// A folder that is a book, with what the examples speak of: the bottles B1 (opened) and B2, an archive, a
/// batch E1 that is made, E2 that is being weighed, a stock solution S1.
fn book_for_examples() -> tempfile::TempDir {
    let folder = crate::run::folder();
    let run = |arguments: &[&str]| {
        let run = crate::run::run_in(folder.path(), arguments);
        assert_eq!(run.code, 0, "{}: {}", line(arguments), run.stderr);
    };
    run(&["init", "book", "--laboratory", "Room 12", "--by", "AB"]);
    for name in ["book.sqlite", "meltbook.toml", "recipes", "designs", "files"] {
        let from = folder.path().join("book").join(name);
        std::fs::rename(from, folder.path().join(name)).expect("it moves");
    }
    std::fs::remove_dir(folder.path().join("book")).expect("it is empty");
    run(&[
        "bottle",
        "receive",
        "ChCl assay=98% basis=dried moisture=1.5%",
        "--net",
        "500 g",
        "--price",
        "45 EUR",
    ]);
    run(&["bottle", "receive", "urea assay=99.5%", "--net", "500 g"]);
    run(&["bottle", "weigh", "B2", "480 g"]);
    for code in ["E1", "E2"] {
        run(&["batch", "start", "ChCl:urea 1:2", "--mass", "60 g"]);
        run(&["batch", "weigh", code, "ChCl", "32.48 g", "--from", "B1"]);
    }
    run(&["batch", "weigh", "E1", "urea", "27.1 g", "--from", "B2"]);
    run(&["batch", "finish", "E1"]);
    run(&["batch", "measure", "E1", "liquidus", "14 °C", "--method", "last crystal seen"]);
    run(&["batch", "start", "ZnCl2:water 1:9 by mass", "--mass", "50 g", "--stock-solution"]);
    run(&["batch", "weigh", "S1", "ZnCl2", "5 g"]);
    run(&["batch", "weigh", "S1", "water", "45 g"]);
    run(&["archive", "book-2026-11"]);
    let cells = include_bytes!("../../fixtures/observations/cells.csv");
    crate::run::write(folder.path(), "cells.csv", cells);
    crate::run::write(folder.path(), "components.toml", b"component = []\n");
    for (name, points) in [
        (
            "results.csv",
            "ChCl,urea,glycerol,conductivity (mS/cm)\n0.5,0.5,0,1.2\n0.5,0,0.5,1.1\n0.4,0.6,0,0.9\n0.4,0,0.6,1.3\n\
             0.4,0.3,0.3,1.25\n0.45,0.3,0.25,1.28\n0.5,0.25,0.25,1.3\n0.5,0.25,0.25,1.33\n",
        ),
        (
            "candidates.csv",
            "ChCl,urea,glycerol\n1,0,0\n0,1,0\n0,0,1\n0.5,0.5,0\n0.5,0,0.5\n0,0.5,0.5\n0.34,0.33,0.33\n0.6,0.2,0.2\n",
        ),
        (
            "voltages.csv",
            "day (d),voltage (V),cell\n0,1.32,C1\n2,1.299,C1\n7,1.26,C1\n14,1.233,C1\n28,1.215,C1\n56,1.209,C1\n",
        ),
        ("prices.csv", "component,price (EUR),amount\nChCl,45,500 g\nEG,18,1 kg\nglycerol,22,500 g\n"),
        (
            "transport.csv",
            "temperature (°C),conductivity (mS/cm),viscosity (mPa·s),density (g/mL)\n20,6.4,48.2,1.118\n\
             30,9.1,33.1,1.112\n40,12.2,24,1.107\n",
        ),
        ("viscosity.csv", "temperature (°C),viscosity\n20,223\n30,129\n40,81\n60,37\n80,20.5\n"),
    ] {
        crate::run::write(folder.path(), name, points.as_bytes());
    }
    folder
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

/// A book with what the examples of cells, readings and traces speak of, new for each: the batches E1, E2 and M1,
/// released, the cells C1 to C12, two tables, a bottle.
fn book_with_cells() -> Lab {
    let lab = with_cells();
    lab.batch(CodeKind::Electrolyte, &["choline-chloride", "glycerol"], 40.0, Decided::Release);
    lab.answer(NOW, &["bottle", "receive", "urea assay=99.5%", "--net", "500 g"], 0);
    let plan = [
        "study",
        "plan",
        "--question",
        "which?",
        "--electrolyte",
        "E1 name=A",
        "--electrolyte",
        "E2 name=B",
        "--metric",
        "voltage day=14",
        "--cells",
        "6",
        "--ends",
        "2026-12-20",
        "--seed",
        "7",
    ];
    lab.answer(NOW, &plan, 0);
    lab.write("masses.csv", "cell,E1\nC1,1.183\n");
    lab.write("voltages.csv", "cell (V),2026-11-03\nC1,1.482\n");
    lab.write("run.csv", "Time,U (V),I (mA)\n2026-11-03 09:00,1.5,5\n2026-11-03 10:00,1.4,5\n");
    lab
}

/// The same with six cells of a second electrolyte, E2, six of each in the study Q1, and readings of all kinds on days 1 and 14.
fn book_with_readings() -> Lab {
    let lab = book_with_cells();
    let build =
        ["cell", "build", "--design", DESIGN, "--use", "E2=1.2g M1=0.4g", "--count", "6", "--seed", "7"];
    lab.answer("2026-11-02T09:00:00Z", &build, 0);
    lab.answer(NOW, &["study", "assign", "Q1", "C1-C6", "C13-C18"], 0);
    for (at, last) in [("2026-11-03T09:00:00Z", 1.4), ("2026-11-16T09:00:00Z", 1.38)] {
        let of = |factor: f64| {
            let value = |cell: u32| format!("C{cell}={:.4}", factor * (last + 0.004 * f64::from(cell % 5)));
            (1..=18).map(value).collect::<Vec<_>>().join(" ")
        };
        let add = |what: &str, values: &str, unit: &str, more: &[&str]| {
            let mut all =
                vec!["reading", "add", "--what", what, "--values", values, "--unit", unit, "--when", at];
            all.extend(more);
            lab.answer(NOW, &all, 0);
        };
        add("open-circuit", &of(1.0), "V", &[]);
        add("under-load", &of(0.8), "V", &["--load", "100 ohm", "--after", "5 s"]);
        add("short-circuit", &of(6.0), "mA", &["--meter", "0.5 ohm", "--after", "2 s"]);
    }
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
