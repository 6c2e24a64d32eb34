//! What every recipe must fulfil, wherever it was written.

use crate::component::{AdditionAmount, Component, Proportions, RatioBasis};
use crate::input::{Fault, Faults, Place};

/// Where the things of a recipe stand, in the order of its parts and additions.
pub(super) struct Places {
    pub(super) parts: Vec<Place>,
    pub(super) additions: Vec<Place>,
    pub(super) water: Place,
}

/// Checks what the parts say together.
pub(super) fn check(proportions: &Proportions, places: &Places) -> Faults {
    let mut faults = Faults::none();
    for (index, part) in proportions.parts.iter().enumerate() {
        let place = place_at(&places.parts, index);
        if proportions.basis == RatioBasis::Mole {
            refuse_without_formula(&part.component, "a mole ratio", place.clone(), &mut faults);
        }
        let before = proportions.parts.iter().take(index).map(|part| &part.component);
        refuse_twice(&part.component, before, place, &mut faults);
    }
    for (index, addition) in proportions.additions.iter().enumerate() {
        let place = place_at(&places.additions, index);
        if !matches!(addition.amount, AdditionAmount::MassFraction(_)) {
            refuse_without_formula(&addition.component, addition.amount.text(), place.clone(), &mut faults);
        }
        if addition.component.is_water() {
            let hint =
                "Give the total water of the final batch: \"to 2 wt% water\", or [water] target in a file.";
            faults.push(
                Fault::new("water_as_addition", "water can't be an addition", place.clone()).with_hint(hint),
            );
        }
        let before = proportions.components().take(proportions.parts.len() + index);
        refuse_twice(&addition.component, before, place, &mut faults);
    }
    let water_part = proportions.parts.iter().any(|part| part.component.is_water());
    if water_part && proportions.water.is_some() {
        let message = "water stands in the ratio and as a target: only one can hold";
        let hint = "Leave one of the two out.";
        faults.push(Fault::new("water_twice", message, places.water.clone()).with_hint(hint));
    }
    let fractions: f64 = proportions.additions.iter().map(|addition| fraction_of(&addition.amount)).sum();
    let water = proportions.water.as_ref().map_or(0.0, |water| water.value.get());
    if 1.0 <= fractions + water {
        // Rounded, since a sum of percents leaves dust behind the last digit.
        let percent = ((fractions + water) * 1e8).round() / 1e6;
        let message = format!("additions and water take up {percent} % of the batch");
        let place = places.additions.first().unwrap_or(&places.water).clone();
        faults.push(
            Fault::new("no_room", message, place).with_hint("Leave room for the ratio's own components."),
        );
    }
    faults
}

fn fraction_of(amount: &AdditionAmount) -> f64 {
    match amount {
        AdditionAmount::MassFraction(typed) => typed.value.get(),
        AdditionAmount::Molality(_) | AdditionAmount::Molarity(_) => 0.0,
    }
}

fn place_at(places: &[Place], index: usize) -> Place {
    places.get(index).cloned().unwrap_or_default()
}

fn refuse_without_formula(component: &Component, wanted: &str, place: Place, faults: &mut Faults) {
    if component.formula.is_none() {
        let message = format!("{} has no formula, so it can't be given by {wanted}", component.name);
        let hint = "Use a mass ratio (basis = \"mass\", or \"by mass\" in the shorthand) or wt%.";
        faults.push(Fault::new("no_formula", message, place).with_hint(hint));
    }
}

fn refuse_twice<'c>(
    component: &Component,
    before: impl Iterator<Item = &'c std::sync::Arc<Component>>,
    place: Place,
    faults: &mut Faults,
) {
    if before.into_iter().any(|other| other.id == component.id) {
        let message = format!("{} stands twice in the recipe", component.id);
        faults.push(Fault::new("component_twice", message, place).with_hint("Put its amounts together."));
    }
}
