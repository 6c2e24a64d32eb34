//! Faults of metrics, and of choosing cells of the book, in the book of the gallery of cells: C1 and C2 hold E1, C1 was
//! read once, on the day after it was built.

use super::case::Case;
use super::cell::BATCHES;

type Arguments = &'static [&'static str];

const fn in_book(code: &'static str, arguments: Arguments) -> Case {
    Case { code, files: &[], raw: &[], before: BATCHES, arguments }
}

const CELLS: &[(&str, &str)] = &[("cells.csv", "electrolyte,ocv (V)\nE1,1.48\nE1,1.47\n")];

const fn of_file(code: &'static str, arguments: Arguments) -> Case {
    Case { code, files: CELLS, raw: &[], before: &[], arguments }
}

pub const CASES: &[Case] = &[
    Case::of("unknown_metric", &["compare", "--metric", "voltages day=14"]),
    Case::of("unknown_metric", &["compare", "--metric", ""]),
    Case::of("unknown_metric", &["summary", "--metric", "voltage on day=14"]),
    Case::of("unknown_key", &["compare", "--metric", "voltage days=14 day=14"]),
    Case::of("key_twice", &["compare", "--metric", "voltage day=14 day=15"]),
    Case::of("metric_incomplete", &["compare", "--metric", "loaded day=14"]),
    Case::of("metric_incomplete", &["compare", "--metric", "slope"]),
    Case::of("bad_metric", &["compare", "--metric", "voltage day=-14"]),
    Case::of("bad_metric", &["compare", "--metric", "slope from=14 to=7"]),
    Case::of("bad_metric", &["compare", "--metric", "resistance day=soon method=open-to-load within=x"]),
    Case::of("bad_metric", &["compare", "--metric", "resistance day=7 method=short-circuit load=10ohm"]),
    Case::of("bad_metric", &["compare", "--metric", "capacity cut-off=0V per=kg load=10ohm current=5mA"]),
    // The unit of something else.
    Case::of("bad_quantity", &["compare", "--metric", "loaded day=14 load=100V"]),
    of_file("two_sources", &["compare", "cells.csv", "--metric", "voltage day=14"]),
    Case::of("no_source", &["compare"]),
    Case::of("other_source", &["summary", "--metric", "voltage day=14", "--value", "ocv", "--cell", "cell"]),
    of_file("other_source", &["summary", "cells.csv", "--value", "ocv", "--of", "E1"]),
    of_file("no_value_column", &["summary", "cells.csv"]),
    Case::of("unknown_group_by", &["compare", "--metric", "voltage day=14", "--by", "batches"]),
    in_book("no_cells", &["compare", "--metric", "voltage day=1", "--of", "E2", "--book", "lab"]),
    in_book(
        "unknown_of_cells",
        &["summary", "--metric", "voltage day=1", "--recipe", "ChCl:EG 1:3", "--book", "lab"],
    ),
    in_book("bad_number", &["summary", "--metric", "voltage day=1", "--built-in", "-3", "--book", "lab"]),
    in_book("no_such_readings", &["compare", "--metric", "voltage day=14", "--book", "lab"]),
    in_book("no_such_readings", &["compare", "--metric", "loaded day=1 load=100ohm", "--book", "lab"]),
    in_book("no_such_readings", &["compare", "--metric", "voltage day=1", "--cells", "C2", "--book", "lab"]),
    in_book("one_group", &["compare", "--metric", "voltage day=1", "--book", "lab"]),
    in_book(
        "no_spread_found",
        &[
            "sample-size",
            "--difference",
            "15 mV",
            "--baseline",
            "E1",
            "--metric",
            "voltage day=1",
            "--book",
            "lab",
        ],
    ),
    Case::of(
        "bad_share",
        &["sample-size", "--difference", "15 mV", "--sd", "12 mV", "--alpha", "-1", "--loss", "7"],
    ),
    Case::of("bad_number", &["demo", "sample", "--seed", "-3"]),
];
