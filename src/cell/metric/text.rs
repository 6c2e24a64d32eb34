//! A metric as text: what [`Metric::parse`] reads, with all that was left to it said; and its name for a person.

use std::fmt;

use super::keys::method_word;
use super::{Metric, Per, ToCutOff};
use crate::cell::discharge::Work;

impl fmt::Display for Metric {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())?;
        match self {
            Self::Voltage { day } | Self::Current { day } => write!(f, " day={day}"),
            Self::Loaded { day, load_ohms } => write!(f, " day={day} load={load_ohms} Ω"),
            Self::Resistance { day, method, within_d, load_ohms } => {
                write!(f, " day={day} method={} within={within_d} d", method_word(*method))?;
                load_ohms.map_or(Ok(()), |ohms| write!(f, " load={ohms} Ω"))
            }
            Self::Slope { from, to } => write!(f, " from={from} to={to}"),
            Self::Capacity(to) | Self::Energy(to) => write!(f, "{to}"),
            Self::Retention { fresh, discharge } => write!(f, " fresh={fresh}{discharge}"),
        }
    }
}

impl fmt::Display for ToCutOff {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, " cut-off={} V", self.cut_off_volts)?;
        match self.work {
            Work::Resistance(ohms) => write!(f, " load={ohms} Ω")?,
            Work::Current(amperes) => write!(f, " current={amperes} A")?,
            Work::Measured => {}
        }
        match self.per {
            Per::Cell => Ok(()),
            Per::Gram => f.write_str(" per=g"),
            Per::SquareCentimetre => f.write_str(" per=cm2"),
        }
    }
}

impl Metric {
    /// Its name in words: "open-circuit voltage on day 14".
    pub fn name(&self) -> String {
        match self {
            Self::Voltage { day } => format!("open-circuit voltage on day {day}"),
            Self::Loaded { day, load_ohms } => format!("voltage on {load_ohms} Ω on day {day}"),
            Self::Current { day } => format!("short-circuit current on day {day}"),
            Self::Resistance { day, method, .. } => {
                format!("internal resistance ({}) about day {day}", method.words())
            }
            Self::Slope { from, to } => {
                format!("slope of the open-circuit voltage from day {from} to day {to}")
            }
            Self::Capacity(to) => format!("capacity to {} V", to.cut_off_volts),
            Self::Energy(to) => format!("energy to {} V", to.cut_off_volts),
            Self::Retention { discharge, .. } => {
                format!("charge retention, discharged to {} V", discharge.cut_off_volts)
            }
        }
    }
}
