//! The properties of a batch that are measured, each with its own unit.

use super::number::parse_number;
use super::text::{Quantity, QuantityError, QuantityProblem, Typed};
use super::{Conductivity, Density, Temperature, Viscosity};

/// A property of a batch.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Property {
    /// In g/mL.
    Density,
    /// Dynamic, in mPa·s.
    Viscosity,
    /// Electrical, in mS/cm.
    Conductivity,
    /// As a glass electrode shows it; in a liquid with little water no measure of acidity by definition.
    #[serde(rename = "pH")]
    Ph,
    /// Where melting begins on heating, in °C: of a mixture its solidus or eutectic, not its liquidus.
    MeltingOnset,
    /// Where the last crystal goes on slow heating, in °C.
    Liquidus,
    /// In °C.
    GlassTransition,
    /// Where crystals form on cooling, in °C.
    CrystallisationOnCooling,
    /// Where a cooled glass crystallises on heating, in °C.
    ColdCrystallisation,
}

impl Property {
    /// All of them.
    pub const ALL: [Self; 9] = [
        Self::Density,
        Self::Viscosity,
        Self::Conductivity,
        Self::Ph,
        Self::MeltingOnset,
        Self::Liquidus,
        Self::GlassTransition,
        Self::CrystallisationOnCooling,
        Self::ColdCrystallisation,
    ];

    /// Its id, as typed and as stored.
    pub const fn id(self) -> &'static str {
        match self {
            Self::Density => "density",
            Self::Viscosity => "viscosity",
            Self::Conductivity => "conductivity",
            Self::Ph => "pH",
            Self::MeltingOnset => "melting-onset",
            Self::Liquidus => "liquidus",
            Self::GlassTransition => "glass-transition",
            Self::CrystallisationOnCooling => "crystallisation-on-cooling",
            Self::ColdCrystallisation => "cold-crystallisation",
        }
    }

    /// The property of an id, whatever the case.
    pub fn from_id(id: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|property| property.id().eq_ignore_ascii_case(id.trim()))
    }

    /// The unit of its values; empty for pH.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Density => "g/mL",
            Self::Viscosity => "mPa·s",
            Self::Conductivity => "mS/cm",
            Self::Ph => "",
            _ => "°C",
        }
    }

    /// True for what is itself a temperature, read off a thermal scan or seen on slow heating.
    pub const fn is_thermal(self) -> bool {
        matches!(
            self,
            Self::MeltingOnset
                | Self::Liquidus
                | Self::GlassTransition
                | Self::CrystallisationOnCooling
                | Self::ColdCrystallisation
        )
    }

    /// A value in the property's own unit.
    ///
    /// # Errors
    /// If the text is no value of it: another unit, none, or out of bounds (pH from −2 to 20).
    pub fn parse(self, text: &str) -> Result<f64, QuantityError> {
        match self {
            Self::Density => Typed::<Density>::parse(text).map(|typed| typed.value.get()),
            Self::Viscosity => Typed::<Viscosity>::parse(text).map(|typed| typed.value.get()),
            Self::Conductivity => Typed::<Conductivity>::parse(text).map(|typed| typed.value.get()),
            Self::Ph => acidity(text),
            _ => Typed::<Temperature>::parse(text).map(|typed| typed.value.celsius()),
        }
    }

    /// The units that its texts may have.
    pub fn units(self) -> Vec<&'static str> {
        let units = match self {
            Self::Density => Density::UNITS,
            Self::Viscosity => Viscosity::UNITS,
            Self::Conductivity => Conductivity::UNITS,
            Self::Ph => &[],
            _ => Temperature::UNITS,
        };
        units.iter().map(|unit| unit.symbol).collect()
    }
}

fn acidity(text: &str) -> Result<f64, QuantityError> {
    let trimmed = text.trim();
    let number = trimmed.strip_prefix("pH").unwrap_or(trimmed).trim();
    let fail = |problem| QuantityError { noun: "pH", given: trimmed.to_owned(), problem, example: "5.2" };
    let value = parse_number(number).map_err(|problem| fail(QuantityProblem::Number(problem)))?.value;
    if (-2.0..=20.0).contains(&value) {
        return Ok(value);
    }
    Err(fail(QuantityProblem::OutOfRange { low: -2.0, high: 20.0, unit: "" }))
}
