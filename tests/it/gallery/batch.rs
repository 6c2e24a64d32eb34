//! Faults of batches.

use super::case::Case;

/// A recipe with one limit.
macro_rules! limited {
    ($limit:literal) => {
        &[(
            "mine.toml",
            concat!(
                "name = \"mine\"\nbasis = \"mole\"\n\n[[part]]\ncomponent = \"ChCl\"\nratio = 1\n\n[limits]\n",
                $limit,
                "\n"
            ),
        )]
    };
}

pub const CASES: &[Case] = &[
    Case::recipe("bad_limit", limited!("density = \"1.1 g/mL\"")),
    Case::recipe("bad_limit", limited!("pH = \"6 to 4\"")),
    Case::recipe("bad_limit", limited!("appearance = \"\"")),
    Case::recipe("bare_percent", limited!("water = \"max 0.5 %\"")),
    Case::recipe("bad_quantity", limited!("viscosity = \"max 40 mPa·s at 25\"")),
    Case::of_batch(
        "needs_procedure",
        &["batch", "start", "sodium-perchlorate:EG 1:8", "--mass", "10 g", "--book", "lab"],
    ),
    Case::of_batch(
        "never_done",
        &["batch", "start", "potassium-permanganate:EG 1:8", "--mass", "10 g", "--ground", "--book", "lab"],
    ),
    Case::of_batch("needs_reason", &["batch", "weigh", "E1", "ChCl", "90 g", "--book", "lab"]),
    Case::of_batch("not_in_plan", &["batch", "weigh", "E1", "urea", "1 g", "--book", "lab"]),
    Case::of_batch("mass_unclear", &["batch", "weigh", "E1", "EG", "1 g", "--gross", "2 g", "--book", "lab"]),
    Case::of_batch(
        "no_net_mass",
        &["batch", "weigh", "E1", "EG", "--gross", "2 g", "--tare", "3 g", "--book", "lab"],
    ),
    Case::of_batch("refused", &["batch", "release", "E1", "--because", "in haste", "--book", "lab"]),
    Case::of_batch(
        "not_a_batch",
        &["blend", "--liquid", "ChCl:urea 1:2 mass=5g", "--record", "--book", "lab"],
    ),
    Case::of_batch("nothing_to_add", &["batch", "add", "E1", "--book", "lab"]),
    Case {
        before: &[
            &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
            &["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", "lab"],
        ],
        ..Case::of("empty_batch", &["batch", "add", "E1", "--to-water", "2 wt%", "--book", "lab"])
    },
    Case::of_batch("no_result", &["batch", "water", "E1", "--book", "lab"]),
    Case::of_batch("unpaired", &["batch", "water", "E1", "--sample", "0.25 g", "--book", "lab"]),
    Case::of_batch(
        "more_than_sample",
        &["batch", "water", "E1", "--sample", "0.15 g", "--found", "918 mg", "--book", "lab"],
    ),
    Case::of_batch(
        "no_time",
        &[
            "batch",
            "water",
            "E1",
            "--sample",
            "1 g",
            "--found",
            "1 mg",
            "--drift",
            "10 µg/min",
            "--book",
            "lab",
        ],
    ),
    Case::of_batch(
        "no_gain",
        &["batch", "water", "E1", "--before", "10 g", "--after", "9 g", "--book", "lab"],
    ),
    Case::of_batch("no_water_expected", &["batch", "water", "E1", "--advise", "--book", "lab"]),
    Case::of_batch("unknown_property", &["batch", "measure", "E1", "visosity", "37 mPa·s", "--book", "lab"]),
    Case::of_batch(
        "bad_phases",
        &["batch", "appearance", "E1", "--clarity", "clear", "--phases", "none", "--book", "lab"],
    ),
    Case::of_batch(
        "does_not_add_up",
        &["correct", "4", "--set", "how.gross_and_tare.gross=40 g", "--because", "x", "--book", "lab"],
    ),
];
