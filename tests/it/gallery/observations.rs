//! Faults of files of columns, and of what is asked of them.

use super::case::Case;

const CELLS: &str =
    "electrolyte,cell,day,ocv (V),cause\nE1,C1,0,1.48,\nE1,C2,0,1.47,\nE2,C3,0,1.45,\nE2,C4,0,1.44,\n";

const fn of(
    code: &'static str,
    text: &'static [(&'static str, &'static str)],
    arguments: &'static [&'static str],
) -> Case {
    Case { code, files: text, raw: &[], before: &[], arguments }
}

const SUMMARY: &[&str] = &["summary", "cells.csv", "--value", "ocv", "--by", "electrolyte"];

pub const CASES: &[Case] = &[
    Case::of("file_not_found", SUMMARY),
    of("empty_table", &[("cells.csv", "\n\n")], SUMMARY),
    of("column_twice", &[("cells.csv", "electrolyte,ocv,ocv\nE1,1.48,1.47\n")], SUMMARY),
    of(
        "unknown_column",
        &[("cells.csv", CELLS)],
        &["summary", "cells.csv", "--value", "voltage", "--by", "electrolytes"],
    ),
    of("ambiguous_column", &[("cells.csv", "electrolyte,ocv (V),ocv (mV)\nE1,1.48,1480\n")], SUMMARY),
    // A decimal comma where commas stand between cells; a line that ends too early.
    of("ragged_row", &[("cells.csv", "electrolyte,ocv\nE1,1,48\nE1,1.47\nE2\n")], SUMMARY),
    of("ragged_row", &[("cells.csv", "electrolyte,ocv\nE1,1.48\n,1.47\n")], SUMMARY),
    // Text among numbers, another unit, thousands grouped.
    of(
        "bad_number",
        &[("cells.csv", "electrolyte;OCV / V\nE1;1,48\nE1;about 1.5\nE2;1480 mV\nE2;1.450,5\nE2;1,45 V\n")],
        SUMMARY,
    ),
    of("no_value", &[("cells.csv", "electrolyte,ocv\nE1,\nE2,NA\n")], SUMMARY),
    of(
        "bad_share",
        &[("cells.csv", CELLS)],
        &["summary", "cells.csv", "--value", "ocv", "--content", "100%"],
    ),
    of(
        "no_cause",
        &[("cells.csv", "electrolyte,ocv,cause\nE1,1.48,\nE1,0.91,outlier\nE2,1.45,leak\nE2,1.2,x\n")],
        &["compare", "cells.csv", "--value", "ocv", "--by", "electrolyte", "--excluded", "cause"],
    ),
    of("no_groups", &[("cells.csv", CELLS)], &["compare", "cells.csv", "--value", "ocv"]),
    of(
        "one_group",
        &[("cells.csv", "electrolyte,ocv\nE1,1.48\nE1,1.47\nE2,\n")],
        &["compare", "cells.csv", "--value", "ocv", "--by", "electrolyte"],
    ),
    of(
        "unknown_group",
        &[("cells.csv", CELLS)],
        &["compare", "cells.csv", "--value", "ocv", "--by", "electrolyte", "--baseline", "E3"],
    ),
    of(
        "repeated_readings",
        &[("cells.csv", "electrolyte,cell,ocv\nE1,C1,1.48\nE1,C1,1.47\nE2,C2,1.45\nE2,C3,1.44\n")],
        &["compare", "cells.csv", "--value", "ocv", "--by", "electrolyte", "--cell", "cell"],
    ),
    of(
        "cell_moves",
        &[("cells.csv", "electrolyte,cell,day,ocv\nE1,C1,0,1.48\nE2,C1,7,1.47\n")],
        &["compare", "cells.csv", "--value", "ocv", "--by", "electrolyte", "--cell", "cell", "--time", "day"],
    ),
    of(
        "no_time_unit",
        &[("cells.csv", "electrolyte,cell,age,ocv\nE1,C1,0,1.48\nE1,C1,7,1.47\n")],
        &[
            "compare",
            "cells.csv",
            "--value",
            "ocv",
            "--by",
            "electrolyte",
            "--cell",
            "cell",
            "--time",
            "age",
            "--at-day",
            "7",
        ],
    ),
    Case {
        code: "not_text",
        files: &[],
        raw: &[("cells.csv", b"electrolyte,ocv\nE1,1.48\nE\xff,1.47\n")],
        before: &[],
        arguments: SUMMARY,
    },
];
