//! What is said of the lots behind a comparison, and of how its cells were built.

use super::bench::{Bench, LIMITED};
use super::lab::DESIGN;
use crate::run::envelope;

/// A released lot of what is written in recipes/limited.toml, of 60 g: 1 mol to 2 mol.
fn make(bench: &Bench, code: &str) {
    bench.said(&["batch", "start", "limited", "--mass", "60 g"], 0);
    bench.said(&["batch", "weigh", code, "ChCl", "31.761 g"], 0);
    bench.said(&["batch", "weigh", code, "EG", "28.239 g"], 0);
    bench.said(&["batch", "finish", code], 0);
    bench.said(&["batch", "water", code, "--result", "0.4 wt%"], 0);
    bench.said(&["batch", "measure", code, "density", "1.117 g/mL", "--at", "25 °C"], 0);
    bench.said(&["batch", "appearance", code, "--clarity", "clear"], 0);
    bench.said(&["batch", "release", code], 0);
}

fn build(bench: &Bench, code: &str, count: &str) {
    let uses = format!("{code}=1.2g");
    let because = ["--because", "the mix is not in question"];
    let asked = ["cell", "build", "--design", DESIGN, "--use", &uses, "--count", count];
    let run = bench.run(&[&asked[..], &because].concat());
    assert_eq!(run.code, 0, "{}", run.stderr);
}

fn read(bench: &Bench, values: &str) {
    bench.said(&["reading", "add", "--what", "open-circuit", "--values", values, "--unit", "V"], 0);
}

/// Messages of the warnings with this code.
fn warned(bench: &Bench, arguments: &[&str], code: &str) -> Vec<String> {
    let run = bench.run(&[arguments, &["--format", "json"]].concat());
    assert_eq!(run.code, 0, "{}", run.stderr);
    let whole = envelope(&run.stdout);
    let warnings = whole["warnings"].as_array().expect("they are warnings");
    let own = warnings.iter().filter(|warning| warning["code"] == code);
    own.map(|warning| warning["message"].as_str().expect("it is text").to_owned()).collect()
}

/// The recipe allows 30 days. C1 and C2 were built in time, C3 and C4 after 36 days.
#[test]
fn cells_of_a_lot_that_was_too_old_are_named() {
    let mut bench = Bench::new();
    bench.write("recipes/limited.toml", LIMITED);
    make(&bench, "E1");
    build(&bench, "E1", "2");
    bench.at("2026-11-28T09:00:00Z");
    read(&bench, "C1=1.41 C2=1.42");
    let asked = ["summary", "--metric", "voltage day=3"];
    assert_eq!(warned(&bench, &asked, "lot_expired"), Vec::<String>::new());
    bench.at("2026-12-31T09:00:00Z");
    build(&bench, "E1", "2");
    bench.at("2027-01-03T09:00:00Z");
    read(&bench, "C3=1.39 C4=1.40");
    let said = warned(&bench, &asked, "lot_expired");
    assert_eq!(said, ["E1 was older than the 30 d that its recipe allows when C3, C4 were built"]);
}

/// The second lot's recipe has another tolerance under the same name: one electrolyte by name, two by text.
#[test]
fn lots_of_one_name_from_differing_recipes_are_told() {
    let mut bench = Bench::new();
    bench.write("recipes/limited.toml", LIMITED);
    make(&bench, "E1");
    build(&bench, "E1", "2");
    make(&bench, "E2");
    build(&bench, "E2", "2");
    bench.at("2026-11-28T09:00:00Z");
    read(&bench, "C1=1.41 C2=1.42 C3=1.40 C4=1.43");
    let asked = ["summary", "--metric", "voltage day=3"];
    assert_eq!(warned(&bench, &asked, "recipes_differ"), Vec::<String>::new());
    bench.write("recipes/limited.toml", &LIMITED.replace("1 %", "2 %"));
    make(&bench, "E3");
    build(&bench, "E3", "1");
    bench.at("2026-12-01T09:00:00Z");
    read(&bench, "C5=1.44");
    let said = warned(&bench, &asked, "recipes_differ");
    assert!(
        said.len() == 1
            && said[0].contains("\"ethaline with limits\"")
            && said[0].contains("E1, E2 against E3")
            && said[0].contains("--by batch"),
        "{said:?}"
    );
}

/// A deviation from the design is told with the cells that have it.
#[test]
fn cells_built_otherwise_are_named() {
    let mut bench = Bench::new();
    bench.write("recipes/limited.toml", LIMITED);
    make(&bench, "E1");
    build(&bench, "E1", "2");
    let odd =
        ["--use", "E1=1.2g", "--count", "1", "--deviation", "one layer of paper", "--because", "no mix"];
    let run = bench.run(&[&["cell", "build", "--design", DESIGN], &odd[..]].concat());
    assert_eq!(run.code, 0, "{}", run.stderr);
    bench.at("2026-11-28T09:00:00Z");
    read(&bench, "C1=1.41 C2=1.42 C3=1.40");
    let asked = ["summary", "--metric", "voltage day=3"];
    let said = warned(&bench, &asked, "built_otherwise");
    assert_eq!(said, ["built otherwise than the design says, and counted: one layer of paper (C3)"]);
    assert_eq!(warned(&bench, &[&asked[..], &["--cells", "C1-C2"]].concat(), "built_otherwise"), [""; 0]);
}
