//! Theoretical capacity of a cell: which electrode ends first, and how much of the other is left then.

use super::electrode::{Electrode, Side};
use crate::chemistry::{FARADAY, water_molar_mass};
use crate::quantity::{Area, Current, ElectricCharge, Mass, Resistance, Voltage};

/// What is asked of a cell.
#[derive(Debug, Clone, PartialEq)]
pub struct CapacityRequest {
    /// The electrode that is oxidised, if it has a capacity that is known.
    pub negative: Option<Electrode>,
    /// The electrode that is reduced.
    pub positive: Option<Electrode>,
    /// The electrolyte, and how much of it is water if that is known.
    pub electrolyte: Option<(Mass, Option<Mass>)>,
    /// The mass of the cathode mix as it is filled in, without the electrolyte.
    pub mix: Option<Mass>,
    /// A load and what drives it.
    pub load: Option<Load>,
    /// The ratio of negative to positive capacity that is wanted.
    pub wanted_ratio: Option<f64>,
    /// What the numbers count, a sentence each.
    pub conventions: Vec<String>,
}

/// A load with the source as one takes it to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Load {
    /// Voltage with no load.
    pub open: Voltage,
    /// The load.
    pub resistance: Resistance,
    /// Internal resistance; `None` where it is left out.
    pub internal: Option<Resistance>,
}

/// What a load draws.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtLoad {
    /// Current at the beginning: E / (R + Ri).
    pub current: Current,
    /// Current over the smaller of the two areas, in mA/cm².
    pub density_ma_per_cm2: Option<f64>,
    /// Hours until the limiting electrode would be used up if this current held.
    pub hours: Option<f64>,
}

/// A cell between its electrodes.
#[derive(Debug, Clone, PartialEq)]
pub struct CellCapacity {
    /// What was asked.
    pub request: CapacityRequest,
}

/// Both electrodes compared.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pairing {
    /// The electrode that ends first.
    pub limiting: Side,
    /// The charge that it gives.
    pub capacity: ElectricCharge,
    /// Negative over positive.
    pub ratio: f64,
    /// The charge that is left in the other.
    pub excess: ElectricCharge,
    /// The mass of what reacts that is left in the other.
    pub excess_mass: Mass,
    /// Grams of both that a charge of one ampere hour needs if neither is in excess.
    pub grams_per_ah: f64,
}

/// The capacity of a cell.
pub fn capacity(request: CapacityRequest) -> CellCapacity {
    CellCapacity { request }
}

impl CellCapacity {
    /// Both electrodes compared; `None` unless both are known.
    pub fn pairing(&self) -> Option<Pairing> {
        let (negative, positive) = self.request.negative.as_ref().zip(self.request.positive.as_ref())?;
        let (n, p) = (negative.capacity(), positive.capacity());
        let (limiting, capacity, other) =
            if n < p { (Side::Negative, n, positive) } else { (Side::Positive, p, negative) };
        let excess = other.capacity() - capacity;
        let per_ah =
            |electrode: &Electrode| 3600.0 * electrode.molar_mass.get() / (electrode.electrons * FARADAY);
        Some(Pairing {
            limiting,
            capacity,
            ratio: n / p,
            excess,
            excess_mass: other.active() * (excess / other.capacity()),
            grams_per_ah: per_ah(negative) + per_ah(positive),
        })
    }

    /// What the load draws.
    pub fn at_load(&self) -> Option<AtLoad> {
        let load = self.request.load?;
        let ohms = load.resistance + load.internal.unwrap_or(Resistance::ZERO);
        let current = Current::new(load.open.get() / ohms.get());
        let hours = self.least().map(|charge| charge.get() / current.get() / 3600.0);
        let density = self.smaller_area().map(|area| current.get() * 1000.0 / area.get());
        Some(AtLoad { current, density_ma_per_cm2: density, hours })
    }

    /// Grams of electrolyte for each gram of mix.
    pub fn electrolyte_per_mix(&self) -> Option<f64> {
        let (electrolyte, mix) = self.request.electrolyte.zip(self.request.mix)?;
        (Mass::ZERO < mix).then(|| electrolyte.0 / mix)
    }

    /// The charge for which the electrolyte's water lasts if it alone gives the protons, one water for each
    /// electron: MnO2 + H2O + e− → MnOOH + OH− (general electrochemistry, from memory).
    pub fn water_capacity(&self) -> Option<ElectricCharge> {
        let water = self.request.electrolyte?.1?;
        Some(ElectricCharge::new(FARADAY * (water / water_molar_mass()).get()))
    }

    /// The mass of the negative electrode that gives the wanted ratio.
    pub fn negative_for_ratio(&self) -> Option<Mass> {
        let (negative, positive) = self.request.negative.as_ref().zip(self.request.positive.as_ref())?;
        Some(negative.gross_for(positive.capacity() * self.request.wanted_ratio?))
    }

    /// The charge of the electrode that ends first, or of the one that is known.
    pub fn least(&self) -> Option<ElectricCharge> {
        let known = [&self.request.negative, &self.request.positive].into_iter().flatten();
        known.map(Electrode::capacity).reduce(|a, b| if b < a { b } else { a })
    }

    fn smaller_area(&self) -> Option<Area> {
        let electrodes = [&self.request.negative, &self.request.positive].into_iter().flatten();
        let areas = electrodes.filter_map(|electrode| electrode.area).filter(|area| Area::ZERO < *area);
        areas.reduce(|a, b| if b < a { b } else { a })
    }
}
