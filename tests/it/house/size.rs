//! A file does one thing; one that has grown long does a second.

use super::source::{rust_files, shown, text};

/// Most lines of a source file.
const SOURCE_LINES: usize = 500;
/// Most lines of a test file, where tables of cases make length.
const TEST_LINES: usize = 600;

#[test]
fn no_file_is_long() {
    let mut long = Vec::new();
    for (folder, most) in [("src", SOURCE_LINES), ("tests", TEST_LINES), ("benches", TEST_LINES)] {
        for file in rust_files(folder) {
            let lines = text(&file).lines().count();
            if most < lines {
                long.push(format!("{} has {lines} lines, {most} are allowed", shown(&file)));
            }
        }
    }
    assert!(long.is_empty(), "{}", long.join("\n"));
}
