//! What one electrode can give, from the mass of what reacts in it and its electrons.

use crate::chemistry::FARADAY;
use crate::quantity::{Area, ElectricCharge, Mass, MolarMass};

/// The side of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Oxidised on discharge: the zinc.
    Negative,
    /// Reduced on discharge: the oxide.
    Positive,
}

impl Side {
    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Negative => "negative",
            Self::Positive => "positive",
        }
    }
}

/// A share of the mass that does not all react, in words and as a factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// Such as "of the mix" or "purity".
    pub what: String,
    /// Between 0 and 1.
    pub factor: f64,
}

/// An electrode as it is asked about.
#[derive(Debug, Clone, PartialEq)]
pub struct Electrode {
    /// What reacts.
    pub material: String,
    /// Its molar mass.
    pub molar_mass: MolarMass,
    /// Electrons for each formula unit.
    pub electrons: f64,
    /// What was weighed.
    pub gross: Mass,
    /// How much of that reacts, factor by factor.
    pub parts: Vec<Part>,
    /// The area that faces the other electrode.
    pub area: Option<Area>,
}

impl Electrode {
    /// The mass of what reacts.
    pub fn active(&self) -> Mass {
        self.parts.iter().fold(self.gross, |mass, part| mass * part.factor)
    }

    /// Charge for each gram of what reacts, in mAh/g: n F / M (Faraday's law).
    pub fn specific_mah_per_g(&self) -> f64 {
        self.electrons * FARADAY / self.molar_mass.get() / 3.6
    }

    /// The charge of all that reacts.
    pub fn capacity(&self) -> ElectricCharge {
        ElectricCharge::new(self.electrons * FARADAY * (self.active() / self.molar_mass).get())
    }

    /// Charge for each square centimetre, in mAh/cm².
    pub fn areal_mah_per_cm2(&self) -> Option<f64> {
        self.area
            .filter(|area| Area::ZERO < *area)
            .map(|area| self.capacity().milliampere_hours() / area.get())
    }

    /// The mass that would have to be weighed for a charge.
    pub fn gross_for(&self, charge: ElectricCharge) -> Mass {
        self.gross * (charge / self.capacity())
    }
}
