//! What the planned number of cells can find, in one sentence.

use crate::report::view::amount::{percent, short};

/// The arithmetic behind the sentence; sizes in the unit of the spread.
#[derive(Debug, Clone, PartialEq)]
pub struct StudyPower {
    /// Cells of each electrolyte.
    pub per_electrolyte: usize,
    /// How many electrolytes.
    pub electrolytes: usize,
    /// True if one of them has several batches: then the batch is the unit.
    pub batched: bool,
    /// The spread that was expected.
    pub sd: f64,
    /// The unit of all sizes.
    pub unit: String,
    /// The power that is aimed for.
    pub power: f64,
    /// One less the confidence.
    pub alpha: f64,
    /// The least difference that is found with that power.
    pub detectable: f64,
    /// The smallest difference that matters, with the power for it, and how many cells of each would have the power
    /// that is aimed for.
    pub smallest: Option<(f64, f64, Option<usize>)>,
}

impl StudyPower {
    /// True if the smallest difference that matters is found less often than aimed for.
    pub fn falls_short(&self) -> bool {
        self.smallest.is_some_and(|(_, reached, _)| reached < self.power)
    }

    /// What can be found.
    pub fn sentence(&self) -> String {
        let size = |value: f64| format!("{} {}", short(value, 3), self.unit).trim_end().to_owned();
        let batches = if self.batched {
            " That counts cells; with several batches of an electrolyte its batches are what is compared, and fewer, so \
             that less is found."
        } else {
            ""
        };
        format!(
            "With {} cells of each of {} electrolytes and a spread of {}, a true difference of {} between two of them is \
             found with probability {} (alpha {}).{batches}",
            self.per_electrolyte,
            self.electrolytes,
            size(self.sd),
            size(self.detectable),
            percent(self.power, 3),
            short(self.alpha, 3),
        )
    }

    /// What can't be found although it matters; `None` if it can, or nobody said what matters.
    pub fn shortfall(&self) -> Option<String> {
        let (smallest, reached, needed) = self.smallest.filter(|_| self.falls_short())?;
        let size = format!("{} {}", short(smallest, 3), self.unit).trim_end().to_owned();
        let more = needed.map_or_else(
            || "no number of cells that anybody builds would do".to_owned(),
            |needed| format!("{needed} cells of each would do"),
        );
        Some(format!(
            "a difference of {size} matters, and if it is there it is found with probability {} only: {more}",
            percent(reached, 2)
        ))
    }
}
