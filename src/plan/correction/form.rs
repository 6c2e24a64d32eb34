//! The form: a hydrate weighs more than the anhydrous substance by its crystal water.

use crate::chemistry::water_molar_mass;
use crate::component::Component;
use crate::quantity::Mass;

/// The mass with `water` moles of crystal water per mole: m (1 + h M(H₂O)/M). A component without a
/// formula has no hydrates.
pub(super) fn with_water(anhydrous: Mass, component: &Component, water: f64) -> Mass {
    let Some(formula) = &component.formula else { return anhydrous };
    anhydrous * (1.0 + water * (water_molar_mass() / formula.anhydrous_molar_mass()))
}
