//! P statements, with the old codes that bottles and sheets still carry.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::statement::rows;

/// A precautionary statement or a combination of several.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Precaution {
    /// Its code, such as `P280` or `P305+P351+P338`.
    pub code: String,
    /// Its text; `…` and `[ ]` are to be filled in.
    pub text: String,
    /// General, prevention, response, storage or disposal.
    pub group: String,
    /// "current", or that the code was deleted.
    pub status: String,
    /// For a deleted code: the one to use instead, if there is one.
    pub replaced_by: Option<String>,
    /// The source.
    pub source: String,
}

static PRECAUTIONS: LazyLock<Vec<Precaution>> =
    LazyLock::new(|| rows(include_str!("../../data/statements/precaution.csv")));

/// All of them.
pub fn precautions() -> &'static [Precaution] {
    &PRECAUTIONS
}

/// The one of this code.
pub fn precaution(code: &str) -> Option<&'static Precaution> {
    precautions().iter().find(|precaution| precaution.code == code)
}

impl Precaution {
    /// True unless the code was deleted.
    pub fn is_current(&self) -> bool {
        self.status == "current"
    }

    /// The codes that it is made of; one for a simple code. A part in brackets, which may be left out, is
    /// among them.
    pub fn parts(&self) -> impl Iterator<Item = &str> {
        self.code.split(['+', '[', ']']).filter(|part| !part.is_empty())
    }
}
