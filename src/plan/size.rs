//! How large a batch is to be.

use serde::{Deserialize, Serialize};

use crate::quantity::{Amount, Mass, Relative, Typed, Volume};

/// The ways of stating a batch's size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", content = "value", rename_all = "snake_case")]
pub enum Size {
    /// Mass in the flask, as weighed, with water and impurities.
    Mass(Typed<Mass>),
    /// Mass of the pure, dry components, additions included.
    DryPure(Typed<Mass>),
    /// Mass of the pure, dry components of the ratio alone; additions and water come on top.
    DryParts(Typed<Mass>),
    /// Volume of the final solution, which needs its density.
    Volume(Typed<Volume>),
    /// Amount of ratio units: for 1:2 one unit is 1 mol and 2 mol.
    Amount(Typed<Amount>),
    /// For a number of cells.
    Cells {
        /// How many.
        cells: u32,
        /// Electrolyte for each.
        dose: Dose,
        /// What is made beyond that, relative.
        spare: Option<Typed<Relative>>,
    },
    /// The largest batch that the stock allows.
    Stock,
}

/// Electrolyte for one cell.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Dose {
    /// By mass.
    Mass(Typed<Mass>),
    /// By volume, which needs the density.
    Volume(Typed<Volume>),
}

impl Size {
    /// The name in JSON.
    pub const fn kind(&self) -> &'static str {
        match self {
            Self::Mass(_) => "mass",
            Self::DryPure(_) => "dry_pure",
            Self::DryParts(_) => "dry_parts",
            Self::Volume(_) => "volume",
            Self::Amount(_) => "amount",
            Self::Cells { .. } => "cells",
            Self::Stock => "stock",
        }
    }

    /// In words, with the numbers as typed.
    pub fn text(&self) -> String {
        match self {
            Self::Mass(typed) => format!("{} in the flask", typed.text),
            Self::DryPure(typed) => format!("{} of dry pure components", typed.text),
            Self::DryParts(typed) => format!("{} of dry acceptor and donor", typed.text),
            Self::Volume(typed) => format!("{} of final solution", typed.text),
            Self::Amount(typed) => format!("{} of ratio units", typed.text),
            Self::Cells { cells, dose, spare } => {
                let dose = match dose {
                    Dose::Mass(typed) => &typed.text,
                    Dose::Volume(typed) => &typed.text,
                };
                let spare =
                    spare.as_ref().map_or(String::new(), |spare| format!(" and {} spare", spare.text));
                format!("{cells} cells of {dose}{spare}")
            }
            Self::Stock => "the largest batch that the stock allows".to_owned(),
        }
    }

    /// True if the size can't be turned into a mass without the density of the final solution.
    pub fn needs_density(&self) -> bool {
        matches!(self, Self::Volume(_) | Self::Cells { dose: Dose::Volume(_), .. })
    }
}
