//! What the work did otherwise than its study says.

use jiff::{SignedDuration, Timestamp};

use crate::record::amend::Difference;
use crate::record::cell::Cause;
use crate::record::code::Code;

/// One departure.
#[derive(Debug, Clone, PartialEq)]
pub enum Departure {
    /// The study was written when a cell of it had been read already.
    WrittenLate {
        /// When its entry was written.
        written: Timestamp,
        /// The first reading before that.
        first: Read,
    },
    /// What was planned was changed by later entries.
    PlanChanged {
        /// Those that stand: sequence, when, why.
        by: Vec<(u64, Option<Timestamp>, String)>,
        /// What is otherwise now: field, before, after.
        fields: Vec<Difference>,
        /// True if one of them came after the first reading.
        after_first_reading: bool,
    },
    /// An electrolyte has another number of cells than planned.
    CellCount {
        /// The electrolyte.
        electrolyte: String,
        /// How many were planned.
        planned: usize,
        /// Those that there are.
        cells: Vec<Code>,
    },
    /// Cells that hold none of the electrolytes, or more than one.
    NoElectrolyte {
        /// The cells.
        cells: Vec<Code>,
    },
    /// Cells that belonged to another study before they were taken into this one.
    OfAnotherStudy {
        /// The cells.
        cells: Vec<Code>,
        /// That study.
        study: Code,
    },
    /// Cells that were not built in the place which the build list gives their electrolyte.
    OutOfOrder {
        /// The cells.
        cells: Vec<Code>,
    },
    /// Cells that were in the study and are no more.
    TakenOut {
        /// The cells.
        cells: Vec<Code>,
        /// The entry that took them in, and was struck.
        entry: u64,
        /// Why.
        reason: String,
    },
    /// A cell failed for a cause that was not named beforehand.
    UnnamedCause {
        /// The cell.
        cell: Code,
        /// The cause.
        cause: Cause,
    },
    /// Cells were not read when they should have been.
    NotRead {
        /// What is read.
        what: String,
        /// Days after building.
        day: f64,
        /// The cells.
        cells: Vec<Code>,
    },
    /// Cells were read late.
    ReadLate {
        /// What is read.
        what: String,
        /// Days after building.
        day: f64,
        /// The cells.
        cells: Vec<Code>,
        /// By how much, the latest of them.
        by: SignedDuration,
    },
    /// Something was asked for otherwise than planned.
    Asked {
        /// What: metric, method, baseline, confidence.
        what: &'static str,
        /// As planned.
        planned: String,
        /// As asked for.
        asked: String,
    },
    /// The data were looked at before the planned end.
    EarlyLooks {
        /// How often, with this look.
        looks: usize,
        /// Days from the first of them to the planned end.
        first_days_before: u32,
    },
}

/// A reading by its cell and time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Read {
    /// The cell.
    pub cell: Code,
    /// When.
    pub at: Timestamp,
}
