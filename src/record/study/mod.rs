//! A study: what is to be compared, written down before the first reading.
//!
//! Its date is that of its entry in the journal. What the work then did otherwise is found by comparing the records
//! with it ([`departures`]); nothing of that is stored, so that an entry that comes late is seen.

mod departure;
mod kept_to;
mod order;
mod size;

pub use departure::{Departure, Read};
pub use kept_to::{Asked, Records, departures};
pub use order::{ListedCell, build_list};
pub use size::{Size, SizeError};

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use serde::{Deserialize, Serialize};

use super::cell::{Cause, Cell, DueReading};
use super::code::Code;

/// What is to be compared.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Planned {
    /// Its code.
    pub code: Code,
    /// The question in words.
    pub question: String,
    /// What is compared with what, two or more.
    pub electrolytes: Vec<Studied>,
    /// The one value of each cell that is compared, in words that the comparison reads.
    pub metric: String,
    /// Cells of each electrolyte.
    pub per_electrolyte: u32,
    /// The blocks in which they are built, in order; each holds equally many of every electrolyte.
    pub blocks: Vec<String>,
    /// Seed of the build list.
    pub seed: u64,
    /// Days after building on which readings are due; empty where the cell design says all.
    pub schedule: Vec<DueReading>,
    /// The day of the comparison. A look before it is an early look.
    pub ends: Date,
    /// Physical causes for which a cell may be left out.
    pub causes: Vec<Cause>,
    /// The smallest difference that matters.
    pub smallest: Option<Size>,
    /// The spread between cells of one electrolyte that was expected.
    pub spread: Option<Size>,
    /// The electrolyte that all others are compared with; without it every pair is.
    pub baseline: Option<String>,
    /// What is assumed of the values.
    pub method: StudyMethod,
    /// Confidence of the limits, 0 to 1.
    pub confidence: f64,
    /// When.
    pub at: Timestamp,
}

/// One of the electrolytes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Studied {
    /// What it is called in the study.
    pub name: String,
    /// Every batch of this recipe belongs to it.
    pub recipe: Option<String>,
    /// These batches belong to it.
    pub batches: Vec<Code>,
}

/// What is assumed of the values.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StudyMethod {
    /// Means, variances may differ.
    Welch,
    /// Means, one variance.
    Classical,
    /// Order alone.
    Ranks,
}

impl StudyMethod {
    /// Its word in flags and files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Welch => "welch",
            Self::Classical => "classical",
            Self::Ranks => "ranks",
        }
    }
}

/// Cells were taken into a study.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Assigned {
    /// The study.
    pub study: Code,
    /// The cells.
    pub cells: Vec<Code>,
    /// When.
    pub at: Timestamp,
}

/// Somebody looked at what a study compares before its planned end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Looked {
    /// The study.
    pub study: Code,
    /// The command.
    pub command: String,
    /// How many of its cells had a value.
    pub with_value: u32,
    /// How many cells it had.
    pub of: u32,
    /// When.
    pub at: Timestamp,
}

/// A study as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Study {
    /// Sequence of the entry that wrote it.
    pub entry: u64,
    /// When that entry was written: the date of the study, whatever was corrected since.
    pub written: Timestamp,
    /// Who wrote it.
    pub author: String,
    /// What was planned, as it stands.
    pub planned: Planned,
    /// Its cells with the entry that took each in, in the order of the codes.
    pub cells: Vec<(Code, u64)>,
    /// Looks before the planned end, in order.
    pub looks: Vec<Look>,
}

/// One look.
#[derive(Debug, Clone, PartialEq)]
pub struct Look {
    /// Sequence of its entry.
    pub entry: u64,
    /// Who looked.
    pub author: String,
    /// What was recorded.
    pub looked: Looked,
}

impl Studied {
    /// True if a batch belongs to it; `recipe` is what the batch was made from.
    pub fn has(&self, batch: &Code, recipe: &str) -> bool {
        self.batches.contains(batch) || self.recipe.as_deref() == Some(recipe)
    }
}

impl Planned {
    /// The place of the electrolyte that a cell holds; `recipe` says what a batch was made from. `None` if it holds
    /// none of them, or more than one.
    pub fn electrolyte_of(&self, cell: &Cell, recipe: &dyn Fn(&Code) -> Option<String>) -> Option<usize> {
        let held = |studied: &Studied| {
            cell.contents.iter().any(|content| {
                studied.has(&content.batch, recipe(&content.batch).as_deref().unwrap_or_default())
            })
        };
        let mut places = (0..self.electrolytes.len()).filter(|&place| held(&self.electrolytes[place]));
        let first = places.next()?;
        places.next().is_none().then_some(first)
    }

    /// Whole days from a moment to the planned end; 0 on its day and after it.
    pub fn days_before_end(&self, at: Timestamp, zone: &TimeZone) -> u32 {
        let today = at.to_zoned_datetime(zone.clone()).date();
        let days = today.until(self.ends).map_or(0, |span| span.get_days());
        u32::try_from(days).unwrap_or(0)
    }

    /// Cells in each block of one electrolyte.
    pub fn per_block(&self) -> usize {
        self.per_electrolyte as usize / self.blocks.len().max(1)
    }
}
