//! How grave an alert is, and whether there is a way past it.

use serde::{Deserialize, Serialize};

/// How grave an alert is; the later, the graver.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// Needs a precaution.
    Warn,
    /// Not without a named written procedure and a responsible person, or never.
    Block,
}

/// What lets the work go on in spite of an alert; the later, the less.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WayPast {
    /// The alert does not stop the work.
    NotNeeded,
    /// A named written procedure and the person responsible.
    ProcedureAndPerson,
    /// Nothing: this is never done.
    None,
}

impl Severity {
    /// Its word: "note", "warn" or "block".
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warn => "warn",
            Self::Block => "block",
        }
    }

    /// The way past an alert of this severity unless its rule says otherwise.
    pub(super) const fn usual_way_past(self) -> WayPast {
        match self {
            Self::Note | Self::Warn => WayPast::NotNeeded,
            Self::Block => WayPast::ProcedureAndPerson,
        }
    }
}

impl WayPast {
    /// In words, as they stand under an alert.
    pub const fn words(self) -> &'static str {
        match self {
            Self::NotNeeded => "no written procedure is asked for",
            Self::ProcedureAndPerson => "only with a named written procedure and the person responsible",
            Self::None => "never: there is no way past this",
        }
    }
}
