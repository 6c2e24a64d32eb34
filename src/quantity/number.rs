//! A decimal number as people type it: point or comma, sign, optional exponent.

/// A number and how it was written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// The value.
    pub value: f64,
    /// True if the decimal sign was a comma.
    pub decimal_comma: bool,
}

/// Why a text is no number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NumberProblem {
    /// Nothing, or no digit.
    #[error("there is no number in it")]
    Missing,
    /// Something that is not a decimal number.
    #[error("its number is not a plain decimal one")]
    Malformed,
    /// Both signs, or one of them twice: groups of thousands, which read differently in each country.
    #[error("a point or comma in it may group thousands, so it has two meanings")]
    Grouped,
    /// Beyond the range of a double.
    #[error("its number is too large")]
    Overflow,
}

/// Reads the whole of `text` as one number.
///
/// A single comma is the decimal sign ("32,48"); a point and a comma together, or either twice, are
/// refused, since "1.234,5" and "1,234.5" mean different things to different readers.
pub fn parse_number(text: &str) -> Result<Number, NumberProblem> {
    let text = text.trim().replace('\u{2212}', "-");
    if !text.contains(|c: char| c.is_ascii_digit()) {
        return Err(NumberProblem::Missing);
    }
    let signs = text.matches(['.', ',']).count();
    if 1 < signs {
        return Err(NumberProblem::Grouped);
    }
    let allowed = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '+' | '-' | 'e' | 'E');
    if !text.chars().all(allowed) {
        return Err(NumberProblem::Malformed);
    }
    let value: f64 = text.replace(',', ".").parse().map_err(|_| NumberProblem::Malformed)?;
    if !value.is_finite() {
        return Err(NumberProblem::Overflow);
    }
    Ok(Number { value, decimal_comma: text.contains(',') })
}
