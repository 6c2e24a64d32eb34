//! The limits that a batch of a recipe has to meet before it is released: `[limits]` of a recipe file.

use serde::{Deserialize, Serialize};

use super::amount::mass_fraction;
use crate::input::{Fault, Field, Place, TableReader};
use crate::quantity::{Property, QuantityError, Temperature, TimeSpan, Typed};

/// What a limit is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Limited {
    /// Water as a mass fraction.
    Water,
    /// A property in its own unit.
    Property(Property),
    /// What is seen, in a word.
    Appearance,
    /// Time since the batch was finished, in seconds.
    Age,
}

/// One limit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Limit {
    /// What it is about.
    pub of: Limited,
    /// The least that meets it, in the unit of what it is about.
    pub low: Option<f64>,
    /// The most that meets it.
    pub high: Option<f64>,
    /// The word that meets it, for what is seen.
    pub word: Option<String>,
    /// Temperature of the measurement.
    pub at: Option<Typed<Temperature>>,
    /// As written.
    pub text: String,
}

/// Keys of `[limits]` that are properties.
const PROPERTIES: [(&str, Property); 4] = [
    ("density", Property::Density),
    ("viscosity", Property::Viscosity),
    ("conductivity", Property::Conductivity),
    ("pH", Property::Ph),
];

const HINT: &str =
    "Write it like \"max 0.5 wt%\", \"min 5 mS/cm at 25 °C\" or \"1.10 to 1.13 g/mL at 25 °C\".";

/// Reads `[limits]`; faults go to the file.
pub(super) fn limits(reader: &TableReader<'_>) -> Vec<Limit> {
    let mut limits = Vec::new();
    let mut read = |key: &'static str, of: Limited| {
        let Some(field) = reader.string(key) else { return };
        let place = reader.file().place(field.span.clone());
        match limit(of, &field, place) {
            Ok(limit) => limits.push(limit),
            Err(fault) => reader.file().push(fault),
        }
    };
    read("water", Limited::Water);
    for (key, property) in PROPERTIES {
        read(key, Limited::Property(property));
    }
    read("appearance", Limited::Appearance);
    read("age", Limited::Age);
    reader.finish();
    limits
}

fn limit(of: Limited, field: &Field<&str>, place: Place) -> Result<Limit, Fault> {
    let text = field.value.trim();
    let limit = |low, high, word, at| Limit { of, low, high, word, at, text: text.to_owned() };
    if of == Limited::Appearance {
        let word = Some(text.to_lowercase()).filter(|word| !word.is_empty());
        let missing = || Fault::new("bad_limit", "the limit for appearance says nothing", place.clone());
        return match word {
            Some(word) => Ok(limit(None, None, Some(word), None)),
            None => Err(missing().with_hint("Write it like appearance = \"clear\".")),
        };
    }
    let (range, at) = match text.split_once(" at ") {
        Some((range, at)) => (range.trim(), Some(temperature(at, place.clone())?)),
        None => (text, None),
    };
    let value = |text: &str| value(of, text.trim(), place.clone());
    if let Some(most) = range.strip_prefix("max ") {
        return Ok(limit(None, Some(value(most)?), None, at));
    }
    if let Some(least) = range.strip_prefix("min ") {
        return Ok(limit(Some(value(least)?), None, None, at));
    }
    if let Some((low, high)) = range.split_once(" to ") {
        let low = if low.trim().ends_with(|c: char| c.is_ascii_digit()) {
            // The unit stands behind the second number alone.
            let high = high.trim();
            let unit =
                high.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+'));
            format!("{} {}", low.trim(), unit.trim())
        } else {
            low.to_owned()
        };
        let (low, high) = (value(&low)?, value(high)?);
        if high < low {
            let fault = Fault::new("bad_limit", format!("{range:?} ends below its beginning"), place);
            return Err(fault.with_hint("Write the lower value first."));
        }
        return Ok(limit(Some(low), Some(high), None, at));
    }
    if of == Limited::Age {
        return Ok(limit(None, Some(value(range)?), None, None));
    }
    let fault = Fault::new("bad_limit", format!("{text:?} says neither max, min nor a range"), place);
    Err(fault.with_hint(HINT))
}

/// A value in the unit of what is limited.
fn value(of: Limited, text: &str, place: Place) -> Result<f64, Fault> {
    let bad = |error: QuantityError| Fault::of_quantity(&error, place.clone());
    match of {
        Limited::Water => mass_fraction(text, place).map(|typed| typed.value.get()),
        Limited::Property(property) => property.parse(text).map_err(bad),
        Limited::Age | Limited::Appearance => {
            Typed::<TimeSpan>::parse(text).map(|typed| typed.value.get()).map_err(bad)
        }
    }
}

fn temperature(text: &str, place: Place) -> Result<Typed<Temperature>, Fault> {
    Typed::parse(text).map_err(|error| Fault::of_quantity(&error, place))
}
