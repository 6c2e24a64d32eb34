//! What an entry was done to and with what: the way from a day, an author, an instrument or a balance to what
//! it touched.

use super::code::Code;
use super::event::Event;

/// Something that was made, changed, measured or looked at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Touch {
    /// Its code.
    pub code: Code,
    /// What was done to it, in words: "weighed into", "water measured".
    pub what: &'static str,
    /// True if what is made of it later is touched as well. A look at what is left changes nothing in what was
    /// taken before.
    pub spreads: bool,
}

impl Event {
    /// What it touches, each code once. What something was taken from is not touched by that.
    pub fn touches(&self) -> Vec<Touch> {
        match self {
            Self::Begun(_) | Self::Corrected(_) | Self::Struck(_) => Vec::new(),
            Self::BottleReceived(event) => spreading(&event.code, "received"),
            Self::BottleOpened(event) => spreading(&event.code, "opened"),
            Self::BottleDried(event) => spreading(&event.code, "dried"),
            Self::BottleWeighed(event) => ending(&event.code, "weighed back"),
            Self::BottleDisposed(event) => ending(&event.code, "disposed of"),
            Self::BatchStarted(event) => spreading(&event.code, "planned"),
            Self::BatchWeighed(event) => spreading(&event.batch, "weighed into"),
            Self::BatchAdded(event) => spreading(&event.batch, "added to"),
            Self::BatchBlended(event) => spreading(&event.code, "blended"),
            Self::BatchFinished(event) => spreading(&event.batch, "finished"),
            Self::BatchWater(event) => spreading(&event.batch, "water measured"),
            Self::BatchAppearance(event) => spreading(&event.batch, "looked at"),
            Self::BatchMeasured(event) => spreading(&event.batch, "property measured"),
            Self::BatchReleased(event) => spreading(&event.batch, "released"),
            Self::BatchRejected(event) => spreading(&event.batch, "rejected"),
            Self::BatchWasted(event) => ending(&event.batch, "given to waste"),
            Self::BatchLeftWeighed(event) => ending(&event.batch, "weighed back"),
            Self::CellsBuilt(event) => event.cells.iter().map(|cell| touch(&cell.code, "built")).collect(),
            Self::CellWeighed(event) => spreading(&event.cell, "dose weighed"),
            Self::CellRetired(event) => ending(&event.cell, "retired"),
            Self::ReadingTaken(event) => ending(&event.cell, READ),
            Self::LogImported(event) => event
                .cells
                .iter()
                .map(|logged| Touch { spreads: false, ..touch(&logged.cell, "log taken in") })
                .collect(),
            // What is planned, and who looked at figures, changes nothing on the bench.
            Self::StudyPlanned(_) | Self::StudyAssigned(_) | Self::StudyLooked(_) => Vec::new(),
        }
    }

    /// The instrument, where one is named.
    pub fn instrument(&self) -> Option<&str> {
        let name = match self {
            Self::BatchWater(event) => event.instrument.as_deref(),
            Self::BatchMeasured(event) => event.instrument.as_deref(),
            Self::ReadingTaken(event) => event.instrument.as_deref(),
            Self::LogImported(event) => event.instrument.as_deref(),
            _ => None,
        };
        name.map(str::trim).filter(|name| !name.is_empty())
    }

    /// The balance, where one is named: its name without the data that stand behind it.
    pub fn balance(&self) -> Option<&str> {
        let Self::BatchStarted(event) = self else { return None };
        let text = event.plan.balance.as_ref()?.text.as_str();
        Some(text.split_once(" (").map_or(text, |(name, _)| name).trim())
    }
}

/// The words for a reading: it touches its cell's record and not the cell.
pub const READ: &str = "read";

fn touch(code: &Code, what: &'static str) -> Touch {
    Touch { code: code.clone(), what, spreads: true }
}

fn spreading(code: &Code, what: &'static str) -> Vec<Touch> {
    vec![touch(code, what)]
}

fn ending(code: &Code, what: &'static str) -> Vec<Touch> {
    vec![Touch { spreads: false, ..touch(code, what) }]
}
