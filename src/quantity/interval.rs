//! A mass fraction that is known as a range, as on a supplier's certificate ("98..100%", "≥ 98 %").

use serde::{Deserialize, Serialize};

use super::fraction::MassFraction;
use super::text::{Quantity, QuantityError, QuantityProblem, Typed};

/// A mass fraction with its standard uncertainty, if any was stated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FractionInterval {
    /// The value used: the middle of a range.
    pub value: MassFraction,
    /// Standard uncertainty; `None` if the source states none.
    pub standard_uncertainty: Option<MassFraction>,
    /// As typed.
    pub text: String,
}

impl FractionInterval {
    /// A value with nothing said about its uncertainty.
    pub fn exact(value: MassFraction) -> Self {
        Self { value, standard_uncertainty: None, text: format!("{} %", value.percent()) }
    }

    /// A value and its standard uncertainty.
    pub fn with_uncertainty(value: MassFraction, standard_uncertainty: MassFraction) -> Self {
        Self { standard_uncertainty: Some(standard_uncertainty), ..Self::exact(value) }
    }

    /// Reads `98%`, `98..100%`, `98.5±0.5%` (half-width), or `>=98%` (taken as 98 to 100 %).
    ///
    /// A range or a half-width is rectangular, so the standard uncertainty is the half-width over √3
    /// (JCGM 100:2008, 4.3.7).
    pub fn parse(text: &str) -> Result<Self, QuantityError> {
        let trimmed = text.trim();
        let whole =
            |value, standard_uncertainty| Self { value, standard_uncertainty, text: trimmed.to_owned() };
        if let Some(low) = trimmed.strip_prefix(">=").or_else(|| trimmed.strip_prefix('≥')) {
            let (low, whole_content) = (fraction(low)?, MassFraction::new(1.0));
            if whole_content < low {
                return Err(above_whole(trimmed));
            }
            let (value, half) = middle(low, whole_content);
            return Ok(whole(value, Some(rectangular(half))));
        }
        if let Some((low, high)) = trimmed.split_once("..") {
            let (low, high) = (fraction(&with_unit_of(low, high))?, fraction(high)?);
            let (value, half) = middle(low, high);
            return Ok(whole(value, Some(rectangular(half))));
        }
        if let Some((value, half)) = trimmed.split_once('±').or_else(|| trimmed.split_once("+-")) {
            let (value, half) = (fraction(&with_unit_of(value, half))?, fraction(half)?);
            return Ok(whole(value, Some(rectangular(half))));
        }
        Ok(whole(fraction(trimmed)?, None))
    }
}

/// "≥ 102 %" names no upper end, so it is no range.
fn above_whole(text: &str) -> QuantityError {
    let problem = QuantityProblem::OutOfRange { low: 0.0, high: 100.0, unit: "%" };
    let (noun, example) = (MassFraction::NOUN, "102..104%");
    QuantityError { noun, given: text.to_owned(), problem, example }
}

/// The middle and the half-width of a range, its ends in either order.
fn middle(low: MassFraction, high: MassFraction) -> (MassFraction, MassFraction) {
    let half = (high - low) / 2.0;
    (low + half, MassFraction::new(half.get().abs()))
}

fn rectangular(half_width: MassFraction) -> MassFraction {
    half_width / 3f64.sqrt()
}

fn fraction(text: &str) -> Result<MassFraction, QuantityError> {
    Typed::<MassFraction>::parse(text).map(|typed| typed.value)
}

/// "98" in "98..100 %" takes the unit of the other end.
fn with_unit_of(bare: &str, other: &str) -> String {
    let bare = bare.trim();
    let is_bare = bare.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | ' '));
    if !is_bare {
        return bare.to_owned();
    }
    let unit = other.trim().trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | ' '));
    format!("{bare} {unit}")
}
