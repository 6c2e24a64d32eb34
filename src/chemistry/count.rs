//! The numbers of a formula: behind an element or bracket, and before a part.

use super::cursor::Cursor;
use super::formula_error::{FormulaError, FormulaProblem};

/// Counts beyond these are typing errors, and their products would not stay exact.
const LOW: f64 = 1e-6;
const HIGH: f64 = 1e6;

const SUBSCRIPTS: [char; 10] = ['₀', '₁', '₂', '₃', '₄', '₅', '₆', '₇', '₈', '₉'];
const VULGAR_FRACTIONS: [(char, f64); 5] =
    [('½', 0.5), ('¼', 0.25), ('¾', 0.75), ('⅓', 1.0 / 3.0), ('⅔', 2.0 / 3.0)];

/// A count before a part, and whether it was written as a whole number.
#[derive(Clone, Copy)]
pub(super) struct PartCount {
    pub(super) value: f64,
    pub(super) is_whole: bool,
}

/// The count behind an element or bracket, one if there is none.
pub(super) fn subscript(cursor: &mut Cursor) -> Result<f64, FormulaError> {
    let start = cursor.at();
    let mut digits = digits(cursor).to_owned();
    if digits.is_empty() {
        digits = cursor.take_while(|c| SUBSCRIPTS.contains(&c)).chars().filter_map(subscript_digit).collect();
    }
    refuse_fractional(cursor, start, &digits)?;
    if digits.is_empty() {
        return Ok(1.0);
    }
    refuse_exponent_or_comma(cursor, start)?;
    number(cursor, start, &digits)
}

/// The count before a part, if there is one: `2`, `0.5`, `1/2`, `½`.
pub(super) fn before_part(cursor: &mut Cursor) -> Result<Option<PartCount>, FormulaError> {
    let start = cursor.at();
    if let Some(value) = cursor.peek().and_then(vulgar_fraction) {
        cursor.next();
        return Ok(Some(PartCount { value, is_whole: false }));
    }
    let whole = digits(cursor);
    if whole.is_empty() {
        return Ok(None);
    }
    refuse_exponent_or_comma(cursor, start)?;
    let joined_by = cursor.peek().filter(|&c| matches!(c, '.' | '/') && second_is_digit(cursor));
    let value = match joined_by {
        Some('.') => {
            cursor.next();
            digits(cursor);
            number(cursor, start, cursor.since(start))?
        }
        Some(_) => {
            let numerator = number(cursor, start, whole)?;
            cursor.next();
            let below = cursor.at();
            let denominator = digits(cursor);
            numerator / number(cursor, below, denominator)?
        }
        None => number(cursor, start, whole)?,
    };
    refuse_exponent_or_comma(cursor, start)?;
    Ok(Some(PartCount { value: in_range(cursor, start, value)?, is_whole: joined_by.is_none() }))
}

fn digits<'t>(cursor: &mut Cursor<'t>) -> &'t str {
    cursor.take_while(|c| c.is_ascii_digit())
}

fn second_is_digit(cursor: &Cursor) -> bool {
    cursor.peek_second().is_some_and(|c| c.is_ascii_digit())
}

fn subscript_digit(character: char) -> Option<char> {
    let value = SUBSCRIPTS.iter().position(|&c| c == character)?;
    char::from_digit(value as u32, 10)
}

fn vulgar_fraction(character: char) -> Option<f64> {
    VULGAR_FRACTIONS.iter().find(|(c, _)| *c == character).map(|(_, value)| *value)
}

/// The value of `text`, which was read from `start` and is digits with at most one point.
fn number(cursor: &Cursor, start: usize, text: &str) -> Result<f64, FormulaError> {
    if text.len() > 1 && text.starts_with('0') && !text.starts_with("0.") {
        return Err(cursor
            .fail_since(start, FormulaProblem::LeadingZero(text.to_owned()))
            .with_hint("If the letter O is meant, type O; if not, leave out the zero."));
    }
    // Digits always parse, at worst as infinity, which is out of range.
    in_range(cursor, start, text.parse().unwrap_or(f64::INFINITY))
}

fn in_range(cursor: &Cursor, start: usize, value: f64) -> Result<f64, FormulaError> {
    if value == 0.0 {
        return Err(cursor
            .fail_since(start, FormulaProblem::ZeroCount)
            .with_hint("If the letter O is meant, type O; if not, leave the element or part out."));
    }
    if !(LOW..=HIGH).contains(&value) {
        let given = cursor.since(start).to_owned();
        return Err(cursor.fail_since(start, FormulaProblem::CountOutOfRange { given, low: LOW, high: HIGH }));
    }
    Ok(value)
}

/// A full stop behind 0 or 1 is a decimal point, since nobody writes a count of 0 or 1; so `Li1.2Mn2O4` is
/// not read as Li and two Mn2O4.
fn refuse_fractional(cursor: &mut Cursor, start: usize, digits: &str) -> Result<(), FormulaError> {
    let point = matches!(digits, "0" | "1") && cursor.peek() == Some('.') && second_is_digit(cursor);
    let vulgar = cursor.peek().and_then(vulgar_fraction).is_some();
    if !point && !vulgar {
        return Ok(());
    }
    cursor.next();
    cursor.take_while(|c| c.is_ascii_digit());
    Err(cursor
        .fail_since(start, FormulaProblem::FractionalSubscript)
        .with_hint("Multiply all counts until they are whole; join an adduct with ·, as in ZnCl2·2H2O."))
}

fn refuse_exponent_or_comma(cursor: &mut Cursor, start: usize) -> Result<(), FormulaError> {
    let second = cursor.peek_second();
    let exponent = second.is_some_and(|c| c.is_ascii_digit() || matches!(c, '+' | '-'));
    if matches!(cursor.peek(), Some('e' | 'E')) && exponent {
        cursor.next();
        cursor.take_while(|c| c.is_ascii_digit() || matches!(c, '+' | '-'));
        return Err(cursor
            .fail_since(start, FormulaProblem::Exponent)
            .with_hint("Write the count in full, such as 100000."));
    }
    if cursor.peek() == Some(',') {
        return Err(cursor.fail_here(FormulaProblem::UnexpectedCharacter(',')).with_hint(
            "Write the decimal sign of a count as a point, and join an adduct with ·, as in CaSO4·0.5H2O.",
        ));
    }
    Ok(())
}
