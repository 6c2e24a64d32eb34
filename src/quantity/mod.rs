//! One type for each quantity: its unit, its bounds, its text, and uncertainty.
//!
//! A value is held in one base unit (gram, mole, millilitre, kelvin, second) whatever was typed, and
//! serializes as that bare number in full double precision. Units appear only in text.

mod concentration;
mod define;
mod digits;
mod electrical;
mod energy;
mod extent;
mod fraction;
mod interval;
mod matter;
mod number;
mod property;
mod temperature;
mod text;
mod time;
mod titration;
mod transport;
mod uncertainty;

pub use concentration::{Molality, Molarity};
pub use digits::{decimals_for_step, decimals_for_uncertainty, significant, to_digits_of};
pub use electrical::{Current, Resistance, Voltage};
pub use energy::{MolarEnthalpy, MolarHeatCapacity};
pub use extent::{Area, Length, Pressure};
pub use fraction::{MassFraction, MoleFraction, Relative};
pub use interval::FractionInterval;
pub use matter::{Amount, Density, Mass, MolarMass, Volume};
pub use number::{Number, NumberProblem, parse_number};
pub use property::Property;
pub use temperature::{DensitySlope, Temperature, TemperatureDifference};
pub use text::{Quantity, QuantityError, QuantityProblem, Typed, Unit};
pub use time::TimeSpan;
pub use titration::{Drift, ElectricCharge, Titre};
pub use transport::{Conductivity, ScanRate, Viscosity};
pub use uncertainty::{Budget, Contribution, Correlation};
