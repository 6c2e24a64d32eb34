//! Every kind of entry, with the decoder of each version that was ever written.
//!
//! To change a payload's layout: keep its struct under another name, add the new one with the next version,
//! and decode the old version into the new struct. Old entries are never rewritten.

use serde::Serialize;
use serde::de::DeserializeOwned;

use super::batch;
use super::bottle;
use super::cell;
use super::change;
use super::code::Code;
use super::entry::Hash;
use super::log;
use super::reading;
use super::study;

/// What an entry records.
#[derive(Debug, Clone, PartialEq)]
pub enum Event {
    /// A book begins.
    Begun(change::Begun),
    /// An entry's values are replaced.
    Corrected(change::Corrected),
    /// An entry is withdrawn.
    Struck(change::Struck),
    /// A bottle came in.
    BottleReceived(bottle::Received),
    /// A bottle was opened.
    BottleOpened(bottle::Opened),
    /// A portion was dried.
    BottleDried(bottle::Dried),
    /// What is left was weighed.
    BottleWeighed(bottle::LeftWeighed),
    /// A bottle is gone.
    BottleDisposed(bottle::Disposed),
    /// A batch was begun.
    BatchStarted(Box<batch::Started>),
    /// A mass was put into a batch.
    BatchWeighed(Box<batch::Weighed>),
    /// Another batch was put into a batch.
    BatchAdded(batch::Added),
    /// Several batches became one.
    BatchBlended(batch::Blended),
    /// Making a batch is over.
    BatchFinished(batch::Finished),
    /// Water was measured.
    BatchWater(batch::WaterMeasured),
    /// Somebody looked at a batch.
    BatchAppearance(batch::AppearanceSeen),
    /// A property was measured.
    BatchMeasured(batch::PropertyMeasured),
    /// A batch meets its limits.
    BatchReleased(batch::Released),
    /// A batch is not to be used.
    BatchRejected(batch::Rejected),
    /// Some of a batch went to waste.
    BatchWasted(batch::Wasted),
    /// What is left of a batch was weighed.
    BatchLeftWeighed(batch::LeftWeighed),
    /// Cells were built.
    CellsBuilt(Box<cell::Built>),
    /// The real mass of a batch in a cell.
    CellWeighed(cell::CellWeighed),
    /// A cell ended.
    CellRetired(cell::Retired),
    /// A cell was read.
    ReadingTaken(reading::ReadingTaken),
    /// A log was taken in.
    LogImported(Box<log::LogImported>),
    /// A study was written down.
    StudyPlanned(Box<study::Planned>),
    /// Cells were taken into a study.
    StudyAssigned(study::Assigned),
    /// Somebody looked at a study before its planned end.
    StudyLooked(study::Looked),
}

/// An event as an entry stores it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Encoded {
    /// The kind.
    pub kind: &'static str,
    /// The version of the layout.
    pub version: u16,
    /// JSON in UTF-8.
    pub payload: Vec<u8>,
}

/// A payload that this program can't read.
#[derive(Debug, thiserror::Error)]
pub enum DecodeError {
    /// Written by a newer program.
    #[error("entries of kind {kind:?}, version {version}, are not known to this version of the program")]
    Unknown {
        /// The kind.
        kind: String,
        /// The version.
        version: u16,
    },
    /// Not what its kind and version say.
    #[error("the payload of {kind:?} can't be read: {error}")]
    Malformed {
        /// The kind.
        kind: String,
        /// What the reader of JSON says.
        error: serde_json::Error,
    },
}

/// Where an amount went.
#[derive(Debug, Clone, PartialEq)]
pub struct Flow {
    /// What was used.
    pub from: Code,
    /// What used it.
    pub to: Code,
    /// How much, in grams; `None` where nobody weighed it.
    pub grams: Option<f64>,
}

/// Kind, version, and how an event of it is made of its bytes.
macro_rules! kinds {
    ($(($kind:literal, $version:literal, $variant:ident)),+ $(,)?) => {
        impl Event {
            /// Every kind with its current version.
            pub const KINDS: &'static [(&'static str, u16)] = &[$(($kind, $version)),+];

            /// The name of its kind.
            pub fn kind(&self) -> &'static str {
                match self {
                    $(Self::$variant(_) => $kind,)+
                }
            }

            /// The bytes to store.
            ///
            /// # Errors
            /// If a number is not finite, which no quantity that was read from text is.
            pub fn encode(&self) -> Result<Encoded, serde_json::Error> {
                match self {
                    $(Self::$variant(payload) => encoded($kind, $version, payload),)+
                }
            }

            /// Reads an entry's payload.
            ///
            /// # Errors
            /// If the kind or version is unknown, or the payload is not what they say.
            pub fn decode(kind: &str, version: u16, payload: &[u8]) -> Result<Self, DecodeError> {
                match (kind, version) {
                    $(($kind, $version) => decoded(kind, payload).map(Self::$variant),)+
                    _ => Err(DecodeError::Unknown { kind: kind.to_owned(), version }),
                }
            }
        }
    };
}

kinds!(
    ("book.begun", 1, Begun),
    ("entry.corrected", 1, Corrected),
    ("entry.struck", 1, Struck),
    ("bottle.received", 1, BottleReceived),
    ("bottle.opened", 1, BottleOpened),
    ("bottle.dried", 1, BottleDried),
    ("bottle.weighed", 1, BottleWeighed),
    ("bottle.disposed", 1, BottleDisposed),
    ("batch.started", 1, BatchStarted),
    ("batch.weighed", 1, BatchWeighed),
    ("batch.added", 1, BatchAdded),
    ("batch.blended", 1, BatchBlended),
    ("batch.finished", 1, BatchFinished),
    ("batch.water", 1, BatchWater),
    ("batch.appearance", 1, BatchAppearance),
    ("batch.measured", 1, BatchMeasured),
    ("batch.released", 1, BatchReleased),
    ("batch.rejected", 1, BatchRejected),
    ("batch.wasted", 1, BatchWasted),
    ("batch.left_weighed", 1, BatchLeftWeighed),
    ("cell.built", 1, CellsBuilt),
    ("cell.weighed", 1, CellWeighed),
    ("cell.retired", 1, CellRetired),
    ("reading.taken", 1, ReadingTaken),
    ("log.imported", 1, LogImported),
    ("study.planned", 1, StudyPlanned),
    ("study.assigned", 1, StudyAssigned),
    ("study.looked", 1, StudyLooked),
);

fn encoded(kind: &'static str, version: u16, payload: &impl Serialize) -> Result<Encoded, serde_json::Error> {
    Ok(Encoded { kind, version, payload: serde_json::to_vec(payload)? })
}

fn decoded<T: DeserializeOwned>(kind: &str, payload: &[u8]) -> Result<T, DecodeError> {
    serde_json::from_slice(payload).map_err(|error| DecodeError::Malformed { kind: kind.to_owned(), error })
}

impl Event {
    /// Codes that exist because of this event.
    pub fn creates(&self) -> Vec<Code> {
        match self {
            Self::BottleReceived(event) => vec![event.code.clone()],
            Self::BottleDried(event) => vec![event.code.clone()],
            Self::BatchStarted(event) => vec![event.code.clone()],
            Self::BatchBlended(event) => vec![event.code.clone()],
            Self::CellsBuilt(event) => event.cells.iter().map(|cell| cell.code.clone()).collect(),
            Self::StudyPlanned(event) => vec![event.code.clone()],
            _ => Vec::new(),
        }
    }

    /// Codes that must exist for this event.
    pub fn uses(&self) -> Vec<Code> {
        match self {
            Self::Begun(_) | Self::Corrected(_) | Self::Struck(_) | Self::BottleReceived(_) => Vec::new(),
            Self::BottleDried(event) => vec![event.from.clone()],
            Self::BottleOpened(event) => vec![event.code.clone()],
            Self::BottleWeighed(event) => vec![event.code.clone()],
            Self::BottleDisposed(event) => vec![event.code.clone()],
            Self::BatchStarted(event) => {
                event.plan.lines.iter().filter_map(|line| line.bottle.clone()).collect()
            }
            Self::BatchWeighed(event) => {
                std::iter::once(event.batch.clone()).chain(event.from.clone()).collect()
            }
            Self::BatchAdded(event) => vec![event.batch.clone(), event.from.clone()],
            Self::BatchBlended(event) => event.from.iter().map(|part| part.batch.clone()).collect(),
            Self::BatchFinished(event) => vec![event.batch.clone()],
            Self::BatchWater(event) => vec![event.batch.clone()],
            Self::BatchAppearance(event) => vec![event.batch.clone()],
            Self::BatchMeasured(event) => vec![event.batch.clone()],
            Self::BatchReleased(event) => vec![event.batch.clone()],
            Self::BatchRejected(event) => vec![event.batch.clone()],
            Self::BatchWasted(event) => vec![event.batch.clone()],
            Self::BatchLeftWeighed(event) => vec![event.batch.clone()],
            Self::CellsBuilt(event) => event.uses.iter().map(|used| used.batch.clone()).collect(),
            Self::CellWeighed(event) => vec![event.cell.clone(), event.batch.clone()],
            Self::CellRetired(event) => vec![event.cell.clone()],
            Self::ReadingTaken(event) => vec![event.cell.clone()],
            Self::LogImported(event) => event.cells.iter().map(|logged| logged.cell.clone()).collect(),
            Self::StudyPlanned(event) => {
                event.electrolytes.iter().flat_map(|studied| studied.batches.clone()).collect()
            }
            Self::StudyAssigned(event) => {
                std::iter::once(event.study.clone()).chain(event.cells.iter().cloned()).collect()
            }
            Self::StudyLooked(event) => vec![event.study.clone()],
        }
    }

    /// What went from where to where. A cell's real mass replaces its planned dose, so that it is no flow of
    /// its own.
    pub fn flows(&self) -> Vec<Flow> {
        let flow = |from: &Code, to: &Code, mass: &crate::quantity::Typed<crate::quantity::Mass>| Flow {
            from: from.clone(),
            to: to.clone(),
            grams: Some(mass.value.get()),
        };
        match self {
            Self::BottleDried(event) => vec![flow(&event.from, &event.code, &event.taken)],
            Self::BatchWeighed(event) => {
                event.from.iter().map(|from| flow(from, &event.batch, &event.mass)).collect()
            }
            Self::BatchAdded(event) => vec![flow(&event.from, &event.batch, &event.mass)],
            Self::BatchBlended(event) => {
                event.from.iter().map(|part| flow(&part.batch, &event.code, &part.mass)).collect()
            }
            Self::CellsBuilt(event) => {
                let each = |cell: &cell::BuiltCell| {
                    let code = cell.code.clone();
                    event
                        .uses
                        .iter()
                        .map(move |used| flow(&used.batch, &code, &used.dose))
                        .collect::<Vec<_>>()
                };
                event.cells.iter().flat_map(each).collect()
            }
            _ => Vec::new(),
        }
    }

    /// Files of the book that this event names.
    pub fn files(&self) -> Vec<Hash> {
        match self {
            Self::BatchAppearance(event) => event.picture.into_iter().collect(),
            Self::LogImported(event) => vec![event.file],
            _ => Vec::new(),
        }
    }

    /// True for changes to other entries and for the beginning, which can be neither corrected nor struck
    /// like a record (a correction can be struck).
    pub fn is_about_the_book(&self) -> bool {
        matches!(self, Self::Begun(_) | Self::Corrected(_) | Self::Struck(_))
    }
}
