//! A size with whatever unit was typed: a difference or a spread.

use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::quantity::parse_number;

/// A positive number and its unit, kept as typed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Size {
    text: String,
    value: f64,
    unit: String,
}

/// A text that is no size.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{given:?} is no size above 0")]
pub struct SizeError {
    /// As given.
    pub given: String,
}

impl Size {
    /// The number as typed.
    pub fn value(&self) -> f64 {
        self.value
    }

    /// The unit as typed, with the sign for micro in one form; empty for a bare number.
    pub fn unit(&self) -> &str {
        &self.unit
    }
}

impl FromStr for Size {
    type Err = SizeError;

    /// The longest beginning that is a number, then its unit.
    fn from_str(text: &str) -> Result<Self, SizeError> {
        let text = text.trim();
        let ends = text.char_indices().map(|(at, c)| at + c.len_utf8()).rev();
        let found = ends.filter_map(|end| Some((end, parse_number(&text[..end]).ok()?.value))).next();
        let (end, value) = found
            .filter(|(_, value)| 0.0 < *value && value.is_finite())
            .ok_or_else(|| SizeError { given: text.to_owned() })?;
        let unit = text[end..].trim().replace('\u{03bc}', "\u{00b5}");
        Ok(Self { text: text.to_owned(), value, unit })
    }
}

impl TryFrom<String> for Size {
    type Error = SizeError;
    fn try_from(text: String) -> Result<Self, SizeError> {
        text.parse()
    }
}

impl From<Size> for String {
    fn from(size: Size) -> Self {
        size.text
    }
}

impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.text)
    }
}
