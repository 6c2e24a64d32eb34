//! A charge behind `^` or in superscripts, and signs that are not clearly one.

use super::cursor::Cursor;
use super::formula_error::{FormulaError, FormulaProblem};

const SUPERSCRIPTS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
const HOW_TO_WRITE: &str = "Write a charge behind ^, such as Zn^2+ or SO4^2-, or leave it out.";

/// True where a charge begins.
pub(super) fn begins_with(character: char) -> bool {
    character == '^' || SUPERSCRIPTS.contains(&character) || matches!(character, '⁺' | '⁻')
}

/// True for a sign or a bond.
pub(super) fn is_sign_or_bond(character: char) -> bool {
    is_sign(character) || matches!(character, '–' | '—' | '=' | '≡' | '#')
}

/// Reads `^2+`, `^+2`, `^+`, `²⁺`, `⁺`: size and sign of a charge, the cursor at its start.
pub(super) fn charge(cursor: &mut Cursor) -> Result<i32, FormulaError> {
    let start = cursor.at();
    let (sign, size) = if cursor.next_if(|c| c == '^').is_some() {
        let sign_before = cursor.next_if(is_sign);
        let size = cursor.take_while(|c| c.is_ascii_digit()).to_owned();
        (sign_before.or_else(|| cursor.next_if(is_sign)), size)
    } else {
        let size = cursor.take_while(|c| SUPERSCRIPTS.contains(&c)).chars().filter_map(superscript_digit);
        let size = size.collect();
        (cursor.next_if(|c| matches!(c, '⁺' | '⁻')), size)
    };
    let malformed =
        |cursor: &Cursor| cursor.fail_since(start, FormulaProblem::MalformedCharge).with_hint(HOW_TO_WRITE);
    let sign = sign.ok_or_else(|| malformed(cursor))?;
    let size = match size.as_str() {
        "" => 1,
        size if size.starts_with('0') || 2 < size.len() => return Err(malformed(cursor)),
        size => size.parse().map_err(|_| malformed(cursor))?,
    };
    Ok(if is_minus(sign) { -size } else { size })
}

/// The fault of a sign without `^`, or of a bond, the cursor at it.
pub(super) fn bare_sign(cursor: &mut Cursor) -> FormulaError {
    let start = cursor.at();
    let first = cursor.peek().unwrap_or('-');
    let signs = cursor.take_while(is_sign);
    let digits = cursor.take_while(|c| c.is_ascii_digit());
    let at_end = cursor.peek().is_none_or(|c| !(c.is_alphabetic() || "([{".contains(c)));
    if !signs.is_empty() && at_end {
        let given = cursor.since(start).to_owned();
        return cursor.fail_since(start, FormulaProblem::DanglingCharge(given)).with_hint(HOW_TO_WRITE);
    }
    if is_minus(first) && !digits.is_empty() {
        return cursor.fail_since(start, FormulaProblem::NegativeCount);
    }
    let span = start..start + first.len_utf8();
    let (problem, hint) = match first {
        '+' => (FormulaProblem::UnexpectedCharacter(first), "Join the parts of an adduct with ·."),
        _ => (FormulaProblem::Bond(first), "Leave bonds out, as in CH3CH2OH."),
    };
    FormulaError { problem, span, hint: None }.with_hint(hint)
}

fn is_sign(character: char) -> bool {
    is_minus(character) || matches!(character, '+' | '⁺')
}

fn is_minus(character: char) -> bool {
    matches!(character, '-' | '\u{2212}' | '⁻')
}

fn superscript_digit(character: char) -> Option<char> {
    let value = SUPERSCRIPTS.iter().position(|&c| c == character)?;
    char::from_digit(value as u32, 10)
}
