//! A value with its standard uncertainty behind a plus-minus sign: "597±7K", "4300 ± 600 J/mol".

use crate::quantity::{Quantity, QuantityError, Typed};

/// A value, and its standard uncertainty in the base unit if one was given. A unit at the end counts for both.
pub(super) fn uncertain<T: Quantity>(text: &str) -> Result<(Typed<T>, Option<f64>), QuantityError> {
    let Some((value, spread)) = text.split_once('±').or_else(|| text.split_once("+-")) else {
        return Typed::parse(text).map(|typed| (typed, None));
    };
    let unit = spread.trim().trim_start_matches(numeric).trim();
    let number = spread.trim().trim_end_matches(unit).trim();
    let bare = value.trim().chars().all(numeric);
    let value = if bare { format!("{} {unit}", value.trim()) } else { value.trim().to_owned() };
    let typed = Typed::<T>::parse(&value)?;
    // A difference has the size of its unit, whatever the zero point of that is.
    let factor = T::UNITS.iter().find(|known| known.symbol == unit).map(|known| known.factor);
    let spread = crate::quantity::parse_number(number).ok().map(|number| number.value);
    match spread.zip(factor).filter(|(spread, _)| 0.0 <= *spread) {
        Some((spread, factor)) => Ok((typed, Some(spread * factor))),
        // Says what is wrong with it as if it stood alone.
        None => Err(Typed::<T>::parse(text).err().unwrap_or(QuantityError {
            noun: T::NOUN,
            given: text.to_owned(),
            problem: crate::quantity::QuantityProblem::Number(crate::quantity::NumberProblem::Malformed),
            example: T::EXAMPLE,
        })),
    }
}

fn numeric(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | '+' | ' ' | '\u{2212}')
}
