//! A number with whatever unit is on the meter, and several of them brought to one unit.

use crate::input::{Fault, Place};
use crate::quantity::{
    Conductivity, Current, Density, ElectricCharge, Mass, Quantity as _, Resistance, TimeSpan, Unit,
    Viscosity, Voltage, parse_number, significant,
};

/// A number and its unit.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::cli) struct Measure {
    pub(in crate::cli) value: f64,
    /// Empty for a bare number.
    pub(in crate::cli) unit: String,
    flag: &'static str,
    text: String,
}

impl Measure {
    /// Reads a number, and the rest as its unit.
    pub(super) fn parse(flag: &'static str, text: &str) -> Result<Self, Fault> {
        let text = text.trim();
        let ends = text.char_indices().map(|(at, c)| at + c.len_utf8()).rev();
        let found = ends.filter_map(|end| Some((end, parse_number(&text[..end]).ok()?.value))).next();
        let Some((end, value)) = found else {
            let fault =
                Fault::new("bad_measure", format!("{text:?} begins with no number"), place(flag, text));
            return Err(fault.with_hint("Write a number and its unit, such as \"15 mV\"."));
        };
        Ok(Self {
            value,
            unit: text[end..].trim().replace('\u{03bc}', "\u{00b5}"),
            flag,
            text: text.to_owned(),
        })
    }

    /// A size that was found and not typed.
    pub(super) fn found(flag: &'static str, value: f64, unit: &str) -> Self {
        Self {
            value,
            unit: unit.to_owned(),
            flag,
            text: format!("{} {unit} of its cells", significant(value, 3)),
        }
    }

    /// The same, above 0.
    pub(super) fn positive(flag: &'static str, text: &str) -> Result<Self, Fault> {
        let measure = Self::parse(flag, text)?;
        if 0.0 < measure.value {
            return Ok(measure);
        }
        let fault = Fault::new("bad_measure", format!("{text:?} is not above 0"), place(flag, text));
        Err(fault.with_hint("Give a size, without its direction."))
    }

    /// The value in the unit of another.
    pub(super) fn in_unit_of(&self, other: &Self) -> Result<f64, Fault> {
        if self.unit == other.unit {
            return Ok(self.value);
        }
        factor(&self.unit, &other.unit).map(|factor| self.value * factor).ok_or_else(|| {
            let message =
                format!("{:?} and {} {:?} have no unit in common", self.text, other.flag, other.text);
            let fault = Fault::new("unit_mixed", message, place(self.flag, &self.text));
            fault.with_hint(format!("Give both in one unit, such as {}.", shown(&other.unit)))
        })
    }
}

fn shown(unit: &str) -> &str {
    if unit.is_empty() { "\"15 mV\" and \"12 mV\"" } else { unit }
}

fn place(flag: &str, text: &str) -> Place {
    Place::in_text(flag, text, 0..text.len())
}

/// How many of one unit make one of another of the same kind.
pub(super) fn factor(from: &str, to: &str) -> Option<f64> {
    let families: [&[Unit]; 9] = [
        Voltage::UNITS,
        Current::UNITS,
        Resistance::UNITS,
        Mass::UNITS,
        TimeSpan::UNITS,
        Density::UNITS,
        Viscosity::UNITS,
        Conductivity::UNITS,
        ElectricCharge::UNITS,
    ];
    let size = |family: &[Unit], symbol: &str| {
        family.iter().find(|unit| unit.symbol == symbol && unit.offset == 0.0).map(|unit| unit.factor)
    };
    families.iter().find_map(|family| Some(size(family, from)? / size(family, to)?))
}
