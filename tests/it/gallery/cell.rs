//! Faults of cells, their designs and readings, in a book with an electrolyte E1 and a cathode mix M1 that are
//! released, and two cells C1 and C2; E2 is an acidic electrolyte that nobody has judged.

use super::case::Case;

pub const BATCHES: &[&[&str]] = &[
    &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
    &["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", "lab"],
    &["batch", "weigh", "E1", "ChCl", "31.761 g", "--book", "lab"],
    &["batch", "weigh", "E1", "EG", "28.239 g", "--book", "lab"],
    &["batch", "finish", "E1", "--book", "lab"],
    &["batch", "release", "E1", "--book", "lab"],
    &["batch", "start", "MnO2:graphite 1:1 by mass", "--cathode-mix", "--mass", "20 g", "--book", "lab"],
    &["batch", "weigh", "M1", "MnO2", "10 g", "--book", "lab"],
    &["batch", "weigh", "M1", "graphite", "10 g", "--book", "lab"],
    &["batch", "finish", "M1", "--book", "lab"],
    &["batch", "release", "M1", "--book", "lab"],
    &["batch", "start", "ChCl:oxalic-acid 1:1", "--mass", "20 g", "--book", "lab"],
    &["batch", "weigh", "E2", "ChCl", "12.159 g", "--book", "lab"],
    &["batch", "weigh", "E2", "oxalic-acid", "7.841 g", "--book", "lab"],
    &["batch", "finish", "E2", "--book", "lab"],
    &[
        "cell",
        "build",
        "--design",
        DESIGN,
        "--use",
        "E1=1.2g M1=0.4g",
        "--count",
        "2",
        "--seed",
        "1",
        "--when",
        "2026-11-02",
        "--book",
        "lab",
    ],
    &["reading", "add", "C1", "--open-circuit", "1.482 V", "--when", "2026-11-03", "--book", "lab"],
];

const DESIGN: &str = "open-vial-zinc-manganese-dioxide";

type Arguments = &'static [&'static str];

/// A case in that book.
const fn in_book(code: &'static str, arguments: Arguments) -> Case {
    Case { code, files: &[], raw: &[], before: BATCHES, arguments }
}

/// A table of open-circuit voltages taken into that book.
const fn table(code: &'static str, files: &'static [(&'static str, &'static str)]) -> Case {
    let arguments: Arguments =
        &["reading", "add", "--what", "open-circuit", "--csv", "bench.csv", "--book", "lab"];
    Case { code, files, raw: &[], before: BATCHES, arguments }
}

/// A design of this text, shown.
const fn design(code: &'static str, files: &'static [(&'static str, &'static str)]) -> Case {
    Case { code, files, raw: &[], before: &[], arguments: &["cell", "design", "show", "mine.toml"] }
}

macro_rules! build {
    ($($more:literal),* $(,)?) => {
        &["cell", "build", "--design", DESIGN, "--count", "2", "--seed", "1", "--book", "lab", $($more),*]
    };
}

macro_rules! read {
    ($($more:literal),* $(,)?) => { &["reading", "add", "--book", "lab", $($more),*] };
}

pub const CASES: &[Case] = &[
    Case::of("unknown_design", &["cell", "design", "show", "open-vial-zinc"]),
    in_book("no_batch", build!()),
    in_book("batch_twice", build!("--use", "E1=1g", "--use", "E1=2g")),
    in_book("no_mass", build!("--use", "E1 1g")),
    in_book("no_dose", build!("--use", "E1=0g")),
    in_book("bad_blocks", build!("--use", "E1=1g", "--blocks", "week 1 2")),
    in_book("needs_reason", build!("--use", "E2=1g")),
    in_book("needs_reason", build!("--use", "E1=40g")),
    in_book(
        "needs_procedure",
        &[
            "cell",
            "build",
            "--design",
            "sealed-vial-zinc-carbon",
            "--count",
            "2",
            "--use",
            "E2=1g M1=0.4g",
            "--because",
            "to see the gas",
            "--book",
            "lab",
        ],
    ),
    in_book("unknown_cause", &["cell", "retire", "C1", "--cause", "low voltage", "--book", "lab"]),
    in_book("bad_run", &["cell", "retire", "C6-C1", "--cause", "leak", "--book", "lab"]),
    in_book("refused", &["cell", "weigh", "C1", "E2", "1.1 g", "--book", "lab"]),
    in_book(
        "needs_reason",
        &["correct", "16", "--set", "uses.0.dose=40 g", "--because", "misread", "--book", "lab"],
    ),
    in_book(
        "refused",
        &["correct", "16", "--set", "uses.1.batch=E1", "--because", "one batch", "--book", "lab"],
    ),
    in_book("bad_skip", &["label", "C1-C2", "--skip", "76", "--book", "lab"]),
    in_book("bad_skip", &["label", "E1", "C1", "--skip", "2", "--book", "lab"]),
    in_book("unknown_code", &["label", "C1-C3", "--book", "lab"]),
    in_book("no_reading", read!("C1")),
    in_book("no_values", read!("--what", "open-circuit", "--values", "1.48 1.47")),
    in_book("unknown_reading", read!("--what", "impedance", "--values", "C1=1.4V")),
    in_book("load_incomplete", read!("C1", "--under-load", "1.2 V")),
    in_book("no_load", read!("C1", "--under-load", "1.2 V", "--load", "0 ohm", "--after", "5 s")),
    in_book("stray_flag", read!("C1", "--open-circuit", "1.2 V", "--meter", "0.01 ohm")),
    in_book("negative_reading", read!("C1", "--open-circuit", "-1.2 V")),
    in_book("absurd_reading", read!("C1", "--open-circuit", "1482 V")),
    in_book("in_the_future", read!("C1", "--open-circuit", "1.4 V", "--when", "2026-11-26")),
    in_book("no_question", &["trace", "--book", "lab"]),
    in_book("two_questions", &["trace", "E1", "--suspect", "E2", "--book", "lab"]),
    in_book("stray_flag", &["trace", "--suspect", "E2", "--svg", "--book", "lab"]),
    in_book("stray_flag", &["trace", "E1", "--svg", "--format", "json", "--book", "lab"]),
    in_book("bad_code", &["trace", "ChCl", "--book", "lab"]),
    in_book("unknown_code", &["trace", "E12", "--book", "lab"]),
    in_book("unknown_reading_entry", &["trace", "R3", "--book", "lab"]),
    in_book("unknown_suspect", &["trace", "--suspect", "DMM-1", "--book", "lab"]),
    in_book("nothing_touched", &["trace", "--suspect", "2026-07-01", "--book", "lab"]),
    in_book("empty_set", &["trace", "--between", "C1", " ", "--book", "lab"]),
    in_book("same_set", &["trace", "--between", "C1-C2", "C2 C1", "--book", "lab"]),
    Case {
        code: "ambiguous_suspect",
        files: &[],
        raw: &[],
        before: &[
            &["init", "lab", "--laboratory", "Room 12", "--by", "AB"],
            &["bottle", "receive", "urea", "--net", "500 g", "--lot", "AB", "--book", "lab"],
        ],
        arguments: &["trace", "--suspect", "AB", "--book", "lab"],
    },
    table("empty_table", &[("bench.csv", "cell (V)\nC1\n")]),
    table("ragged_row", &[("bench.csv", "cell (V),2026-11-03\nC1,1,48\n")]),
    table("name_twice_in_table", &[("bench.csv", "cell (V),2026-11-03\nC1,1.48\nC1,1.47\n")]),
    table("reading_differs", &[("bench.csv", "cell (V);2026-11-03\nC1;1,428\n")]),
    design("bad_closure", &[("mine.toml", "name = \"Mine\"\nclosure = \"seald\"\n")]),
    design(
        "bad_layers",
        &[(
            "mine.toml",
            "name = \"Mine\"\nclosure = \"sealed\"\n\n[separator]\nmaterial = \"paper\"\nlayers = 1.5\n",
        )],
    ),
    design(
        "bad_schedule",
        &[(
            "mine.toml",
            "name = \"Mine\"\nclosure = \"sealed\"\n\n[[reading]]\nevery = \"7 d\"\nwhat = [\"open-circuit\"]\n",
        )],
    ),
    design(
        "unknown_reading",
        &[(
            "mine.toml",
            "name = \"Mine\"\nclosure = \"sealed\"\n\n[[reading]]\nafter = \"7 d\"\nwhat = [\"open-circiut\"]\n",
        )],
    ),
];
