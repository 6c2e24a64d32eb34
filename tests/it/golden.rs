//! Outputs that are kept whole, under `tests/golden`.
//!
//! `MELTBOOK_BLESS=1 cargo test` writes them anew; read the difference before committing it.

use std::path::{Path, PathBuf};
use std::{env, fs};

use serde_json::Value;

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
    let kept = fs::read_to_string(&path).unwrap_or_default();
    if kept == actual || (name.ends_with(".json") && same_json(&kept, actual)) {
        return Ok(());
    }
    if blessing() {
        fs::create_dir_all(path.parent().expect("a golden file lies in a folder"))
            .expect("the folder is made");
        fs::write(&path, actual).expect("the golden file is written");
        return Ok(());
    }
    Err(format!(
        "{name} is not as kept (- kept, + now); MELTBOOK_BLESS=1 keeps the new one\n{}",
        difference(&kept, actual)
    ))
}

/// True if two texts are the same JSON but for the last digits of numbers, which move with the order of a
/// sum and from one system's mathematics to another's.
fn same_json(kept: &str, actual: &str) -> bool {
    match (serde_json::from_str(kept), serde_json::from_str(actual)) {
        (Ok(kept), Ok(actual)) => same_value(&kept, &actual),
        _ => false,
    }
}

fn same_value(kept: &Value, actual: &Value) -> bool {
    match (kept, actual) {
        (Value::Object(kept), Value::Object(actual)) => {
            kept.keys().eq(actual.keys()) && kept.values().zip(actual.values()).all(|(k, a)| same_value(k, a))
        }
        (Value::Array(kept), Value::Array(actual)) => {
            kept.len() == actual.len() && kept.iter().zip(actual).all(|(k, a)| same_value(k, a))
        }
        (Value::Number(kept), Value::Number(actual)) => match (kept.as_f64(), actual.as_f64()) {
            (Some(kept), Some(actual)) => (kept - actual).abs() <= 1e-11 * kept.abs(),
            _ => kept == actual,
        },
        _ => kept == actual,
    }
}

#[test]
fn json_is_the_same_but_for_last_digits() {
    assert!(same_json(r#"{"a": [1.0000000000001, null]}"#, r#"{ "a": [1, null] }"#));
    for other in [r#"{"a": [1.001, null]}"#, r#"{"a": [1, 0]}"#, r#"{"b": [1, null]}"#, r#"{"a": [1]}"#, "{"]
    {
        assert!(!same_json(r#"{"a": [1, null]}"#, other), "{other}");
    }
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
