//! Many codes in few words: C1–C12, C15.

use crate::record::Code;

/// Codes in one line.
pub fn code_range(codes: &[Code]) -> String {
    let codes: Vec<String> = codes.iter().map(ToString::to_string).collect();
    code_ranges(codes.iter().map(String::as_str)).join(", ")
}

/// A code as letters and a number without zeros before it; `None` for what is built otherwise.
fn parts(code: &str) -> Option<(&str, u64)> {
    let at = code.find(|c: char| c.is_ascii_digit())?;
    let (letters, digits) = code.split_at(at);
    let plain = digits.bytes().all(|byte| byte.is_ascii_digit()) && !digits.starts_with('0');
    let number = digits.parse().ok().filter(|_| plain && !letters.is_empty())?;
    Some((letters, number))
}

/// Codes by letters and number, three and more in a row as a range with an en dash. Codes that are built
/// otherwise stand at the end, each for itself.
pub(super) fn code_ranges<'c>(codes: impl IntoIterator<Item = &'c str>) -> Vec<String> {
    let mut numbered = Vec::new();
    let mut others = Vec::new();
    for code in codes {
        match parts(code) {
            Some(parts) => numbered.push(parts),
            None => others.push(code.to_owned()),
        }
    }
    numbered.sort_unstable();
    numbered.dedup();
    others.sort();
    others.dedup();
    let follows = |a: &(&str, u64), b: &(&str, u64)| a.0 == b.0 && a.1.checked_add(1) == Some(b.1);
    let runs = numbered.chunk_by(follows);
    runs.flat_map(run).chain(others).collect()
}

fn run(run: &[(&str, u64)]) -> Vec<String> {
    match run {
        [first, _, .., last] => vec![format!("{}{}–{}{}", first.0, first.1, last.0, last.1)],
        few => few.iter().map(|(letters, number)| format!("{letters}{number}")).collect(),
    }
}
