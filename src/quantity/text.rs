//! From text to a quantity and the errors on the way. The text itself is kept: a record shows what
//! a person wrote ("32.480 g"), not what a double makes of it.

use super::number::{NumberProblem, parse_number};

/// A unit: `base value = number × factor + offset`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// How it is written.
    pub symbol: &'static str,
    /// Size in the base unit.
    pub factor: f64,
    /// Zero point in the base unit; zero for all but degrees Celsius.
    pub offset: f64,
}

/// What every quantity declares about itself.
pub trait Quantity: Copy {
    /// Its name in the middle of a sentence.
    const NOUN: &'static str;
    /// The units that are understood, the usual one first.
    const UNITS: &'static [Unit];
    /// The least value allowed, in the base unit.
    const LOW: f64;
    /// The greatest value allowed, in the base unit.
    const HIGH: f64;
    /// A text that parses.
    const EXAMPLE: &'static str;

    /// From the base unit.
    fn from_base(value: f64) -> Self;
}

/// A quantity together with the text that it came from.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Typed<T> {
    /// The value.
    pub value: T,
    /// The text as typed, without the space around it.
    pub text: String,
    /// True if the decimal sign was a comma, so that a caller can say how it was read.
    #[serde(default)]
    pub decimal_comma: bool,
}

/// A text that is not the quantity asked for.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{given:?} is not {} {noun}: {problem}", article(noun))]
pub struct QuantityError {
    /// What was wanted.
    pub noun: &'static str,
    /// What was given.
    pub given: String,
    /// What is wrong with it.
    pub problem: QuantityProblem,
    /// A text that would do.
    pub example: &'static str,
}

/// What can be wrong with the text of a quantity.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum QuantityProblem {
    /// The number part.
    #[error("{0}")]
    Number(NumberProblem),
    /// A bare number.
    #[error("the unit is missing; one of {known} is needed")]
    UnitMissing {
        /// The units understood.
        known: String,
    },
    /// A unit of something else.
    #[error("the unit {unit:?} is not one of {known}")]
    UnitUnknown {
        /// The unit given.
        unit: String,
        /// The units understood.
        known: String,
    },
    /// Outside the bounds.
    #[error("it must lie between {low} and {high} {unit}")]
    OutOfRange {
        /// Lower bound in that unit.
        low: f64,
        /// Upper bound in that unit.
        high: f64,
        /// The usual unit.
        unit: &'static str,
    },
}

impl<T: Quantity> Typed<T> {
    /// Reads a number and a unit, with or without a space between them.
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        let trimmed = text.trim();
        let fail = |problem| QuantityError {
            noun: T::NOUN,
            given: trimmed.to_owned(),
            problem,
            example: T::EXAMPLE,
        };
        let (number, unit) = split_unit(trimmed);
        let number = parse_number(number).map_err(|problem| fail(QuantityProblem::Number(problem)))?;
        let unit = find_unit::<T>(unit).map_err(fail)?;
        let value = number.value * unit.factor + unit.offset;
        if value < T::LOW || T::HIGH < value || !value.is_finite() {
            return Err(fail(out_of_range::<T>()));
        }
        Ok(Self { value: T::from_base(value), text: trimmed.to_owned(), decimal_comma: number.decimal_comma })
    }
}

/// The article that a noun takes in English, going by its first letter.
fn article(noun: &str) -> &'static str {
    if noun.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" }
}

/// The bounds in the usual unit.
fn out_of_range<T: Quantity>() -> QuantityProblem {
    let usual = T::UNITS.first().copied().unwrap_or(Unit { symbol: "", factor: 1.0, offset: 0.0 });
    let bound = |base: f64| (base - usual.offset) / usual.factor;
    QuantityProblem::OutOfRange { low: bound(T::LOW), high: bound(T::HIGH), unit: usual.symbol }
}

/// Where the number ends: before the first character that no number holds, an exponent's `e` being
/// part of the number only where a digit or sign follows it.
fn split_unit(text: &str) -> (&str, &str) {
    let mut characters = text.char_indices().peekable();
    while let Some((at, c)) = characters.next() {
        let next = characters.peek().map(|&(_, next)| next);
        let exponent = matches!(c, 'e' | 'E')
            && at > 0
            && next.is_some_and(|n| n.is_ascii_digit() || matches!(n, '+' | '-'));
        let numeric = c.is_ascii_digit() || matches!(c, '.' | ',' | '+' | '-' | '\u{2212}') || exponent;
        if !numeric {
            return (&text[..at], text[at..].trim());
        }
    }
    (text, "")
}

fn find_unit<T: Quantity>(symbol: &str) -> Result<Unit, QuantityProblem> {
    // Both micro signs look the same on screen, so both are the same here.
    let folded = symbol.replace('\u{03bc}', "\u{00b5}");
    if let Some(unit) = T::UNITS.iter().find(|unit| unit.symbol == folded) {
        return Ok(*unit);
    }
    let known = T::UNITS.iter().map(|unit| unit.symbol).collect::<Vec<_>>().join(", ");
    if symbol.is_empty() {
        return Err(QuantityProblem::UnitMissing { known });
    }
    Err(QuantityProblem::UnitUnknown { unit: symbol.to_owned(), known })
}
