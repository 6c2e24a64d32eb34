//! What some grams out of a bottle bring, with the sources of their uncertainty: the inverse of a plan's
//! correction. Sensitivities are absolute derivatives.

use std::sync::Arc;

use super::estimate::Estimate;
use crate::chemistry::water_molar_mass;
use crate::component::{Component, Quality};
use crate::plan::correction::{Correction, counts_dry, water_sensitivity};
use crate::quantity::{FractionInterval, Mass};

/// What one weighing brings.
pub(super) struct Portion {
    pub(super) correction: Correction,
    /// Moles; `None` without a formula.
    pub(super) amount: Option<Estimate>,
    /// Grams of the component as a recipe names it.
    pub(super) named: Estimate,
    pub(super) water: Estimate,
}

/// A source by its name, `sensitivity` being that of the mass on the balance to it, and its uncertainty.
pub(super) struct MassSource {
    pub(super) name: String,
    pub(super) sensitivity: f64,
    /// `None` without a balance.
    pub(super) standard_uncertainty: Option<f64>,
}

/// What `mass` out of a bottle brings. `origin` names component and bottle in the budget.
pub(super) fn portion(
    component: &Arc<Component>,
    quality: &Quality,
    origin: &str,
    mass: Mass,
    sources: &[MassSource],
) -> Portion {
    let correction = Correction::of_gross(mass, component, quality);
    let named = content(quality, origin, correction.as_asked.get(), mass, sources);
    let amount = component.formula.as_ref().map(|formula| {
        let mut amount = named.scaled(1.0 / formula.molar_mass().get());
        // Of the form in the bottle, whose mass is what is weighed.
        let water = quality.crystal_water(component) * water_molar_mass().get();
        let molar_mass = formula.anhydrous_molar_mass().get() + water;
        let u = formula.molar_mass_uncertainty().get();
        amount.budget.add(format!("molar mass of {}", component.id), -amount.value / molar_mass, u);
        amount
    });
    Portion { correction, amount, named, water: water(quality, origin, &correction, sources) }
}

/// What is proportional to the component's own mass.
fn content(quality: &Quality, origin: &str, value: f64, mass: Mass, sources: &[MassSource]) -> Estimate {
    let mut content = Estimate::of(value);
    add_mass(&mut content, sources, value / mass.get());
    add_fraction(&mut content, &format!("assay of {origin}"), quality.assay.as_ref(), || {
        value / quality.assay_value()
    });
    if counts_dry(quality) {
        add_fraction(&mut content, &format!("moisture of {origin}"), quality.moisture.as_ref(), || {
            -value / (1.0 - quality.moisture_value())
        });
    }
    content
}

/// Crystal water and moisture.
fn water(quality: &Quality, origin: &str, correction: &Correction, sources: &[MassSource]) -> Estimate {
    let mut water = Estimate::of(correction.water().get());
    if water.value <= 0.0 {
        return water;
    }
    let per_gram = water.value / correction.gross.get();
    add_mass(&mut water, sources, per_gram);
    let by = water_sensitivity(correction, quality);
    if by.assay != 0.0 {
        add_fraction(&mut water, &format!("assay of {origin}"), quality.assay.as_ref(), || by.assay);
    }
    add_fraction(&mut water, &format!("moisture of {origin}"), quality.moisture.as_ref(), || by.moisture);
    water
}

/// A value that is `per_gram` times the mass on the balance.
pub(super) fn add_mass(estimate: &mut Estimate, sources: &[MassSource], per_gram: f64) {
    for source in sources {
        match source.standard_uncertainty {
            Some(u) => estimate.budget.add(source.name.clone(), per_gram * source.sensitivity, u),
            None => estimate.budget.unstated.push(format!("{}: no balance is stated", source.name)),
        }
    }
}

fn add_fraction(
    estimate: &mut Estimate,
    source: &str,
    fraction: Option<&FractionInterval>,
    sensitivity: impl Fn() -> f64,
) {
    match fraction.map(|fraction| fraction.standard_uncertainty) {
        Some(Some(u)) => estimate.budget.add(source, sensitivity(), u.get()),
        Some(None) => estimate.budget.unstated.push(format!("{source}: no uncertainty is stated")),
        None => {}
    }
}
