//! The text of an addition's amount: the unit says per what.

use crate::component::AdditionAmount;
use crate::input::{Fault, Place};
use crate::quantity::{MassFraction, Molality, Molarity, Quantity, Typed};

/// Reads `0.5 mol/kg`, `0.3 mol/L`, `0.1 wt%`. A bare `%` is refused: of what?
pub(super) fn addition_amount(text: &str, place: Place) -> Result<AdditionAmount, Fault> {
    let text = text.trim();
    if text.ends_with("mol/kg") {
        return Typed::<Molality>::parse(text).map(AdditionAmount::Molality).map_err(bad(place));
    }
    if text.contains("mol/") {
        return Typed::<Molarity>::parse(text).map(AdditionAmount::Molarity).map_err(bad(place));
    }
    if is_mass_fraction(text) {
        let fraction = mass_fraction(text, place)?;
        return Ok(AdditionAmount::MassFraction(fraction));
    }
    Err(unit_fault(text, place))
}

/// Reads a mass fraction of the final batch, such as `2 wt%`.
pub(super) fn mass_fraction(text: &str, place: Place) -> Result<Typed<MassFraction>, Fault> {
    if !is_mass_fraction(text) {
        return Err(water_unit_fault(text, place));
    }
    let fraction = Typed::<MassFraction>::parse(text).map_err(bad(place.clone()))?;
    if fraction.value < MassFraction::new(1.0) {
        return Ok(fraction);
    }
    let message = format!("{text:?} is the whole batch or more");
    Err(Fault::new("bad_fraction", message, place).with_hint("Give less than 100 wt%."))
}

fn is_mass_fraction(text: &str) -> bool {
    let bare_percent = text.ends_with('%') && !text.ends_with("wt%") && !text.ends_with("wt %");
    let known = MassFraction::UNITS.iter().any(|unit| text.ends_with(unit.symbol));
    let molar = text.ends_with("mol%");
    known && !bare_percent && !molar
}

fn unit_fault(text: &str, place: Place) -> Fault {
    let rule = "is no amount of an addition: its unit must be wt%, ppm, mol/kg or mol/L";
    let hint =
        "Write wt% (of the final batch), mol/kg (of dry acceptor and donor) or mol/L (of final solution).";
    refused_unit(text, rule, place).with_hint(hint)
}

fn water_unit_fault(text: &str, place: Place) -> Fault {
    refused_unit(text, "is no target for water: its unit must be wt% or ppm", place)
        .with_hint("Write the total water of the final batch, such as 2 wt%.")
}

fn refused_unit(text: &str, rule: &str, place: Place) -> Fault {
    if text.ends_with('%') && !text.ends_with("mol%") {
        let message = format!("{text:?} does not say what it is a percentage of");
        return Fault::new("bare_percent", message, place);
    }
    Fault::new("bad_amount", format!("{text:?} {rule}"), place)
}

fn bad(place: Place) -> impl FnOnce(crate::quantity::QuantityError) -> Fault {
    move |error| Fault::of_quantity(&error, place)
}
