//! Everything that a plan is made from.

use serde::{Deserialize, Serialize};

use super::balance::{Balance, Weighing};
use super::correction::AirDensity;
use super::retarget::Weighed;
use super::size::Size;
use super::supply::Supply;
use crate::component::ComponentId;
use crate::quantity::{Mass, Relative, Temperature, Typed};
use crate::recipe::{Recipe, SolutionDensity};

/// A request, with every default already put in and marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PlanRequest {
    /// What to make.
    pub recipe: Recipe,
    /// How much.
    pub size: Size,
    /// What it is taken from; a component without a supply is taken as pure and dry.
    pub supplies: Vec<Supply>,
    /// The balance, if stated.
    pub balance: Option<Balance>,
    /// How the components are weighed.
    pub weighing: Weighing,
    /// How far a ratio may be off.
    pub tolerance: Tolerance,
    /// Temperature of liquids that are measured by volume.
    pub liquids_at: LiquidsAt,
    /// Density of the final solution; the request's own before the recipe's.
    pub density: Option<SolutionDensity>,
    /// Correct for air buoyancy.
    pub air: Option<AirDensity>,
    /// What is in the flask already; a stock is what is left beside it.
    pub weighed: Vec<Weighed>,
    /// Flag masses below the USP minimum weight.
    pub minimum_weight: bool,
}

/// A relative tolerance of the ratio and whether anybody stated it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Tolerance {
    /// The tolerance.
    pub value: Relative,
    /// False if it is the program's default.
    pub stated: bool,
}

/// The temperature of liquids and whether anybody stated it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LiquidsAt {
    /// The temperature.
    pub value: Temperature,
    /// As typed; `None` if it is the program's default.
    pub typed: Option<Typed<Temperature>>,
}

impl PlanRequest {
    /// The supply of a component.
    pub fn supply(&self, component: &ComponentId) -> Supply {
        let known = self.supplies.iter().find(|supply| supply.component == *component);
        known.cloned().unwrap_or_else(|| Supply::unspecified(component.clone()))
    }

    /// What is in the flask of a component.
    pub fn in_flask(&self, component: &ComponentId) -> Mass {
        let masses = self.weighed.iter().filter(|weighed| weighed.component == *component);
        masses.map(|weighed| weighed.mass.value).sum()
    }

    /// Density of the final solution in force.
    pub fn solution_density(&self) -> Option<&SolutionDensity> {
        self.density.as_ref().or(self.recipe.density.as_ref())
    }
}
