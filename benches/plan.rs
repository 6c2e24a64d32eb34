//! How long a plan takes: inside the library, and as a whole process, as a person waits for it.
//!
//! `cargo bench --bench plan`. Aim: the whole process under 5 ms.

// A measurement of something that fails is none: it ends at once.
#![allow(clippy::expect_used)]

use std::hint::black_box;
use std::process::{Command, Stdio};

use divan::Bencher;
use meltbook::component::ComponentTable;
use meltbook::plan::{LiquidsAt, Plan, PlanRequest, Size, Tolerance, Weighing, plan};
use meltbook::quantity::{Mass, Relative, Temperature, Typed};
use meltbook::recipe::{Recipe, WORKED_RECIPES, read_recipe, read_shorthand};

const SHORTHAND: &str = "ChCl:urea 1:2 + 0.5 mol/kg ZnCl2 + 0.1 wt% thymol to 2 wt% water";

fn main() {
    divan::main();
}

/// The built-in component table, read from its text.
#[divan::bench]
fn component_table() -> ComponentTable {
    ComponentTable::builtin()
}

/// A shorthand to grams, the table being read.
#[divan::bench]
fn plan_of_a_shorthand(bencher: Bencher) {
    let table = ComponentTable::builtin();
    bencher.bench_local(|| {
        let recipe = read_shorthand("RECIPE", black_box(SHORTHAND), &table).expect("the shorthand is right");
        planned(recipe, &table)
    });
}

/// A recipe file to grams, the table being read.
#[divan::bench]
fn plan_of_a_file(bencher: Bencher) {
    let table = ComponentTable::builtin();
    let (name, text) = WORKED_RECIPES
        .into_iter()
        .find(|(name, _)| *name == "choline-chloride-urea-zinc-sulfate")
        .expect("it is a worked recipe");
    bencher.bench_local(|| {
        let recipe = read_recipe(name, black_box(text), &table).expect("the recipe is right");
        planned(recipe, &table)
    });
}

fn planned(recipe: Recipe, table: &ComponentTable) -> Plan {
    let request = PlanRequest {
        recipe,
        size: Size::Mass(Typed::<Mass>::parse("50 g").expect("it is a mass")),
        supplies: Vec::new(),
        balance: None,
        weighing: Weighing::Each,
        tolerance: Tolerance { value: Relative::new(0.01), stated: false },
        liquids_at: LiquidsAt { value: Temperature::from_celsius(25.0), typed: None },
        density: None,
        air: None,
        weighed: Vec::new(),
        minimum_weight: false,
    };
    plan(request, table).expect("it can be planned")
}

/// From the shell's call to the exit code, cautions and all.
#[divan::bench(args = ["table", "json", "html"], sample_count = 100, sample_size = 1)]
fn whole_process(bencher: Bencher, format: &str) {
    bencher.bench_local(|| {
        run(&["plan", SHORTHAND, "--mass", "50 g", "--format", format]);
    });
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
        .stderr(Stdio::inherit())
        .status()
        .expect("the program starts");
    assert!(status.success(), "{arguments:?}");
}
