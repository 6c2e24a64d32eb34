//! The limits as typed.

use clap::ValueEnum;

use crate::component::Moistness;
use crate::compose::candidates::{AlertLevel, SignalLevel};
use crate::input::{Fault, Faults, Place};
use crate::quantity::{Quantity, Typed, parse_number};

/// Signal words that a mixture may be asked to stay below.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum SignalLimit {
    /// No class with a signal word
    Warning,
    /// At most "Warning"
    Danger,
}

/// Alerts that components may be asked to stay below.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum AlertLimit {
    /// No alert at all
    Note,
    /// Notes at most
    Warn,
    /// Notes and warnings
    Block,
}

/// Water uptake that components may be asked to stay below.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum MoistnessLimit {
    /// Every component takes up none that is noticeable
    Moderate,
    /// None takes water up within minutes
    Strong,
}

impl SignalLimit {
    pub(super) fn level(self) -> SignalLevel {
        match self {
            Self::Warning => SignalLevel::Warning,
            Self::Danger => SignalLevel::Danger,
        }
    }
}

impl AlertLimit {
    pub(super) fn level(self) -> AlertLevel {
        match self {
            Self::Note => AlertLevel::Note,
            Self::Warn => AlertLevel::Warn,
            Self::Block => AlertLevel::Block,
        }
    }
}

impl MoistnessLimit {
    pub(super) fn level(self) -> Moistness {
        match self {
            Self::Moderate => Moistness::Moderate,
            Self::Strong => Moistness::Strong,
        }
    }
}

/// A quantity behind a flag.
pub(super) fn typed<T: Quantity>(flag: &str, text: Option<&String>, faults: &mut Faults) -> Option<Typed<T>> {
    let text = text?;
    let place = Place::in_text(flag, text.as_str(), 0..text.len());
    faults.collect(Typed::<T>::parse(text).map_err(|error| Fault::of_quantity(&error, place)))
}

/// What a kilogram may cost, and of which currency.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct PriceLimit {
    pub(super) per_kg: f64,
    pub(super) currency: String,
}

/// "80 EUR/kg".
pub(super) fn price_limit(text: &str) -> Result<PriceLimit, Fault> {
    let bad = || {
        Fault::new("bad_price", format!("{text:?} is no price of a mass"), price_place(text))
            .with_hint("Write amount, currency and mass like --price-below \"80 EUR/kg\".")
    };
    let (price, per) = text.rsplit_once('/').ok_or_else(bad)?;
    let factor = match per.trim() {
        "kg" => 1.0,
        "g" => 1000.0,
        _ => return Err(bad()),
    };
    let price = price.trim();
    let currency = price.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | ' '));
    let amount = parse_number(price.trim_end_matches(currency)).map_err(|_| bad())?.value;
    let fits = !currency.is_empty() && !currency.chars().any(|c| c.is_whitespace() || c.is_ascii_digit());
    if !fits || amount <= 0.0 {
        return Err(bad());
    }
    Ok(PriceLimit { per_kg: amount * factor, currency: currency.to_owned() })
}

pub(super) fn price_place(text: &str) -> Place {
    Place::in_text("--price-below", text, 0..text.len())
}
