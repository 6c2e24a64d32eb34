//! Faults of files and of what is written.

use super::case::Case;

pub const CASES: &[Case] = &[
    Case::of("file_not_found", &["plan", "recipes/mine.toml", "--mass", "50 g"]),
    Case::of("file_not_found", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--components", "own.toml"]),
    Case {
        code: "not_readable",
        files: &[("mine.toml/inside.txt", "")],
        arguments: &["plan", "./mine.toml", "--mass", "50 g"],
    },
    Case {
        code: "file_exists",
        files: &[("plan.txt", "the plan of last week\n")],
        arguments: &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--out", "plan.txt"],
    },
    Case::of("not_writable", &["plan", "ChCl:urea 1:2", "--mass", "50 g", "--out", "nowhere/plan.txt"]),
];
