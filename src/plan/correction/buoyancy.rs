//! Air buoyancy: a balance adjusted with steel weights shows less than the mass of anything lighter.
//!
//! Conventional mass (OIML D 28:2004): weights of 8000 kg/m³ in air of 1.2 kg/m³ at 20 °C;
//! m = W (1 − ρ_air/8000) / (1 − ρ_air/ρ_sample).

use serde::{Deserialize, Serialize};

use crate::quantity::{Density, Mass, Typed};

/// Density of the adjusting weights by convention, in g/mL.
const WEIGHTS: Density = Density::new(8.0);

/// The density of the air in the room.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AirDensity(pub Typed<Density>);

/// What the balance shows for a mass of a sample.
pub fn balance_reading(mass: Mass, sample: Density, air: Density) -> Mass {
    mass * ((1.0 - air / sample) / (1.0 - air / WEIGHTS))
}

/// The mass of a sample for which the balance shows `reading`.
pub fn true_mass(reading: Mass, sample: Density, air: Density) -> Mass {
    reading * ((1.0 - air / WEIGHTS) / (1.0 - air / sample))
}
