//! A line of the history: an entry with what later entries say of it.

use jiff::{SignedDuration, Timestamp};

use super::code::Code;
use super::entry::Hash;
use super::event::Event;

/// An entry counts as late if it was written so long after what it records (common practice: a notebook is
/// written up on the day of the work).
pub const LATE_AFTER: SignedDuration = SignedDuration::from_hours(24);

/// One entry of the history.
#[derive(Debug, Clone, PartialEq)]
pub struct HistoryLine {
    /// Its sequence.
    pub sequence: u64,
    /// When it was written, RFC 3339.
    pub time: String,
    /// By whom.
    pub author: String,
    /// The kind.
    pub kind: String,
    /// The codes that it is about, each once.
    pub codes: Vec<Code>,
    /// What it records, as it was written.
    pub event: Event,
    /// The payload as it was written.
    pub payload: String,
    /// Its hash.
    pub hash: Hash,
    /// What later entries that stand say of it, in their order.
    pub changes: Vec<ChangeOf>,
}

/// What a later entry says of an earlier one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangeOf {
    /// Sequence of the later entry.
    pub sequence: u64,
    /// "corrected" or "struck".
    pub what: String,
    /// Why.
    pub reason: String,
}

impl HistoryLine {
    /// When it was written.
    pub fn written(&self) -> Option<Timestamp> {
        self.time.parse().ok()
    }

    /// How late it was written, if that is more than [`LATE_AFTER`].
    pub fn late_by(&self) -> Option<SignedDuration> {
        let late = self.written()?.duration_since(self.event.happened()?);
        (LATE_AFTER < late).then_some(late)
    }

    /// True if it was struck.
    pub fn is_struck(&self) -> bool {
        self.changes.iter().any(|change| change.what == "struck")
    }
}
