//! Faults of files and of what is written.

use super::case::Case;

pub const CASES: &[Case] = &[
    Case::of("file_not_found", &["plan", "recipes/mine.toml", "--mass", "50 g"]),
    Case::of("file_not_found", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--components", "own.toml"]),
    // µ as one byte, as an old editor saves it.
    Case {
        code: "not_text",
        raw: &[("mine.toml", b"name = \"5 \xb5m filter\"\n")],
        files: &[],
        before: &[],
        arguments: &["plan", "mine.toml", "--mass", "50 g"],
    },
    Case {
        code: "not_readable",
        raw: &[],
        files: &[("mine.toml/inside.txt", "")],
        before: &[],
        arguments: &["plan", "./mine.toml", "--mass", "50 g"],
    },
    Case {
        code: "file_exists",
        raw: &[],
        files: &[("plan.txt", "the plan of last week\n")],
        before: &[],
        arguments: &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--out", "plan.txt"],
    },
    Case::of("not_writable", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--out", "nowhere/plan.txt"]),
    Case {
        code: "not_a_folder",
        raw: &[],
        files: &[("man1", "notes\n")],
        before: &[],
        arguments: &["manual", "man1/pages"],
    },
];
