//! Faults of studies, in a book with an electrolyte E1 and a cathode mix M1 that are released, two cells C1 and C2, and
//! E2, which nobody has judged.

use super::case::Case;
use super::cell::BATCHES;

type Arguments = &'static [&'static str];

const fn in_book(code: &'static str, arguments: Arguments) -> Case {
    Case { code, files: &[], raw: &[], before: BATCHES, arguments }
}

macro_rules! plan {
    ($($more:literal),* $(,)?) => {
        &[
            "study", "plan", "--question", "which?", "--electrolyte", "E1 name=A", "--electrolyte", "E2 name=B",
            "--cells", "4", "--seed", "1", "--book", "lab", $($more),*
        ]
    };
}

const PLANNED: &[&[&str]] = &[
    &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
    &["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", "lab"],
    &["batch", "start", "ChCl:urea 1:2", "--mass", "60 g", "--book", "lab"],
    &[
        "study",
        "plan",
        "--question",
        "which?",
        "--electrolyte",
        "ChCl:EG 1:2",
        "--electrolyte",
        "E2 name=B",
        "--cells",
        "4",
        "--seed",
        "1",
        "--metric",
        "voltage day=14",
        "--ends",
        "2026-12-20",
        "--book",
        "lab",
    ],
];

/// A study of E1 and E2, which nobody has judged, with its cells C1 to C4.
const BUILT: &[&[&str]] = &[
    &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
    &["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", "lab"],
    &["batch", "weigh", "E1", "ChCl", "31.761 g", "--book", "lab"],
    &["batch", "start", "ChCl:urea 1:2", "--mass", "60 g", "--book", "lab"],
    &["batch", "weigh", "E2", "ChCl", "32 g", "--book", "lab"],
    &[
        "study",
        "plan",
        "--question",
        "which?",
        "--electrolyte",
        "E1 name=A",
        "--electrolyte",
        "E2 name=B",
        "--cells",
        "2",
        "--seed",
        "1",
        "--metric",
        "voltage day=14",
        "--ends",
        "2026-12-20",
        "--book",
        "lab",
    ],
    &[
        "cell",
        "build",
        "--study",
        "Q1",
        "--design",
        "open-vial-zinc-manganese-dioxide",
        "--dose",
        "1g",
        "--because",
        "the first of their kind",
        "--book",
        "lab",
    ],
];

pub const CASES: &[Case] = &[
    in_book("study_incomplete", &["study", "plan", "--electrolyte", "E1", "--book", "lab"]),
    in_book(
        "unknown_electrolyte",
        plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--electrolyte", "reline"),
    ),
    in_book(
        "unknown_code",
        plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--electrolyte", "E9"),
    ),
    in_book("end_not_ahead", plan!("--metric", "voltage day=14", "--ends", "2026-11-25")),
    in_book("uneven_blocks", plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--blocks", "3")),
    in_book(
        "no_failure",
        plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--cause", "end-of-test"),
    ),
    in_book(
        "unknown_method",
        plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--method", "welsh"),
    ),
    in_book("unknown_group", plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--baseline", "C")),
    in_book(
        "unit_mixed",
        plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--difference", "5 ohm"),
    ),
    in_book(
        "bad_schedule",
        plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--reading", "open-circuit every=7d"),
    ),
    in_book(
        "refused",
        plan!("--metric", "voltage day=14", "--ends", "2026-12-20", "--electrolyte", "E1 name=C"),
    ),
    Case {
        code: "bad_number",
        files: &[("study.toml", "question = \"which?\"\ncells = 2.5\nelectrolites = [\"E1\"]\n")],
        raw: &[],
        before: BATCHES,
        arguments: &["study", "plan", "study.toml", "--book", "lab"],
    },
    Case {
        code: "no_batch_of_it",
        files: &[],
        raw: &[],
        before: PLANNED,
        arguments: &[
            "cell",
            "build",
            "--study",
            "Q1",
            "--design",
            "open-vial-zinc-manganese-dioxide",
            "--dose",
            "1g",
            "--book",
            "lab",
        ],
    },
    Case {
        code: "refused",
        files: &[],
        raw: &[],
        before: PLANNED,
        arguments: &["trace", "Q1", "--book", "lab"],
    },
    Case {
        code: "study_built",
        files: &[],
        raw: &[],
        before: BUILT,
        arguments: &[
            "cell",
            "build",
            "--study",
            "Q1",
            "--design",
            "open-vial-zinc-manganese-dioxide",
            "--dose",
            "1g",
            "--because",
            "again",
            "--book",
            "lab",
        ],
    },
    Case {
        code: "refused",
        files: &[],
        raw: &[],
        before: BUILT,
        arguments: &["study", "assign", "Q1", "C3", "--book", "lab"],
    },
    in_book("wrong_kind", &["study", "show", "E1", "--book", "lab"]),
    in_book("unknown_code", &["study", "show", "Q3", "--book", "lab"]),
];
