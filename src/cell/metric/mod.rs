//! What is taken of each cell to compare it with others: one value a cell, out of its readings and discharges, by a
//! rule that is said. A metric has a text in the form `NAME key=value`, so that it can be typed, kept and read again.

mod alike;
mod built_otherwise;
mod cell_record;
mod cell_value;
mod course;
mod day;
mod discharge;
mod found;
mod keys;
mod parse;
mod retention;
mod rule;
mod slope;
mod text;

pub use cell_record::CellRecord;
pub use cell_value::{CellValue, Taken, taken};
pub use course::{Course, MeanPoint, mean_course};

use super::discharge::Work;
use super::resistance::Method;
use crate::record::reading::ReadingKind;

/// What is taken of each cell. Days count from its building.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Metric {
    /// Open-circuit voltage at a day, in volts.
    Voltage {
        /// Days after building.
        day: f64,
    },
    /// Voltage under a load at a day, in volts.
    Loaded {
        /// Days after building.
        day: f64,
        /// The load in ohms; readings on another are not taken.
        load_ohms: f64,
    },
    /// Short-circuit current at a day, in milliamperes.
    Current {
        /// Days after building.
        day: f64,
    },
    /// Internal resistance by a method at about a day, in ohms.
    Resistance {
        /// Days after building.
        day: f64,
        /// How it is found.
        method: Method,
        /// The set of readings is at most so many days from the day.
        within_d: f64,
        /// Only on this load, in ohms (the heavier one of two); `None` takes any.
        load_ohms: Option<f64>,
    },
    /// Slope of the open-circuit voltage between two days, in volts per week.
    Slope {
        /// Readings sooner than so many days after building are set apart: the cell settles.
        from: f64,
        /// Readings later than so many days after building are left out.
        to: f64,
    },
    /// Charge to the cut-off, in milliampere hours, or that for each gram or square centimetre.
    Capacity(ToCutOff),
    /// Energy to the cut-off, in milliwatt hours, or that for each gram or square centimetre.
    Energy(ToCutOff),
    /// Charge to the cut-off of stored cells over the mean of the fresh cells of their lot, in percent.
    Retention {
        /// Cells whose discharge began at most so many days after building are the fresh ones.
        fresh: f64,
        /// How both are discharged.
        discharge: ToCutOff,
    },
}

/// How a discharge is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ToCutOff {
    /// The voltage at which a cell counts as discharged.
    pub cut_off_volts: f64,
    /// What the cell works on; [`Work::Measured`] takes the current that was logged.
    pub work: Work,
    /// What it is divided by.
    pub per: Per,
}

/// What a charge or an energy is divided by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Per {
    /// Nothing: of the whole cell.
    Cell,
    /// Grams of the oxide that reacts.
    Gram,
    /// Square centimetres of the electrode.
    SquareCentimetre,
}

impl Metric {
    /// Its name: the first word of its text.
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Voltage { .. } => "voltage",
            Self::Loaded { .. } => "loaded",
            Self::Current { .. } => "current",
            Self::Resistance { .. } => "resistance",
            Self::Slope { .. } => "slope",
            Self::Capacity(_) => "capacity",
            Self::Energy(_) => "energy",
            Self::Retention { .. } => "retention",
        }
    }

    /// The unit of its values.
    pub const fn unit(&self) -> &'static str {
        match self {
            Self::Voltage { .. } | Self::Loaded { .. } => "V",
            Self::Current { .. } => "mA",
            Self::Resistance { .. } => "Ω",
            Self::Slope { .. } => "V/week",
            Self::Capacity(to) => match to.per {
                Per::Cell => "mAh",
                Per::Gram => "mAh/g",
                Per::SquareCentimetre => "mAh/cm²",
            },
            Self::Energy(to) => match to.per {
                Per::Cell => "mWh",
                Per::Gram => "mWh/g",
                Per::SquareCentimetre => "mWh/cm²",
            },
            Self::Retention { .. } => "%",
        }
    }

    /// The kind of reading that it is taken from; `None` if from several kinds, or from logs.
    pub const fn kind(&self) -> Option<ReadingKind> {
        match self {
            Self::Voltage { .. } | Self::Slope { .. } => Some(ReadingKind::OpenCircuit),
            Self::Loaded { .. } => Some(ReadingKind::UnderLoad),
            Self::Current { .. } => Some(ReadingKind::ShortCircuit),
            Self::Resistance { .. } | Self::Capacity(_) | Self::Energy(_) | Self::Retention { .. } => None,
        }
    }

    /// How discharges are to be read out of logs, if it is taken from them.
    pub const fn discharge(&self) -> Option<ToCutOff> {
        match self {
            Self::Capacity(to) | Self::Energy(to) => Some(*to),
            Self::Retention { discharge, .. } => Some(*discharge),
            Self::Voltage { .. }
            | Self::Loaded { .. }
            | Self::Current { .. }
            | Self::Resistance { .. }
            | Self::Slope { .. } => None,
        }
    }
}
