//! Why a plan can't be made.

use crate::quantity::Mass;

/// A rule that a request breaks.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum PlanError {
    /// Something per litre, with no density.
    #[error("{what} needs the density of the final solution, and none is estimated")]
    DensityNeeded {
        /// What needs it.
        what: String,
        /// True if that is the size of the batch, false if it is an addition.
        by_size: bool,
    },
    /// A size of zero.
    #[error("the batch size must be above 0")]
    EmptyBatch,
    /// Amounts of something without moles.
    #[error("a mass ratio has no ratio units in moles")]
    AmountOfMassRatio,
    /// The largest batch of an unlimited stock.
    #[error("no stock is stated for any component of the recipe")]
    NoStock,
    /// Additions that leave no room for the rest.
    #[error("the additions, as these bottles hold them, take up the whole batch")]
    NoRoom,
    /// Molality of nothing.
    #[error("mol/kg counts on dry acceptor and donor, and the recipe has none")]
    NoSolvent,
    /// A component weighed that the recipe does not have.
    #[error("{name} is not in the recipe")]
    NotInRecipe {
        /// The component.
        name: String,
    },
    /// A density that makes air heavier than the sample.
    #[error("an air density of {air} g/mL is not one of air")]
    BadAir {
        /// As given, in g/mL.
        air: f64,
    },
    /// A density of no liquid or solid.
    #[error("a density of {density} g/mL is not one of {name}")]
    BadDensity {
        /// The component.
        name: String,
        /// As given, in g/mL.
        density: f64,
    },
    /// A tolerance that no mass fulfils.
    #[error("the ratio tolerance must be above 0 %")]
    NoTolerance,
    /// A dry size of water alone.
    #[error("the recipe has nothing dry to size it by")]
    NothingDry,
    /// A stock of nothing.
    #[error("the stock of {name} is {stock}, which allows no batch")]
    EmptyStock {
        /// The component.
        name: String,
        /// What there is.
        stock: Mass,
    },
}

impl PlanError {
    /// The stable name.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::DensityNeeded { .. } => "density_needed",
            Self::EmptyBatch => "empty_batch",
            Self::AmountOfMassRatio => "amount_of_mass_ratio",
            Self::NoStock => "no_stock",
            Self::NoRoom => "no_room",
            Self::NoSolvent => "no_solvent",
            Self::NotInRecipe { .. } => "not_in_recipe",
            Self::BadAir { .. } => "bad_air_density",
            Self::BadDensity { .. } => "bad_density",
            Self::NoTolerance => "no_tolerance",
            Self::NothingDry => "nothing_dry",
            Self::EmptyStock { .. } => "empty_stock",
        }
    }

    /// The way out.
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::DensityNeeded { .. } => "Give it with --density \"1.205 g/mL at 25 °C\", or in the recipe.",
            Self::EmptyBatch => "Give a size such as --mass \"50 g\".",
            Self::AmountOfMassRatio => "Size it with --mass or --dry-pure.",
            Self::NoStock => "Say what there is, as in --have \"ChCl 12.4g\".",
            Self::NoRoom => "Lower the additions or use drier and purer bottles.",
            Self::NoSolvent => "Give the addition as wt% or mol/L.",
            Self::NotInRecipe { .. } => "Check the name, or change the recipe.",
            Self::BadAir { .. } => "Air at a bench is near --air-density \"1.2 kg/m3\".",
            Self::BadDensity { .. } => "Check number and unit, as in 1.11 g/mL.",
            Self::NoTolerance => "Give a tolerance such as 1 %.",
            Self::NothingDry => "Size it with --mass.",
            Self::EmptyStock { .. } => "Leave the component out or get more of it.",
        }
    }
}
