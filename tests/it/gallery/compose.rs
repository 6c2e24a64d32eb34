//! Faults of predicted liquidus and property curves.

use super::case::Case;

const N: &str = "naphthalene melts=353.37K fusion=19010J/mol";
const B: &str = "biphenyl melts=342.08K fusion=18570J/mol";

const POINTS: &[(&str, &str)] = &[
    ("points.csv", "x,T (K),plain,weight\n0.2,331.0,331.0,1\n0.5,318.6,318.6,1\n1.0,353.3,353.3,1\n"),
    ("spoiled.csv", "x,T (K),weight\n20,331.0,0\n0.5,-3,1\n0.7,warm,1\n"),
    ("empty.csv", "x,T (K)\n,\n"),
    ("shares.csv", "x (%),v (vol%),w (wt%),T (K)\n50,55,60,331.0\n"),
    ("pairs.csv", "T (°C),kappa (mS/cm)\n20,6.1\n30,8.2\n"),
    ("visc.csv", "T (°C),eta (mPa·s),kappa (mS/cm)\n20,48,6.1\n30,-31,8.2\n-300,12,9\n"),
];

const fn liquidus(code: &'static str, arguments: &'static [&'static str]) -> Case {
    Case { code, files: POINTS, raw: &[], before: &[], arguments }
}

pub const CASES: &[Case] = &[
    liquidus("component_twice", &["liquidus", "ChCl", "choline-chloride"]),
    liquidus("unknown_component", &["liquidus", "ChCl", "naphthalene"]),
    liquidus("no_fusion_data", &["liquidus", "ChCl", "choline-bromide"]),
    liquidus("no_fusion_data", &["liquidus", "ChCl", "DES-X", "--pure", "DES-X cp=20J/mol/K"]),
    liquidus("bad_pure", &["liquidus", "ChCl", "urea", "--pure", "uera melts=406K fusion=14kJ/mol"]),
    liquidus(
        "bad_pure",
        &["liquidus", "ChCl", "urea", "--pure", "urea melts=406K", "--pure", "melts=1K fusion=1J/mol"],
    ),
    liquidus("bad_pure", &["liquidus", "ChCl", "urea", "--pure", "urea melts=0K fusion=-5J/mol"]),
    liquidus(
        "bad_quantity",
        &["liquidus", "ChCl", "urea", "--pure", "urea melts=406±xK fusion=14", "--liquid-at", "-20"],
    ),
    liquidus("bad_transition", &["liquidus", "ChCl", "urea", "--pure", "ChCl transition=351K"]),
    liquidus(
        "bad_transition",
        &[
            "liquidus",
            "A",
            "urea",
            "--pure",
            "A melts=300K fusion=9kJ/mol transition=351K:16kJ/mol; 200K:-1kJ/mol",
        ],
    ),
    liquidus("bad_model", &["liquidus", "ChCl", "urea", "--model", "margulis A=-1500J/mol"]),
    liquidus("bad_model", &["liquidus", "ChCl", "urea", "--model", "margules A12=-1500J/mol"]),
    liquidus("bad_model", &["liquidus", "ChCl", "urea", "--model", "nrtl A=-1500J/mol"]),
    liquidus("bad_model", &["liquidus", "ChCl", "urea", "--model", "redlich-kister terms=9"]),
    liquidus("bad_model", &["liquidus", "ChCl", "urea", "EG", "--model", "margules A=-1500J/mol"]),
    liquidus("bad_model", &["liquidus", "ChCl", "urea", "EG", "--model", "margules ChCl:water A=-1500J/mol"]),
    liquidus("bad_model", &["liquidus", "ChCl", "urea", "EG", "--model", "margules ChCl:urea"]),
    liquidus("bad_quantity", &["liquidus", "ChCl", "urea", "--model", "margules A=strong"]),
    liquidus(
        "bad_alpha",
        &["liquidus", "ChCl", "urea", "--model", "nrtl g12=500J/mol g21=-300J/mol alpha=3"],
    ),
    liquidus(
        "model_mixed",
        &[
            "liquidus",
            "ChCl",
            "urea",
            "EG",
            "--model",
            "margules ChCl:urea A=-1kJ/mol",
            "--model",
            "nrtl ChCl:EG g12=1kJ/mol g21=1kJ/mol",
        ],
    ),
    liquidus(
        "model_twice",
        &["liquidus", "ChCl", "urea", "--model", "margules A=-1kJ/mol", "--model", "margules A=-2kJ/mol"],
    ),
    liquidus("no_parameters", &["liquidus", "ChCl", "urea", "--model", "margules suffixes=3"]),
    liquidus(
        "bad_compound",
        &["liquidus", "ChCl", "urea", "--compound", "ChCl:urea melts=300K fusion=20kJ/mol"],
    ),
    liquidus("bad_compound", &["liquidus", "ChCl", "urea", "--compound", "ChCl:water 1:2 melts=300K"]),
    liquidus(
        "bad_compound",
        &[
            "liquidus",
            "ChCl",
            "urea",
            "--compound",
            "ChCl:urea 1:2 melts=300K fusion=20kJ/mol",
            "--compound",
            "urea:ChCl 4:2 melts=310K fusion=20kJ/mol",
        ],
    ),
    liquidus(
        "points_of_three",
        &["liquidus", "ChCl", "urea", "EG", "--points", "points.csv", "--x", "x", "--y", "T"],
    ),
    Case::of_batch("nothing_measured", &["liquidus", "ChCl", "urea", "--batch", "all", "--book", "lab"]),
    liquidus(
        "bad_fraction",
        &[
            "liquidus",
            "naphthalene",
            "biphenyl",
            "--pure",
            N,
            "--pure",
            B,
            "--points",
            "spoiled.csv",
            "--x",
            "x",
            "--y",
            "T",
            "--weights",
            "weight",
        ],
    ),
    liquidus(
        "not_absolute",
        &[
            "liquidus",
            "naphthalene",
            "biphenyl",
            "--pure",
            N,
            "--pure",
            B,
            "--points",
            "points.csv",
            "--x",
            "x",
            "--y",
            "plain",
        ],
    ),
    liquidus(
        "no_rows",
        &[
            "liquidus",
            "naphthalene",
            "biphenyl",
            "--pure",
            N,
            "--pure",
            B,
            "--points",
            "empty.csv",
            "--x",
            "x",
            "--y",
            "T",
        ],
    ),
    liquidus(
        "too_few_points",
        &[
            "liquidus",
            "naphthalene",
            "biphenyl",
            "--pure",
            N,
            "--pure",
            B,
            "--points",
            "points.csv",
            "--x",
            "x",
            "--y",
            "T",
            "--model",
            "redlich-kister terms=3",
        ],
    ),
    liquidus("too_few_components", &["liquidus", "ChCl:urea 1:2"]),
    liquidus(
        "bad_pure",
        &[
            "liquidus",
            "ChCl",
            "bb",
            "--pure",
            "bb melts=300K fusion=9kJ/mol",
            "--pure",
            "bb melts=301K fusion=9kJ/mol",
        ],
    ),
    liquidus("bad_model", &["liquidus", "ChCl", "urea", "--model", "ideal A=3J/mol"]),
    liquidus(
        "percent_of_what",
        &["liquidus", "ChCl", "urea", "--points", "shares.csv", "--x", "x", "--y", "T"],
    ),
    liquidus("no_fraction", &["liquidus", "ChCl", "urea", "--points", "shares.csv", "--x", "v", "--y", "T"]),
    liquidus(
        "no_molar_mass",
        &[
            "liquidus",
            "aa",
            "urea",
            "--pure",
            "aa melts=300K fusion=9kJ/mol",
            "--points",
            "shares.csv",
            "--x",
            "w",
            "--y",
            "T",
        ],
    ),
    Case::of("unknown_property", &["curve", "ChCl:EG 1:2", "--property", "refraction"]),
    Case::of("unknown_form", &["curve", "ChCl:EG 1:2", "--property", "viscosity", "--form", "decay"]),
    Case::of("nothing_published", &["curve", "ChCl:oxalic-acid 1:1", "--property", "viscosity"]),
    Case::of("nothing_measured", &["curve", "--property", "viscosity"]),
    Case::of_batch(
        "nothing_measured",
        &["curve", "--property", "viscosity", "--batch", "E1", "--book", "lab"],
    ),
    liquidus(
        "unit_missing",
        &["curve", "--property", "viscosity", "--points", "points.csv", "--x", "T", "--y", "plain"],
    ),
    liquidus(
        "column_missing",
        &["curve", "--property", "walden", "--points", "pairs.csv", "--x", "T", "--y", "kappa"],
    ),
    liquidus(
        "not_positive",
        &["curve", "--property", "viscosity", "--points", "visc.csv", "--x", "T", "--y", "eta"],
    ),
    Case::of(
        "water_twice",
        &["curve", "ChCl:EG 1:2 to 2 wt% water", "--property", "viscosity", "--water", "3 wt%"],
    ),
];
