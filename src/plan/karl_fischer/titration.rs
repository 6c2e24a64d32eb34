//! One titration. Iodine oxidises sulfur dioxide with one molecule of water for each I₂, which takes two
//! electrons: Q = 2 F m / M (ASTM E1064-23; K. Fischer, Angew. Chem. 48 (1935) 394).

use serde::{Deserialize, Serialize};

use crate::chemistry::{FARADAY, water_molar_mass};
use crate::quantity::{Drift, ElectricCharge, Mass, MassFraction, TimeSpan, Titre, Volume};

/// Electrons for each molecule of water.
const ELECTRONS: f64 = 2.0;

/// What the instrument found, before drift and blank are taken off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Found {
    /// The water that it shows.
    Water(Mass),
    /// The charge that it counted.
    Charge(ElectricCharge),
    /// The titrant that it took.
    Titrant {
        /// Its volume.
        volume: Volume,
        /// Its titre.
        titre: Titre,
    },
}

/// One titration of one sample.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Titration {
    /// The sample; above 0.
    pub sample: Mass,
    /// What was found.
    pub found: Found,
    /// What the cell takes up by itself.
    pub drift: Drift,
    /// How long the titration ran.
    pub time: TimeSpan,
    /// Water that came with the way of putting the sample in, such as a solvent or an oven's gas.
    pub blank: Mass,
}

/// Why a titration gives no result.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum TitrationError {
    /// None at all.
    #[error("there is no titration")]
    NoTitration,
    /// A sample of nothing.
    #[error("the sample of titration {number} has no mass")]
    NoSample {
        /// Which one, from 1.
        number: usize,
    },
}

/// Charge that a mass of water takes.
pub fn charge_of(water: Mass) -> ElectricCharge {
    ElectricCharge::new(ELECTRONS * FARADAY * (water / water_molar_mass()).get())
}

/// Titrant that a mass of water takes; `None` for a titre of 0.
pub fn titrant_of(water: Mass, titre: Titre) -> Option<Volume> {
    (Titre::ZERO < titre).then(|| Volume::new(water.get() * 1e3 / titre.get()))
}

/// Water that a volume of titrant stands for.
pub(super) fn titrant_water(volume: Volume, titre: Titre) -> Mass {
    Mass::new(volume.get() * titre.get() / 1e3)
}

impl Found {
    /// The water that it stands for.
    pub fn water(self) -> Mass {
        match self {
            Self::Water(mass) => mass,
            Self::Charge(charge) => {
                Mass::new(charge.get() / (ELECTRONS * FARADAY) * water_molar_mass().get())
            }
            Self::Titrant { volume, titre } => titrant_water(volume, titre),
        }
    }
}

impl Titration {
    /// Minutes that it ran.
    fn minutes(&self) -> f64 {
        self.time.get() / 60.0
    }

    /// Water that the cell took up meanwhile.
    pub fn drifted(&self) -> Mass {
        Mass::new(self.drift.get() * self.minutes() * 1e-6)
    }

    /// Water of the sample, drift and blank taken off; below zero where they are more than was found.
    pub fn water(&self) -> Mass {
        self.found.water() - self.drifted() - self.blank
    }

    /// The same over the sample.
    pub fn fraction(&self) -> MassFraction {
        MassFraction::new(self.water() / self.sample)
    }

    /// What it would seem to be without the correction for drift.
    pub fn fraction_without_drift(&self) -> MassFraction {
        MassFraction::new((self.found.water() - self.blank) / self.sample)
    }

    /// Derivative of the fraction to the drift, in g/g per µg/min.
    pub(super) fn by_drift(&self) -> f64 {
        -self.minutes() * 1e-6 / self.sample.get()
    }
}
