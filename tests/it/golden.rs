//! Outputs that are kept whole, under `tests/golden`.
//!
//! `MELTBOOK_BLESS=1 cargo test` writes them anew; read the difference before committing it.

use std::path::Path;
use std::{env, fs};

/// Compares `actual` with the kept file, or keeps it if `MELTBOOK_BLESS` is 1.
#[track_caller]
pub fn check(name: &str, actual: &str) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name);
    if env::var("MELTBOOK_BLESS").is_ok_and(|bless| bless == "1") {
        fs::create_dir_all(path.parent().expect("a golden file lies in a folder"))
            .expect("the folder is made");
        fs::write(&path, actual).expect("the golden file is written");
        return;
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        kept == actual,
        "{name} is not as kept (- kept, + now); MELTBOOK_BLESS=1 keeps the new one\n{}",
        difference(&kept, actual)
    );
}

/// The lines between the first and the last that differ, line ends made visible.
fn difference(kept: &str, actual: &str) -> String {
    let kept: Vec<&str> = kept.split_inclusive('\n').collect();
    let actual: Vec<&str> = actual.split_inclusive('\n').collect();
    let start = kept.iter().zip(&actual).take_while(|(one, other)| one == other).count();
    let (kept, actual) = (&kept[start..], &actual[start..]);
    let end = kept.iter().rev().zip(actual.iter().rev()).take_while(|(one, other)| one == other).count();
    let shown = |sign: &str, lines: &[&str]| {
        let lines = &lines[..lines.len() - end];
        lines.iter().map(|line| format!("{sign} {line:?}\n")).collect::<String>()
    };
    format!("from line {}:\n{}{}", start + 1, shown("-", kept), shown("+", actual))
}
