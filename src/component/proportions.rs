//! A mixture as asked for: ratio, additions, water.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::entry::Component;
use crate::quantity::{MassFraction, Molality, Molarity, Typed};

/// What the numbers of a ratio count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum RatioBasis {
    /// Moles.
    Mole,
    /// Grams of the pure component, for powders and cathode mixes.
    Mass,
}

/// One term of the ratio.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Part {
    /// The component.
    pub component: Arc<Component>,
    /// Its number in the ratio; above 0.
    pub ratio: f64,
}

/// How much of an addition, and per what.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AdditionAmount {
    /// Mass fraction of the final batch.
    MassFraction(Typed<MassFraction>),
    /// Moles per kilogram of dry acceptor and donor, water and salts not counted.
    Molality(Typed<Molality>),
    /// Moles per litre of final solution.
    Molarity(Typed<Molarity>),
}

/// What goes in after the liquid has formed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Addition {
    /// The component.
    pub component: Arc<Component>,
    /// How much.
    pub amount: AdditionAmount,
}

/// A mixture as asked for. All statements hold together in the final batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Proportions {
    /// What the ratio counts.
    pub basis: RatioBasis,
    /// The ratio: at least one part.
    pub parts: Vec<Part>,
    /// Salts and additives.
    pub additions: Vec<Addition>,
    /// Total water in the final batch, from everywhere.
    pub water: Option<Typed<MassFraction>>,
}

impl RatioBasis {
    /// The word in a recipe file.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mole => "mole",
            Self::Mass => "mass",
        }
    }
}

impl AdditionAmount {
    /// As typed.
    pub fn text(&self) -> &str {
        match self {
            Self::MassFraction(typed) => &typed.text,
            Self::Molality(typed) => &typed.text,
            Self::Molarity(typed) => &typed.text,
        }
    }
}

impl Proportions {
    /// Every component asked for, parts first.
    pub fn components(&self) -> impl Iterator<Item = &Arc<Component>> {
        let parts = self.parts.iter().map(|part| &part.component);
        parts.chain(self.additions.iter().map(|addition| &addition.component))
    }
}
