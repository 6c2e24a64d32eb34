//! One look at a cell with a meter: no load, a known load, or a meter that is the load itself.

use jiff::{SignedDuration, Timestamp};

use crate::record::reading::{Reading, ReadingValue};

/// What a meter showed, and what it was in the circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Shown {
    /// A voltage with no load but the voltmeter.
    Open {
        /// Volts.
        volts: f64,
    },
    /// A voltage on a load.
    Loaded {
        /// Volts.
        volts: f64,
        /// The load in ohms.
        load_ohms: f64,
    },
    /// A current through a meter, with the range's own resistance.
    Current {
        /// Amperes.
        amperes: f64,
        /// Resistance of the meter in that range with its leads; `None` if nobody knows it.
        meter_ohms: Option<f64>,
    },
}

/// A reading as resistances are found from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Shot {
    /// What was read.
    pub shown: Shown,
    /// Seconds after closing the circuit.
    pub after_s: Option<f64>,
    /// When; `None` where all readings are taken as of one state.
    pub at: Option<Timestamp>,
    /// The entry of the book.
    pub entry: Option<u64>,
    /// True soon after a short circuit of the same cell.
    pub disturbed: bool,
}

impl Shown {
    /// Voltage at the cell and current out of it. A voltmeter stands beside the load and draws its own; what
    /// flows through a meter falls over that meter's resistance, over none where that is not known.
    pub fn volts_and_amperes(&self, voltmeter_ohms: Option<f64>) -> (f64, f64) {
        let drawn = |volts: f64| voltmeter_ohms.map_or(0.0, |ohms| volts / ohms);
        match *self {
            Self::Open { volts } => (volts, drawn(volts)),
            Self::Loaded { volts, load_ohms } => (volts, volts / load_ohms + drawn(volts)),
            Self::Current { amperes, meter_ohms } => (amperes * meter_ohms.unwrap_or(0.0), amperes),
        }
    }

    /// The resistance that the cell works on outside itself; infinite with no load.
    pub fn outside_ohms(&self) -> f64 {
        match *self {
            Self::Open { .. } => f64::INFINITY,
            Self::Loaded { load_ohms, .. } => load_ohms,
            Self::Current { meter_ohms, .. } => meter_ohms.unwrap_or(0.0),
        }
    }
}

impl Shot {
    /// True if current flows.
    pub fn is_loaded(&self) -> bool {
        !matches!(self.shown, Shown::Open { .. })
    }

    /// A reading of the book.
    pub fn of_reading(reading: &Reading, since_short: Option<SignedDuration>) -> Self {
        let (shown, after_s) = match reading.taken.value {
            ReadingValue::OpenCircuit { volts, .. } => (Shown::Open { volts }, None),
            ReadingValue::UnderLoad { volts, ohms, after_s, .. } => {
                (Shown::Loaded { volts, load_ohms: ohms }, Some(after_s))
            }
            ReadingValue::ShortCircuit { amperes, meter_ohms, after_s, .. } => {
                (Shown::Current { amperes, meter_ohms }, after_s)
            }
        };
        let (at, entry) = (Some(reading.taken.at), Some(reading.entry));
        Self { shown, after_s, at, entry, disturbed: since_short.is_some() }
    }
}
