//! Outputs that are kept whole, under `tests/golden`.
//!
//! `MELTBOOK_BLESS=1 cargo test` writes them anew; read the difference before committing it.

use std::path::{Path, PathBuf};
use std::{env, fs};

/// Compares `actual` with the kept file, or keeps it if `MELTBOOK_BLESS` is 1.
#[track_caller]
pub fn check(name: &str, actual: &str) {
    check_all(&[(name.to_owned(), actual.to_owned())]);
}

/// The same for many: every difference is shown, not only the first.
#[track_caller]
pub fn check_all(answers: &[(String, String)]) {
    let differences: Vec<String> =
        answers.iter().filter_map(|(name, actual)| compare(name, actual).err()).collect();
    assert!(differences.is_empty(), "{}", differences.join("\n"));
}

/// Fails if the folder keeps a file that no check asks for any more; when blessing, removes it.
#[track_caller]
pub fn nothing_else_in(folder: &str, names: &[String]) {
    let entries = fs::read_dir(kept(folder)).expect("the folder can be read");
    for entry in entries {
        let path = entry.expect("the entry can be read").path();
        let name = format!("{folder}/{}", path.file_name().expect("it has a name").to_string_lossy());
        if names.contains(&name) {
            continue;
        }
        assert!(blessing(), "nothing is held against {name} any more");
        fs::remove_file(path).expect("the file can be removed");
    }
}

fn blessing() -> bool {
    env::var("MELTBOOK_BLESS").is_ok_and(|bless| bless == "1")
}

fn kept(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden").join(name)
}

fn compare(name: &str, actual: &str) -> Result<(), String> {
    let path = kept(name);
    if blessing() {
        fs::create_dir_all(path.parent().expect("a golden file lies in a folder"))
            .expect("the folder is made");
        fs::write(&path, actual).expect("the golden file is written");
        return Ok(());
    }
    let kept = fs::read_to_string(&path).unwrap_or_default();
    if kept == actual {
        return Ok(());
    }
    Err(format!(
        "{name} is not as kept (- kept, + now); MELTBOOK_BLESS=1 keeps the new one\n{}",
        difference(&kept, actual)
    ))
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
