//! Changes to what was recorded. The original stays.

use serde::{Deserialize, Serialize};

/// An entry's values were wrong; these are right.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Corrected {
    /// Sequence of the entry.
    pub entry: u64,
    /// Version of the payload below.
    pub version: u16,
    /// The whole payload as it should have been: JSON.
    pub payload: String,
    /// Why.
    pub reason: String,
    /// Why it stands although a bottle or batch then holds less than nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_spite: Option<String>,
}

/// An entry is withdrawn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Struck {
    /// Sequence of the entry.
    pub entry: u64,
    /// Why.
    pub reason: String,
    /// Why it stands although a bottle or batch then holds less than nothing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_spite: Option<String>,
}

/// A book begins.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Begun {
    /// Name of the laboratory.
    pub laboratory: String,
    /// Version of the program that began it.
    pub program: String,
}
