//! Physical properties of a pure component, each with its source.

use serde::{Deserialize, Serialize};

use crate::quantity::{Density, DensitySlope, MolarEnthalpy, Temperature};

/// A density at a temperature.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DensityAt {
    /// The density.
    pub value: Density,
    /// Its temperature.
    pub at: Temperature,
    /// Change per kelvin near that temperature.
    pub slope: Option<DensitySlope>,
    /// The source.
    pub source: String,
}

/// A melting point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Melting {
    /// The temperature.
    pub at: Temperature,
    /// The source.
    pub source: String,
}

/// A published pair of melting point and enthalpy of fusion.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Fusion {
    /// Enthalpy of fusion.
    pub enthalpy: MolarEnthalpy,
    /// Its standard uncertainty.
    pub enthalpy_u: Option<MolarEnthalpy>,
    /// The melting point that belongs to it.
    pub at: Temperature,
    /// Standard uncertainty of the melting point, in kelvin.
    pub at_u_k: Option<f64>,
    /// The source.
    pub source: String,
}

/// A transition between solids.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Transition {
    /// Its temperature.
    pub at: Temperature,
    /// What changes into what.
    pub name: String,
    /// Its enthalpy.
    pub enthalpy: Option<MolarEnthalpy>,
    /// The source.
    pub source: String,
}

/// What happens on heating, and from where.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct HeatLimit {
    /// From this temperature; `None` where the source names none.
    pub at: Option<Temperature>,
    /// What happens.
    pub what: String,
    /// The source.
    pub source: String,
}

impl DensityAt {
    /// How far from its own temperature a density without a slope may be used, in kelvin.
    const REACH_WITHOUT_SLOPE_K: f64 = 1.0;
    /// How far a slope taken near one temperature may be stretched, in kelvin.
    const REACH_K: f64 = 30.0;

    /// The density at `temperature`, or `None` beyond the reach of the value.
    pub fn at_temperature(&self, temperature: Temperature) -> Option<Density> {
        let difference = temperature - self.at;
        let distance = difference.get().abs();
        match self.slope {
            Some(slope) if distance <= Self::REACH_K => Some(self.value + slope * difference),
            None if distance <= Self::REACH_WITHOUT_SLOPE_K => Some(self.value),
            _ => None,
        }
    }
}
