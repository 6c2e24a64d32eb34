//! What is known of a component's classification, and on what basis.

use serde::{Deserialize, Serialize};

/// Where a classification comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HazardBasis {
    /// CLP Annex VI, Table 3.
    Harmonised,
    /// A supplier, a registrant or a compilation.
    Supplier,
    /// No source was seen. This says nothing about the substance.
    NoneFound,
}

/// A component's hazard data.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Hazard {
    /// The basis.
    pub basis: HazardBasis,
    /// H codes such as `H302`.
    pub codes: Vec<String>,
    /// EUH codes such as `EUH031`.
    pub euh: Vec<String>,
    /// Classes with categories as the source writes them.
    pub classes: Vec<String>,
    /// Index number in CLP Annex VI.
    pub index_no: Option<String>,
    /// Specific concentration limits, M factors and the like, as the source writes them.
    pub limits: Option<String>,
    /// Acute toxicity estimate for mixtures, oral, in mg per kg of body mass.
    pub ate_oral_mg_per_kg: Option<f64>,
    /// How far the source can be relied on, in its own words.
    pub confidence: Option<String>,
    /// What else must be known.
    pub note: Option<String>,
    /// The source.
    pub source: String,
}

impl HazardBasis {
    /// The word in a table file.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Harmonised => "harmonised",
            Self::Supplier => "supplier",
            Self::NoneFound => "none-found",
        }
    }

    /// From its word.
    pub fn from_word(word: &str) -> Option<Self> {
        [Self::Harmonised, Self::Supplier, Self::NoneFound].into_iter().find(|basis| basis.word() == word)
    }
}

impl Hazard {
    /// No data at all, for a component whose table says nothing.
    pub fn none_found(source: impl Into<String>) -> Self {
        Self {
            basis: HazardBasis::NoneFound,
            codes: Vec::new(),
            euh: Vec::new(),
            classes: Vec::new(),
            index_no: None,
            limits: None,
            ate_oral_mg_per_kg: None,
            confidence: None,
            note: None,
            source: source.into(),
        }
    }
}
