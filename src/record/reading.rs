//! Readings of cells: raw values, from which everything else is computed.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};
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
    /// Why, in spite of a limit.
    pub because: Option<String>,
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

/// What can be read of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum ReadingKind {
    /// Voltage with no load but the meter.
    OpenCircuit,
    /// Voltage under a load.
    UnderLoad,
    /// Current through a meter alone.
    ShortCircuit,
}

impl ReadingKind {
    /// All kinds.
    pub const ALL: [Self; 3] = [Self::OpenCircuit, Self::UnderLoad, Self::ShortCircuit];

    /// Its word in designs and flags.
    pub const fn word(self) -> &'static str {
        match self {
            Self::OpenCircuit => "open-circuit",
            Self::UnderLoad => "under-load",
            Self::ShortCircuit => "short-circuit",
        }
    }

    /// The kind of a word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.word() == word.trim())
    }

    /// The unit in which it is recorded.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::OpenCircuit | Self::UnderLoad => "V",
            Self::ShortCircuit => "A",
        }
    }
}

impl ReadingValue {
    /// What it is.
    pub fn kind(&self) -> ReadingKind {
        match self {
            Self::OpenCircuit { .. } => ReadingKind::OpenCircuit,
            Self::UnderLoad { .. } => ReadingKind::UnderLoad,
            Self::ShortCircuit { .. } => ReadingKind::ShortCircuit,
        }
    }

    /// Volts or amperes.
    pub fn number(&self) -> f64 {
        match self {
            Self::OpenCircuit { volts, .. } | Self::UnderLoad { volts, .. } => *volts,
            Self::ShortCircuit { amperes, .. } => *amperes,
        }
    }

    /// As typed.
    pub fn text(&self) -> &str {
        match self {
            Self::OpenCircuit { text, .. }
            | Self::UnderLoad { text, .. }
            | Self::ShortCircuit { text, .. } => text,
        }
    }
}

/// A reading as it stands in the book.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Sequence of its entry.
    pub entry: u64,
    /// What was recorded.
    pub taken: ReadingTaken,
}

/// How long a cell is taken to be disturbed by a short circuit unless a person says otherwise (common
/// practice: let it rest overnight, better a day).
pub const SETTLING: SignedDuration = SignedDuration::from_hours(24);

/// For each reading, the time since the last short circuit of the same cell before it, if that is within
/// `settling`. It is computed and never stored: an entry that comes late changes it.
pub fn disturbed(readings: &[Reading], settling: SignedDuration) -> Vec<Option<SignedDuration>> {
    let mut shorts: BTreeMap<&Code, Vec<Timestamp>> = BTreeMap::new();
    for reading in readings.iter().filter(|reading| reading.taken.value.kind() == ReadingKind::ShortCircuit) {
        shorts.entry(&reading.taken.cell).or_default().push(reading.taken.at);
    }
    shorts.values_mut().for_each(|times| times.sort_unstable());
    let since = |reading: &Reading| {
        let times = shorts.get(&reading.taken.cell)?;
        let before = times.partition_point(|time| *time < reading.taken.at);
        let last = times.get(before.checked_sub(1)?)?;
        let since = reading.taken.at.duration_since(*last);
        (since <= settling).then_some(since)
    };
    readings.iter().map(since).collect()
}
