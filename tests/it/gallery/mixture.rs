//! Faults of mixture designs and of their results.

use super::case::Case;

const FILES: &[(&str, &str)] = &[
    ("list.csv", "ChCl,urea,water\n0.5,0.4,0.1\n0.2,0.5,0.2\n0.3,x,0.1\n"),
    ("outside.csv", "ChCl,urea,water\n0.5,0.4,0.1\n0.6,0.3,0.1\n"),
    ("line.csv", "ChCl,urea\n0.5,0.5\n0.4,0.6\n0.3,0.7\n"),
    ("runs/run-02.toml", "mine = true\n"),
    ("blank.csv", "ChCl,urea,y\n0.5,0.5,\n0.4,0.6,NA\n"),
    ("less.csv", "ChCl,urea,y\n10,20,1\n-1,2,3\n"),
];

/// A book with three batches whose conductivity was measured, at two temperatures and at none.
const MEASURED: &[&[&str]] = &[
    &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
    &["bottle", "receive", "ChCl", "--net", "500 g", "--book", "lab"],
    &["bottle", "receive", "EG", "--net", "500 g", "--book", "lab"],
    &["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", "lab"],
    &["batch", "weigh", "E1", "ChCl", "31.761 g", "--from", "B1", "--book", "lab"],
    &["batch", "weigh", "E1", "EG", "28.239 g", "--from", "B2", "--book", "lab"],
    &["batch", "finish", "E1", "--book", "lab"],
    &["batch", "measure", "E1", "conductivity", "7.6 mS/cm", "--at", "25 °C", "--book", "lab"],
    &["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", "lab"],
    &["batch", "weigh", "E2", "ChCl", "31.761 g", "--from", "B1", "--book", "lab"],
    &["batch", "weigh", "E2", "EG", "28.239 g", "--from", "B2", "--book", "lab"],
    &["batch", "finish", "E2", "--book", "lab"],
    &["batch", "measure", "E2", "conductivity", "9.7 mS/cm", "--at", "35 °C", "--book", "lab"],
    &["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", "lab"],
    &["batch", "weigh", "E3", "ChCl", "31.761 g", "--from", "B1", "--book", "lab"],
    &["batch", "weigh", "E3", "EG", "28.239 g", "--from", "B2", "--book", "lab"],
    &["batch", "finish", "E3", "--book", "lab"],
    &["batch", "measure", "E3", "conductivity", "7.7 mS/cm", "--book", "lab"],
];

const fn measured(code: &'static str, arguments: &'static [&'static str]) -> Case {
    Case { code, files: &[], raw: &[], before: MEASURED, arguments }
}

const fn with(code: &'static str, arguments: &'static [&'static str]) -> Case {
    Case { code, files: FILES, raw: &[], before: &[], arguments }
}

const fn vertices(code: &'static str, arguments: &'static [&'static str]) -> Case {
    Case::of(code, arguments)
}

pub const CASES: &[Case] = &[
    Case::of("one_component", &["mixture", "lattice", "ChCl", "--degree", "2"]),
    with("no_commas", &["mixture", "fit", "less.csv", "--part", "ChCl", "urea", "--value", "y"]),
    with("no_commas", &["mixture", "fit", "--part", "ChCl", "urea", "--value", "y"]),
    with("no_commas", &["mixture", "fit", "less.csv", "--part", "ChCl; urea", "--value", "y"]),
    Case::of("component_twice", &["mixture", "lattice", "ChCl", "choline-chloride", "urea", "--degree", "2"]),
    Case::of("bad_name", &["mixture", "lattice", "ChCl", "ethylene glycol x", "2", "--degree", "2"]),
    Case::of(
        "too_large",
        &["mixture", "lattice", "ChCl", "urea", "glycerol", "EG", "water", "--degree", "50"],
    ),
    vertices("bad_bound", &["mixture", "vertices", "ChCl", "urea", "--bound", "ChCl from=60% to=half"]),
    vertices("bad_bound", &["mixture", "vertices", "ChCl", "urea", "--bound", "ChCl from=0.6 to=0.2"]),
    vertices("bad_bound", &["mixture", "vertices", "ChCl", "urea", "--bound", "ChCl to=50wt%"]),
    vertices("no_bound", &["mixture", "vertices", "ChCl", "urea", "--bound", "ChCl"]),
    vertices(
        "bound_twice",
        &["mixture", "vertices", "ChCl", "urea", "--bound", "ChCl from=0.2", "--bound", "ChCl to=0.5"],
    ),
    vertices("not_mixed", &["mixture", "vertices", "ChCl", "urea", "--bound", "uera to=0.5"]),
    vertices(
        "bounds_contradict",
        &["mixture", "vertices", "ChCl", "urea", "--bound", "ChCl from=0.6", "--bound", "urea from=0.5"],
    ),
    vertices(
        "bounds_contradict",
        &["mixture", "vertices", "ChCl", "urea", "--bound", "ChCl from=0.6", "--where", "urea >= 2 ChCl"],
    ),
    vertices(
        "bad_rule",
        &["mixture", "vertices", "ChCl", "urea", "--where", "urea 2 ChCl", "--where", "urea 2 >= ChCl"],
    ),
    vertices(
        "no_simplex",
        &["mixture", "lattice", "ChCl", "urea", "water", "--degree", "2", "--bound", "ChCl to=0.5"],
    ),
    Case::of(
        "bad_variable",
        &[
            "mixture",
            "centroid",
            "ChCl",
            "urea",
            "--process",
            "water levels=1,3 unit=wt%",
            "--process",
            "heat",
        ],
    ),
    Case::of("variable_twice", &["mixture", "centroid", "ChCl", "water", "--process", "water levels=1 3"]),
    Case::of(
        "unknown_variable",
        &["mixture", "centroid", "ChCl", "urea", "--process", "heat levels=60 80 unit=°C", "--hard", "heet"],
    ),
    Case::of(
        "blocks_and_plots",
        &[
            "mixture",
            "centroid",
            "ChCl",
            "urea",
            "--process",
            "heat levels=60 80",
            "--hard",
            "heat",
            "--blocks",
            "2",
        ],
    ),
    Case::of("unknown_model", &["mixture", "centroid", "ChCl", "urea", "--model", "quadric"]),
    Case::of("unknown_crossing", &["mixture", "centroid", "ChCl", "urea", "--crossed", "all"]),
    Case::of("too_few_runs", &["mixture", "optimal", "ChCl", "urea", "water", "--runs", "5"]),
    with(
        "not_estimable",
        &[
            "mixture",
            "optimal",
            "ChCl",
            "urea",
            "--candidates",
            "line.csv",
            "--runs",
            "5",
            "--model",
            "full-cubic",
        ],
    ),
    with(
        "not_a_mixture",
        &["mixture", "optimal", "ChCl", "urea", "water", "--candidates", "list.csv", "--runs", "6"],
    ),
    with(
        "no_candidate",
        &[
            "mixture",
            "optimal",
            "ChCl",
            "urea",
            "water",
            "--candidates",
            "outside.csv",
            "--runs",
            "6",
            "--bound",
            "ChCl to=0.4",
        ],
    ),
    with(
        "own_name_in_recipe",
        &["mixture", "centroid", "ChCl", "glucoze", "--recipes", "new", "--seed", "7"],
    ),
    with("file_exists", &["mixture", "centroid", "ChCl", "urea", "--recipes", "runs", "--seed", "7"]),
    Case::of("no_source", &["mixture", "fit", "--part", "ChCl,urea"]),
    with("no_rows", &["mixture", "fit", "blank.csv", "--part", "ChCl,urea", "--value", "y"]),
    with("not_a_mixture", &["mixture", "fit", "list.csv", "--part", "ChCl,urea", "--value", "water"]),
    with(
        "not_a_mixture",
        &["mixture", "fit", "less.csv", "--part", "ChCl,urea", "--value", "y", "--amounts"],
    ),
    with(
        "unknown_goal",
        &["mixture", "fit", "line.csv", "--part", "ChCl,urea", "--value", "urea", "--goal", "maximal"],
    ),
    Case::in_lab(
        "no_results",
        &["mixture", "fit", "--part", "ChCl,EG", "--property", "conductivity", "--book", "lab"],
    ),
    Case::in_lab(
        "not_in_book",
        &[
            "mixture",
            "fit",
            "--part",
            "ChCl,EG",
            "--property",
            "density",
            "--process",
            "stirring",
            "--book",
            "lab",
        ],
    ),
    measured(
        "temperatures_mixed",
        &["mixture", "fit", "--part", "ChCl,EG", "--property", "conductivity", "--book", "lab"],
    ),
    measured(
        "no_temperature",
        &[
            "mixture",
            "fit",
            "--part",
            "ChCl,EG",
            "--property",
            "conductivity",
            "--process",
            "temperature",
            "--book",
            "lab",
        ],
    ),
    Case::of(
        "variable_not_in_recipe",
        &[
            "mixture",
            "centroid",
            "ChCl",
            "EG",
            "--process",
            "ZnCl2 levels=60 80 unit=g",
            "--process",
            "water levels=1 4",
            "--recipes",
            "runs",
        ],
    ),
    Case::of("too_many_blocks", &["mixture", "centroid", "ChCl", "EG", "--blocks", "20", "--seed", "7"]),
    Case::of(
        "bad_variable",
        &["mixture", "centroid", "ChCl", "EG", "--process", "water levels=1 150 unit=wt%", "--seed", "7"],
    ),
];
