//! Probabilities and shares as people type them: "0.85" and "85 %" are the same.

use crate::input::{Fault, Place};
use crate::quantity::parse_number;

/// A share between two bounds, both left out.
pub(super) fn share(flag: &str, text: &str, low: f64, high: f64) -> Result<f64, Fault> {
    let trimmed = text.trim();
    let (number, whole) = match trimmed.strip_suffix('%') {
        Some(number) => (number, 100.0),
        None => (trimmed, 1.0),
    };
    let example = match flag {
        "--alpha" => ("0.05", "5 %"),
        "--alike" => ("0.01", "1 %"),
        "--loss" => ("0.1", "10 %"),
        "--spread-within" => ("0.5", "50 %"),
        _ => ("0.9", "90 %"),
    };
    let place = Place::in_text(flag, text, 0..text.len());
    let fault = |message: String| {
        Fault::new("bad_share", message, place.clone())
            .with_hint(format!("Write it like {flag} {} or {flag} \"{}\".", example.0, example.1))
    };
    let value =
        parse_number(number).map_err(|problem| fault(format!("{text:?} is no share: {problem}")))?.value;
    // Divided, so that 95 % is 0.95 to the last digit.
    let value = value / whole;
    if low < value && value < high {
        return Ok(value);
    }
    Err(fault(format!("{text:?} does not lie between {low} and {high}")))
}
