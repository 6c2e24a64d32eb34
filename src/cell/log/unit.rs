//! The unit in a column's head: "Voltage (V)", "I [mA]", "t/s", "voltage_mV".

use crate::quantity::{Current, Quantity as _, TimeSpan, Voltage};

/// What a column holds, by its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Holds {
    Volts,
    Amperes,
    Seconds,
}

/// Words that instruments write and nobody types with a number.
const WORDS: [(&str, Holds, f64); 2] = [("volts", Holds::Volts, 1.0), ("amps", Holds::Amperes, 1.0)];

/// Every unit of the three with its size.
fn all() -> impl Iterator<Item = (&'static str, Holds, f64)> {
    let families =
        [(Voltage::UNITS, Holds::Volts), (Current::UNITS, Holds::Amperes), (TimeSpan::UNITS, Holds::Seconds)];
    let units = families
        .into_iter()
        .flat_map(|(units, holds)| units.iter().map(move |unit| (unit.symbol, holds, unit.factor)));
    units.chain(WORDS)
}

/// What a unit means; an m stands for milli and never for mega.
pub(super) fn unit(symbol: &str) -> Option<(Holds, f64)> {
    let folded = symbol.trim().replace('\u{03bc}', "\u{00b5}");
    let lower = folded.to_lowercase();
    let exact = all().find(|(known, ..)| *known == folded);
    let found =
        exact.or_else(|| all().find(|(known, ..)| !folded.starts_with('M') && known.to_lowercase() == lower));
    found.map(|(_, holds, factor)| (holds, factor))
}

/// The symbols of what a column may hold, for a hint.
pub(super) fn symbols(of: Holds) -> String {
    let fits = all().filter(|(_, holds, _)| *holds == of).map(|(symbol, ..)| symbol);
    fits.collect::<Vec<_>>().join(", ")
}

/// The unit that a head ends with, if it is one.
pub(super) fn in_head(head: &str) -> Option<&str> {
    let head = head.trim();
    let bracketed = [('(', ')'), ('[', ']')].into_iter().find_map(|(open, close)| {
        let inner = head.strip_suffix(close)?;
        Some(inner[inner.rfind(open)? + 1..].trim())
    });
    let tail = || ['/', '_', ' '].into_iter().find_map(|sign| Some(head[head.rfind(sign)? + 1..].trim()));
    bracketed.or_else(tail).filter(|symbol| unit(symbol).is_some())
}
