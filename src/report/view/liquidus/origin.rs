//! Where a measured point comes from.

use crate::quantity::MassFraction;

/// Where a measured point of the liquidus comes from, and what is known of it beside its numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct LiquidusOrigin {
    /// The code of a batch, or the line of a file.
    pub name: String,
    /// Water in it; `None` where nobody knows, or where water is one of the components.
    pub water: Option<LiquidusWater>,
    /// Standard uncertainty of the temperature in kelvin, if it was stated.
    pub uncertainty_k: Option<f64>,
    /// How it was seen.
    pub method: Option<String>,
}

/// Water beside the components of a liquid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LiquidusWater {
    /// Of the whole mass.
    pub fraction: MassFraction,
    /// Of all moles, the components' and its own.
    pub mole_fraction: f64,
    /// True if it was titrated; else it is what was weighed in and what bottles state.
    pub titrated: bool,
}

impl LiquidusOrigin {
    /// A point of which nothing is known but its name.
    pub fn named(name: String) -> Self {
        Self { name, water: None, uncertainty_k: None, method: None }
    }
}
