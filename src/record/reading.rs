//! Readings of cells: raw values, from which everything else is computed.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::code::Code;
use crate::quantity::{Relative, Temperature, Typed};

/// One dated measurement of one cell.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ReadingTaken {
    /// The cell.
    pub cell: Code,
    /// What was read.
    pub value: ReadingValue,
    /// Temperature of the cell.
    pub temperature: Option<Typed<Temperature>>,
    /// Relative humidity of the room.
    pub humidity: Option<Typed<Relative>>,
    /// The meter.
    pub instrument: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// What was read, in volts, amperes and ohms, with the text as typed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ReadingValue {
    /// Voltage with no load but the meter.
    OpenCircuit {
        /// Volts.
        volts: f64,
        /// As typed.
        text: String,
    },
    /// Voltage under a load.
    UnderLoad {
        /// Volts.
        volts: f64,
        /// As typed.
        text: String,
        /// The load in ohms.
        ohms: f64,
        /// Seconds after closing the circuit.
        after_s: f64,
    },
    /// Current through a meter alone.
    ShortCircuit {
        /// Amperes.
        amperes: f64,
        /// As typed.
        text: String,
        /// Resistance of the meter in ohms, if known.
        meter_ohms: Option<f64>,
        /// Seconds after closing the circuit.
        after_s: Option<f64>,
    },
}
