//! A recipe with its components resolved.

use serde::{Deserialize, Serialize};

use super::limit::Limit;
use super::procedure::Procedure;
use crate::component::Proportions;
use crate::quantity::{Density, Relative, Temperature, Typed};

/// What to make.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Recipe {
    /// Its name; a shorthand is its own name.
    pub name: String,
    /// The file's text or the shorthand, unchanged.
    pub text: String,
    /// Where the composition comes from.
    pub source: Option<String>,
    /// Anything the reader should know.
    pub note: Option<String>,
    /// Ratio, additions, water.
    pub proportions: Proportions,
    /// How far a ratio may be off, relative.
    pub ratio_tolerance: Option<Typed<Relative>>,
    /// Density of the final solution, for mol/L and for volumes.
    pub density: Option<SolutionDensity>,
    /// How to make it.
    pub procedure: Procedure,
    /// What a batch of it has to meet before it is released.
    #[serde(default)]
    pub limits: Vec<Limit>,
}

/// The density of a mixture, given and not estimated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SolutionDensity {
    /// The density.
    pub value: Typed<Density>,
    /// Its temperature.
    pub at: Option<Typed<Temperature>>,
    /// Who measured it.
    pub source: Option<String>,
}
