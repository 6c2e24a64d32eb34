//! What happens to cells.

use std::sync::Arc;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::batch::Permit;
use super::code::Code;
use crate::quantity::{Mass, Typed};

/// A set of cells was built in one go.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Built {
    /// The cells in the order in which they are built.
    pub cells: Vec<BuiltCell>,
    /// The design, frozen.
    pub design: FrozenDesign,
    /// What goes into each cell.
    pub uses: Vec<CellUse>,
    /// Seed of the random order.
    pub seed: u64,
    /// What the set differs in from its design, a sentence each.
    pub deviations: Vec<String>,
    /// Who builds them, if not the author.
    pub operator: Option<String>,
    /// What lets it go on in spite of alerts that block.
    pub permit: Option<Permit>,
    /// Why, in spite of a limit.
    pub because: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// One cell of a set.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BuiltCell {
    /// Its code.
    pub code: Code,
    /// Its place in the building order, from 1.
    pub position: u32,
    /// Its block (a day, an operator), if blocks were asked for.
    pub block: Option<String>,
}

/// What each cell takes of one batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CellUse {
    /// The batch: electrolyte or cathode mix.
    pub batch: Code,
    /// Planned for each cell.
    pub dose: Typed<Mass>,
}

/// How cells are built, complete in itself.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FrozenDesign {
    /// Its name.
    pub name: String,
    /// The file's own text.
    pub text: String,
    /// Sealed cells hold pressure.
    pub sealed: bool,
    /// What is done and how, by field, as the file says.
    pub fields: Vec<(String, String)>,
    /// Days after building on which readings are due, with what is read.
    pub schedule: Vec<DueReading>,
}

/// A reading that a design asks for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DueReading {
    /// Days after building.
    pub day: f64,
    /// What is read: open-circuit, under-load, short-circuit.
    pub what: String,
}

/// The real mass of a batch in one cell.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CellWeighed {
    /// The cell.
    pub cell: Code,
    /// The batch.
    pub batch: Code,
    /// What really went in, instead of the planned dose.
    pub mass: Typed<Mass>,
    /// Why, in spite of a limit.
    pub because: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// A cell's end, with its physical cause.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Retired {
    /// The cell.
    pub cell: Code,
    /// Leak, short, dry, wrong dose, end of test, or another cause in words.
    pub cause: Cause,
    /// What was seen.
    pub note: Option<String>,
    /// When.
    pub at: Timestamp,
}

/// Why a cell ended.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cause {
    /// It leaked.
    Leak,
    /// It was shorted inside.
    Short,
    /// It dried out.
    Dry,
    /// It got a wrong dose.
    WrongDose,
    /// The test was over; the cell had not failed.
    EndOfTest,
    /// Another physical cause, in words.
    Other(String),
}

/// Words that judge a value, or say nothing at all, and not what happened to the cell.
const NO_CAUSE: [&str; 77] = [
    "a",
    "above",
    "an",
    "bad",
    "below",
    "current",
    "data",
    "doubtful",
    "exclude",
    "excluded",
    "far",
    "fine",
    "from",
    "good",
    "high",
    "higher",
    "highest",
    "implausible",
    "is",
    "it",
    "ja",
    "keep",
    "left",
    "look",
    "looked",
    "looks",
    "low",
    "lower",
    "lowest",
    "mean",
    "measurement",
    "n",
    "nein",
    "no",
    "none",
    "not",
    "ocv",
    "odd",
    "off",
    "ok",
    "okay",
    "omit",
    "omitted",
    "other",
    "others",
    "out",
    "outlier",
    "point",
    "poor",
    "reading",
    "reason",
    "remove",
    "removed",
    "resistance",
    "seemed",
    "seems",
    "strange",
    "suspect",
    "suspicious",
    "than",
    "the",
    "too",
    "true",
    "unknown",
    "unusual",
    "use",
    "used",
    "value",
    "very",
    "voltage",
    "was",
    "weak",
    "weird",
    "wrong",
    "x",
    "y",
    "yes",
];

/// True for words that can say what happened to a cell: any word beyond judgements of its value such as "outlier" or
/// "voltage too low", and not a bare number.
pub fn is_physical_cause(words: &str) -> bool {
    let folded = words.to_lowercase();
    let mut named =
        folded.split(|c: char| !c.is_alphanumeric()).filter(|word| word.contains(char::is_alphabetic));
    named.any(|word| !NO_CAUSE.contains(&word))
}

impl Cause {
    /// True if something happened to the cell: for that alone it may be left out of a comparison.
    pub fn is_physical(&self) -> bool {
        match self {
            Self::EndOfTest => false,
            Self::Other(words) => is_physical_cause(words),
            Self::Leak | Self::Short | Self::Dry | Self::WrongDose => true,
        }
    }

    /// True if it was so from the building on, whenever it was found.
    pub fn is_from_building(&self) -> bool {
        *self == Self::WrongDose
    }
}

/// One cell as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    /// Its code.
    pub code: Code,
    /// Its place in the building order.
    pub position: u32,
    /// Its block.
    pub block: Option<String>,
    /// The set that it was built in.
    pub set: Arc<CellSet>,
    /// What is in it.
    pub contents: Vec<CellContent>,
    /// When and why it ended, and what was seen.
    pub retired: Option<(Timestamp, Cause, Option<String>)>,
}

/// What the cells of one entry share.
#[derive(Debug, Clone, PartialEq)]
pub struct CellSet {
    /// Sequence of the entry.
    pub entry: u64,
    /// The design, frozen.
    pub design: FrozenDesign,
    /// Seed of the order.
    pub seed: u64,
    /// What differs from the design.
    pub deviations: Vec<String>,
    /// Who built them, if not the author.
    pub operator: Option<String>,
    /// The procedure and the person responsible, where alerts block.
    pub permit: Option<Permit>,
    /// When.
    pub built: Timestamp,
}

/// How much of one batch is in a cell.
#[derive(Debug, Clone, PartialEq)]
pub struct CellContent {
    /// The batch.
    pub batch: Code,
    /// Planned, in grams.
    pub planned_g: f64,
    /// Weighed, in grams.
    pub weighed_g: Option<f64>,
}

impl CellContent {
    /// Weighed, or else planned.
    pub fn mass_g(&self) -> f64 {
        self.weighed_g.unwrap_or(self.planned_g)
    }
}
