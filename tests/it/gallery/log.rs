//! Faults of logs, of figures of cells, and of capacities. The book has two cells, C1 and C2.

use super::case::Case;
use super::cell::BATCHES;

type Arguments = &'static [&'static str];
type Files = &'static [(&'static str, &'static str)];

const GOOD: &str = "t (s),U (V),I (mA)\n0,1.5,5\n60,1.4,5\n";

/// A file taken in.
const fn import(code: &'static str, files: Files, arguments: Arguments) -> Case {
    Case { code, files, raw: &[], before: BATCHES, arguments }
}

macro_rules! import {
    ($($more:literal),* $(,)?) => { &["reading", "import", "run.csv", "--book", "lab", $($more),*] };
}

macro_rules! start {
    ($($more:literal),* $(,)?) => {
        &[
            "reading", "import", "run.csv", "--book", "lab", "--cell", "C1", "--start", "2026-11-03 12:00", $($more),*
        ]
    };
}

macro_rules! figures {
    ($($more:literal),* $(,)?) => { &["cell", "figures", $($more),*] };
}

macro_rules! capacity {
    ($($more:literal),* $(,)?) => { &["cell", "capacity", $($more),*] };
}

pub const CASES: &[Case] = &[
    import("no_cell", &[("run.csv", GOOD)], import!("--start", "2026-11-03 12:00")),
    import("no_start", &[("run.csv", GOOD)], import!("--cell", "C1")),
    import("no_head", &[("run.csv", "nothing\nhere\n")], start!()),
    import("no_head", &[("run.csv", "1,2\n")], start!("--head-line", "7")),
    import("bench_table", &[("run.csv", "cell (V),2026-11-03\nC1,1.48\n")], import!()),
    import("bad_rows", &[("run.csv", "t (s),U (V)\n0,1.5\n60,1,4\n120,x\n")], start!()),
    import("bad_row", &[("run.csv", "t (s),U (V)\n0,1.5\n0,1482\n")], start!()),
    import("no_rows", &[("run.csv", "t (s),U (V)\n0;1.5,1\n")], start!("--skip-bad")),
    import("in_the_future", &[("run.csv", "t (d),U (V)\n0,1.5\n30,1.4\n")], start!()),
    import("unknown_column", &[("run.csv", GOOD)], start!("--voltage", "U1")),
    import("unknown_column", &[("run.csv", GOOD)], start!("--voltage", "#9")),
    import("no_column", &[("run.csv", GOOD)], start!("--voltage", "unit=V")),
    import("no_unit", &[("run.csv", "t (s),U,I\n0,1.5,5\n")], start!("--voltage", "U")),
    import("wrong_unit", &[("run.csv", GOOD)], start!("--voltage", "U unit=MV")),
    import("column_unclear", &[("run.csv", "t (s),U1 (V),U2 (V)\n0,1.5,1.4\n")], start!()),
    import("no_values_column", &[("run.csv", "t (s),a,b\n0,1.5,1.4\n")], start!()),
    import("no_time_column", &[("run.csv", "n,U (V)\n0,1.5\n")], start!()),
    import("unknown_zone", &[("run.csv", GOOD)], start!("--zone", "Mars")),
    import("bad_decimal", &[("run.csv", GOOD)], start!("--decimal", ";")),
    import("bad_separator", &[("run.csv", GOOD)], start!("--separator", "dash")),
    import(
        "bad_separator",
        &[("run.csv", GOOD), ("meter.toml", "separator = \"dash\"\nvoltage = \"U (V)\"\n")],
        start!("--mapping", "meter.toml"),
    ),
    import("file_exists", &[("run.csv", GOOD), ("meter.toml", "")], start!("--save-mapping", "meter.toml")),
    import(
        "refused",
        &[("run.csv", GOOD)],
        &["reading", "import", "run.csv", "--book", "lab", "--cell", "C1", "--start", "2026-11-01 12:00"],
    ),
    Case::of("no_figures", figures!()),
    Case::of("not_above_zero", figures!("--cut-off", "0 V", "--log", "run.csv")),
    Case::of("load_incomplete", figures!("--open-circuit", "1.33 V", "--loaded", "1.2V")),
    Case {
        code: "no_current",
        files: &[("run.csv", "t (s),U (V)\n0,1.5\n60,1.4\n")],
        raw: &[],
        before: &[],
        arguments: figures!("--log", "run.csv"),
    },
    import("no_capacity", &[], figures!("--fresh", "C1", "--stored", "C2", "--book", "lab")),
    Case::of("mixed_set", figures!("--fresh", "C1", "--fresh", "148 mAh", "--stored", "130 mAh")),
    Case::of("no_storage", figures!("--fresh", "148 mAh", "--stored", "130 mAh")),
    Case::of("no_retention", figures!("--fresh", "0 mAh", "--stored", "130 mAh", "--stored-for", "6 weeks")),
    Case::of("no_electrodes", capacity!()),
    Case::of("electrode_unclear", capacity!("--positive", "graphite mass=1g")),
    Case::of("electrode_unclear", capacity!("--positive", "MnO2 mix=1g")),
    Case::of("electrode_unclear", capacity!("--negative", "Zn")),
    Case::of("bad_share", capacity!("--positive", "MnO2 mix=1g oxide=140%")),
    Case::of("bad_electrons", capacity!("--negative", "Zn mass=1g electrons=two")),
    Case::of("no_voltage", capacity!("--negative", "Zn mass=1g", "--load", "10 ohm")),
    Case::of("no_load", capacity!("--negative", "Zn mass=1g", "--load", "0 ohm", "--voltage", "1.5 V")),
    Case::of("bad_number", capacity!("--negative", "Zn mass=1g", "--ratio", "twice")),
    import("no_time_of_day", &[("run.csv", GOOD)], import!("--cell", "C1", "--start", "2026-11-03")),
    Case::of("electrode_unclear", capacity!("--positive", "Zn mass=1g")),
];
