//! What a component is taken from.

use serde::{Deserialize, Serialize};

use crate::component::{ComponentId, Quality};
use crate::quantity::{Density, Mass, Temperature, Typed};

/// One source of one component.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Supply {
    /// The component.
    pub component: ComponentId,
    /// What to call the bottle on a sheet; `None` if nothing was said about it.
    pub label: Option<String>,
    /// Its quality.
    pub quality: Quality,
    /// Density of the liquid in the bottle, if given.
    pub density: Option<BottleDensity>,
    /// How much there is, if stated.
    pub stock: Option<Typed<Mass>>,
}

/// The density of what is in the bottle, as given by a person.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BottleDensity {
    /// The density.
    pub value: Typed<Density>,
    /// Its temperature, if stated.
    pub at: Option<Typed<Temperature>>,
}

impl Supply {
    /// A source of which nothing is known: taken as pure, dry, unlimited.
    pub fn unspecified(component: ComponentId) -> Self {
        Self { component, label: None, quality: Quality::default(), density: None, stock: None }
    }
}
