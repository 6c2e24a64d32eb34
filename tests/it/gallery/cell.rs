//! Faults of cells, their designs and readings.

use std::path::Path;

use meltbook::record::CodeKind;

use super::case::Case;
use crate::book::lab::{Decided, batch, begin, run_at, with_cells_in};

const BUILD: &str = "open-vial-zinc-manganese-dioxide";

macro_rules! build {
    ($($more:literal),+) => { &["cell", "build", "--design", BUILD, "--count", "2", "--seed", "1", $($more),+] };
}

macro_rules! open_circuit_table {
    () => {
        &["reading", "add", "--what", "open-circuit", "--csv", "bench.csv"]
    };
}

pub const CASES: &[Case] = &[
    Case::after(
        "unknown_design",
        begin,
        &[],
        &["cell", "build", "--design", "open-vial-zinc", "--use", "E1=1g", "--count", "2"],
    ),
    Case::after("no_batch", begin, &[], &["cell", "build", "--design", BUILD, "--count", "2"]),
    Case::after("batch_twice", with_cells_in, &[], build!("--use", "E1=1g", "--use", "E1=2g")),
    Case::after("no_mass", with_cells_in, &[], build!("--use", "E1 1g")),
    Case::after("no_dose", with_cells_in, &[], build!("--use", "E1=0g")),
    Case::after("bad_blocks", with_cells_in, &[], build!("--use", "E1=1g", "--blocks", "week 1 2")),
    Case::after("needs_reason", undecided, &[], build!("--use", "E1=1g")),
    Case::after(
        "needs_procedure",
        sealed_with_acid,
        &[],
        &["cell", "build", "--design", "sealed-vial-zinc-carbon", "--count", "2", "--use", "E1=1g M1=0.4g"],
    ),
    Case::after(
        "bad_closure",
        begin,
        &[("mine.toml", "name = \"Mine\"\nclosure = \"seald\"\n")],
        &["cell", "design", "show", "mine.toml"],
    ),
    Case::after(
        "bad_layers",
        begin,
        &[(
            "mine.toml",
            "name = \"Mine\"\nclosure = \"sealed\"\n\n[separator]\nmaterial = \"paper\"\nlayers = 1.5\n",
        )],
        &["cell", "design", "show", "mine.toml"],
    ),
    Case::after(
        "bad_schedule",
        begin,
        &[(
            "mine.toml",
            "name = \"Mine\"\nclosure = \"sealed\"\n\n[[reading]]\nevery = \"7 d\"\nwhat = [\"open-circuit\"]\n",
        )],
        &["cell", "design", "show", "mine.toml"],
    ),
    Case::after(
        "unknown_reading",
        begin,
        &[(
            "mine.toml",
            "name = \"Mine\"\nclosure = \"sealed\"\n\n[[reading]]\nafter = \"7 d\"\nwhat = [\"open-circiut\"]\n",
        )],
        &["cell", "design", "show", "mine.toml"],
    ),
    Case::after(
        "unknown_reading",
        begin,
        &[],
        &["reading", "add", "--what", "impedance", "--values", "C1=1.4V"],
    ),
    Case::after("unknown_cause", with_cells_in, &[], &["cell", "retire", "C1", "--cause", "low voltage"]),
    Case::after("bad_run", with_cells_in, &[], &["cell", "retire", "C6-C1", "--cause", "leak"]),
    Case::after("no_reading", with_cells_in, &[], &["reading", "add", "C1"]),
    Case::after(
        "no_values",
        with_cells_in,
        &[],
        &["reading", "add", "--what", "open-circuit", "--values", "1.48 1.47"],
    ),
    Case::after("load_incomplete", with_cells_in, &[], &["reading", "add", "C1", "--under-load", "1.2 V"]),
    Case::after(
        "no_load",
        with_cells_in,
        &[],
        &["reading", "add", "C1", "--under-load", "1.2 V", "--load", "0 ohm", "--after", "5 s"],
    ),
    Case::after(
        "stray_flag",
        with_cells_in,
        &[],
        &["reading", "add", "C1", "--open-circuit", "1.2 V", "--meter", "0.01 ohm"],
    ),
    Case::after(
        "negative_reading",
        with_cells_in,
        &[],
        &["reading", "add", "C1", "--open-circuit", "-1.2 V"],
    ),
    Case::after("absurd_reading", with_cells_in, &[], &["reading", "add", "C1", "--open-circuit", "1482 V"]),
    Case::after("empty_table", with_cells_in, &[("bench.csv", "cell (V)\nC1\n")], open_circuit_table!()),
    Case::after(
        "ragged_row",
        with_cells_in,
        &[("bench.csv", "cell (V),2026-11-03\nC1,1,48\n")],
        open_circuit_table!(),
    ),
    Case::after(
        "name_twice_in_table",
        with_cells_in,
        &[("bench.csv", "cell (V),2026-11-03\nC1,1.48\nC1,1.47\n")],
        open_circuit_table!(),
    ),
    Case::after(
        "reading_differs",
        read,
        &[("bench.csv", "cell (V);2026-11-03\nC1;1,428\n")],
        open_circuit_table!(),
    ),
];

fn undecided(folder: &Path) {
    begin(folder);
    batch(folder, CodeKind::Electrolyte, &["choline-chloride", "ethylene-glycol"], 40.0, Decided::Nothing);
}

fn sealed_with_acid(folder: &Path) {
    begin(folder);
    batch(folder, CodeKind::Electrolyte, &["choline-chloride", "oxalic-acid"], 40.0, Decided::Release);
    batch(folder, CodeKind::CathodeMix, &["manganese-dioxide", "graphite"], 10.0, Decided::Release);
}

fn read(folder: &Path) {
    with_cells_in(folder);
    let run = run_at(
        folder,
        "2026-11-03T13:00:00Z",
        &["reading", "add", "C1", "--open-circuit", "1.482 V", "--when", "2026-11-03"],
    );
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
}
