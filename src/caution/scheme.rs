//! The classification scheme whose texts are shown.

use serde::{Deserialize, Serialize};

/// A classification scheme. Every review names the one it used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Scheme {
    /// The UN's Globally Harmonized System, revision 11 (2025).
    #[default]
    Ghs,
    /// The EU's regulation (EC) No 1272/2008.
    Clp,
    /// The US Hazard Communication Standard, 29 CFR 1910.1200 (2024 text, on GHS revision 7).
    Hcs,
}

impl Scheme {
    /// All schemes.
    pub const ALL: [Self; 3] = [Self::Ghs, Self::Clp, Self::Hcs];

    /// Its word: "ghs", "clp" or "hcs".
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ghs => "ghs",
            Self::Clp => "clp",
            Self::Hcs => "hcs",
        }
    }

    /// Its name with its edition.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Ghs => "UN GHS Rev.11 (2025)",
            Self::Clp => "EU CLP, Regulation (EC) No 1272/2008",
            Self::Hcs => "US HCS, 29 CFR 1910.1200 (2024 text)",
        }
    }

    /// From its word.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|scheme| scheme.word() == word)
    }
}
