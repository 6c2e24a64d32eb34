//! The text of an addition's amount: the unit says per what.

use crate::component::AdditionAmount;
use crate::input::{Fault, Place};
use crate::quantity::{MassFraction, Molality, Molarity, Quantity, Typed};

/// Reads `0.5 mol/kg`, `0.3 mol/L`, `0.1 wt%`. A bare `%` is refused: of what?
pub(super) fn addition_amount(text: &str, place: Place) -> Result<AdditionAmount, Fault> {
    let text = text.trim();
    let amount = if text.ends_with("mol/kg") {
        Typed::<Molality>::parse(text).map(AdditionAmount::Molality).map_err(bad(place.clone()))?
    } else if text.contains("mol/") {
        Typed::<Molarity>::parse(text).map(AdditionAmount::Molarity).map_err(bad(place.clone()))?
    } else if is_mass_fraction(text) {
        AdditionAmount::MassFraction(mass_fraction(text, place.clone())?)
    } else {
        return Err(unit_fault(text, place));
    };
    if is_nothing(&amount) {
        let fault = Fault::new("bad_amount", format!("{text:?} of an addition is none of it"), place);
        return Err(fault.with_hint("Leave the addition out."));
    }
    Ok(amount)
}

fn is_nothing(amount: &AdditionAmount) -> bool {
    match amount {
        AdditionAmount::MassFraction(typed) => typed.value <= MassFraction::ZERO,
        AdditionAmount::Molality(typed) => typed.value <= Molality::ZERO,
        AdditionAmount::Molarity(typed) => typed.value <= Molarity::ZERO,
    }
}

/// Reads a mass fraction of the final batch, such as `2 wt%`: below 1, and never a bare `%`.
pub fn mass_fraction(text: &str, place: Place) -> Result<Typed<MassFraction>, Fault> {
    if is_bare_percent(text) {
        return Err(unit_fault(text, place));
    }
    if !is_mass_fraction(text) {
        let message = format!("{text:?} is no mass fraction of the final batch: its unit must be wt% or ppm");
        return Err(Fault::new("bad_fraction", message, place).with_hint("Write it like 2 wt%."));
    }
    let fraction = Typed::<MassFraction>::parse(text).map_err(bad(place.clone()))?;
    if fraction.value < MassFraction::new(1.0) {
        return Ok(fraction);
    }
    let message = format!("{text:?} is the whole batch or more");
    Err(Fault::new("bad_fraction", message, place).with_hint("Give less than 100 wt%."))
}

fn is_mass_fraction(text: &str) -> bool {
    let known = MassFraction::UNITS.iter().any(|unit| text.ends_with(unit.symbol));
    known && !is_bare_percent(text) && !text.ends_with("mol%")
}

/// A percentage of nobody knows what.
fn is_bare_percent(text: &str) -> bool {
    text.ends_with('%') && !["wt%", "wt %", "mol%"].iter().any(|unit| text.ends_with(unit))
}

fn unit_fault(text: &str, place: Place) -> Fault {
    let bare = is_bare_percent(text);
    let message = if bare {
        format!("{text:?} does not say what it is a percentage of")
    } else {
        format!("{text:?} is no amount of an addition: its unit must be wt%, ppm, mol/kg or mol/L")
    };
    let code = if bare { "bare_percent" } else { "bad_amount" };
    Fault::new(code, message, place).with_hint(
        "Write wt% (of the final batch), mol/kg (of dry acceptor and donor) or mol/L (of final solution).",
    )
}

fn bad(place: Place) -> impl FnOnce(crate::quantity::QuantityError) -> Fault {
    move |error| Fault::of_quantity(&error, place)
}
