//! Faults of questions on numbers of cells, and of fits.

use super::case::Case;

const POINTS: &[(&str, &str)] = &[
    ("points.csv", "day (d),voltage (V),cell\n0,1.48,C1\n7,1.47,C1\n14,1.465,C1\n21,,C1\n"),
    ("spoiled.csv", "day,voltage,weight\n0,1.48,1\n7,about 1.47,0\n14,1.465,1\n"),
    ("twice.csv", "day,day\n0,1\n"),
    ("ragged.csv", "day,voltage\n0,1,48\n"),
    ("empty.csv", "day,voltage\n"),
    ("blank.csv", "day,voltage,cell\n0,,C1\n7,,C1\n"),
    ("cold.csv", "temperature,viscosity\n20,223\n40,81\n60,37\n80,20\n"),
    ("negative.csv", "temperature (K),viscosity\n293,223\n313,-81\n333,37\n353,20\n"),
];

const fn fit(code: &'static str, arguments: &'static [&'static str]) -> Case {
    Case { code, files: POINTS, raw: &[], before: &[], arguments }
}

pub const CASES: &[Case] = &[
    Case::of("no_aim", &["sample-size", "--sd", "12 mV"]),
    Case::of("two_aims", &["sample-size", "--difference", "15 mV", "--half-width", "5 mV", "--sd", "12 mV"]),
    Case::of("no_spread", &["sample-size", "--difference", "15 mV"]),
    Case::of("bad_measure", &["sample-size", "--difference", "large", "--sd", "-12 mV"]),
    Case::of("bad_measure", &["sample-size", "--means", "1.3 1.3 V", "--sd", "12 mV"]),
    Case::of("unit_mixed", &["sample-size", "--difference", "15 mV", "--sd", "2 mA"]),
    Case::of("unit_mixed", &["sample-size", "--difference", "15", "--sd", "2 mA"]),
    Case::of("bad_share", &["sample-size", "--difference", "15 mV", "--sd", "12 mV", "--power", "120%"]),
    Case::of("bad_share", &["sample-size", "--per-group", "5", "--sd", "12 mV", "--loss", "some"]),
    Case::of(
        "bad_groups",
        &["sample-size", "--per-group", "5", "--sd", "12 mV", "--groups", "3", "--one-sided"],
    ),
    Case::of("bad_groups", &["sample-size", "--means", "1.3 1.4 V", "--sd", "12 mV", "--groups", "3"]),
    Case::of("never_enough", &["sample-size", "--tolerance", "1.9"]),
    fit("unknown_form", &["fit", "points.csv", "--x", "day", "--y", "voltage", "--form", "decai"]),
    fit("unknown_column", &["fit", "points.csv", "--x", "days", "--y", "volt", "--form", "line"]),
    fit("bad_number", &["fit", "spoiled.csv", "--x", "day", "--y", "voltage", "--form", "line"]),
    fit(
        "bad_weight",
        &["fit", "spoiled.csv", "--x", "day", "--y", "day", "--weights", "weight", "--form", "line"],
    ),
    fit(
        "bad_place",
        &["fit", "points.csv", "--x", "day", "--y", "voltage", "--form", "line", "--at", "60 d"],
    ),
    fit("column_twice", &["fit", "twice.csv", "--x", "day", "--y", "day", "--form", "line"]),
    fit("ragged_row", &["fit", "ragged.csv", "--x", "day", "--y", "voltage", "--form", "line"]),
    fit("no_rows", &["fit", "empty.csv", "--x", "day", "--y", "voltage", "--form", "line"]),
    fit("no_rows", &["fit", "blank.csv", "--x", "day", "--y", "voltage", "--form", "line"]),
    fit(
        "too_few_points",
        &["fit", "points.csv", "--x", "day", "--y", "voltage", "--form", "double-decay", "--by", "cell"],
    ),
    fit(
        "not_absolute",
        &["fit", "cold.csv", "--x", "temperature", "--y", "viscosity", "--form", "arrhenius"],
    ),
    fit("not_absolute", &["fit", "points.csv", "--x", "day", "--y", "voltage", "--form", "vft"]),
    fit("not_positive", &["fit", "negative.csv", "--x", "temperature", "--y", "viscosity", "--form", "vft"]),
    Case {
        code: "two_units",
        files: &[("celsius.csv", "T (°C),eta\n20,60\n40,30\n60,17\n80,11\n")],
        raw: &[],
        before: &[],
        arguments: &["fit", "celsius.csv", "--x", "T", "--y", "eta", "--form", "vft", "--x-unit", "K"],
    },
    Case::of("bad_measure", &["sample-size", "--difference", "15 mV", "--sd", "0 mV"]),
];
