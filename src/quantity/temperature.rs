//! Temperatures and their differences: 20 °C is not twice 10 °C, so a temperature has no sum.

use std::fmt;
use std::str::FromStr;

use super::define::quantity;
use super::matter::Density;
use super::text::{Quantity, QuantityError, Typed, Unit};

/// 0 °C in kelvin (SI definition of the degree Celsius).
const ICE_POINT_K: f64 = 273.15;

/// A thermodynamic temperature, held in kelvin and printed in °C.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, serde::Serialize, serde::Deserialize)]
#[serde(transparent)]
pub struct Temperature(f64);

quantity!(
    /// A difference of two temperatures in kelvin.
    TemperatureDifference, "temperature difference", base "K",
    units [("K", 1.0)],
    from -1e4 to 1e4, example "10 K"
);
quantity!(
    /// How density changes with temperature, in g/mL per kelvin; negative for nearly every liquid.
    DensitySlope, "density slope", base "g/mL/K",
    units [("g/mL/K", 1.0), ("g/cm3/K", 1.0), ("kg/m3/K", 1e-3)],
    from -1.0 to 1.0, example "-0.0007 g/mL/K"
);

impl Temperature {
    /// From kelvin.
    pub const fn from_kelvin(kelvin: f64) -> Self {
        Self(kelvin)
    }

    /// From degrees Celsius.
    pub const fn from_celsius(celsius: f64) -> Self {
        Self(celsius + ICE_POINT_K)
    }

    /// In kelvin.
    pub const fn kelvin(self) -> f64 {
        self.0
    }

    /// In degrees Celsius, rounded to a nanokelvin so that "80 °C" comes back as 80.
    pub fn celsius(self) -> f64 {
        ((self.0 - ICE_POINT_K) * 1e9).round() / 1e9
    }
}

impl Quantity for Temperature {
    const NOUN: &'static str = "temperature";
    const UNITS: &'static [Unit] = &[
        Unit { symbol: "°C", factor: 1.0, offset: ICE_POINT_K },
        Unit { symbol: "C", factor: 1.0, offset: ICE_POINT_K },
        Unit { symbol: "degC", factor: 1.0, offset: ICE_POINT_K },
        Unit { symbol: "℃", factor: 1.0, offset: ICE_POINT_K },
        Unit { symbol: "K", factor: 1.0, offset: 0.0 },
    ];
    const LOW: f64 = 0.0;
    const HIGH: f64 = 1e4;
    const EXAMPLE: &'static str = "80 °C";

    fn from_base(value: f64) -> Self {
        Self(value)
    }
}

impl FromStr for Temperature {
    type Err = QuantityError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        Typed::<Self>::parse(text).map(|typed| typed.value)
    }
}

impl fmt::Display for Temperature {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.celsius(), f)?;
        f.write_str(" °C")
    }
}

impl std::ops::Sub for Temperature {
    type Output = TemperatureDifference;
    fn sub(self, other: Self) -> TemperatureDifference {
        TemperatureDifference::new(self.0 - other.0)
    }
}

impl std::ops::Mul<TemperatureDifference> for DensitySlope {
    type Output = Density;
    fn mul(self, difference: TemperatureDifference) -> Density {
        Density::new(self.get() * difference.get())
    }
}
