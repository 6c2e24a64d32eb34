//! How a mixture is made, as the recipe says.

use serde::{Deserialize, Serialize};

use crate::quantity::{Temperature, TimeSpan, Typed};

/// The procedure of a recipe; every field may be absent.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Procedure {
    /// What to dry before weighing, a line each.
    pub dry_first: Vec<String>,
    /// Temperature to heat to.
    pub heat: Option<Typed<Temperature>>,
    /// Time at that temperature.
    pub time: Option<Typed<TimeSpan>>,
    /// Gas over the mixture.
    pub atmosphere: Option<String>,
    /// What shows that it is done.
    pub end: Option<String>,
    /// What to do up to the heating, a line each.
    pub steps: Vec<String>,
    /// What to do or heed while it is hot, a line each.
    pub hot: Vec<String>,
    /// What to do when the end is reached, a line each.
    pub after: Vec<String>,
}

impl Procedure {
    /// True if the recipe says nothing.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
