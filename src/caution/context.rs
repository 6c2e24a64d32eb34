//! What is done with the materials, as the procedure, the cell design and the flags say.

use serde::{Deserialize, Serialize};

use super::scheme::Scheme;
use crate::quantity::{Temperature, TimeSpan};

/// From here on a mixture counts as heated; a warm room is not heating (common practice).
const HEATED_FROM: Temperature = Temperature::from_celsius(30.0);

/// What is done with the materials. The default says that nothing is known to be done.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Context {
    /// They are closed in: a sealed cell, a closed vial.
    pub sealed: bool,
    /// The highest temperature that they are heated to.
    pub heat: Option<Temperature>,
    /// They are heated, to a temperature that is not known.
    pub heated: bool,
    /// How long they are hot.
    pub time: Option<TimeSpan>,
    /// They are dried, evaporated or boiled down until no liquid is left.
    pub to_dryness: bool,
    /// They are ground or milled together.
    pub ground: bool,
    /// They meet in a cell, open or sealed.
    pub cell: bool,
    /// The short-circuit current of a cell is read, or leads are bare.
    pub short_circuit: bool,
    /// They are open to damp air.
    pub damp_air: bool,
    /// The pH of the mixture, if it was measured.
    pub ph: Option<f64>,
    /// The scheme whose statement texts are shown.
    pub scheme: Scheme,
    /// Leave out practice, storage and waste, which do not stand beside a plan.
    pub in_short: bool,
    /// Show every topic and point of practice, not only those for what is at hand.
    pub all_practice: bool,
}

/// A condition that a rule may ask for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Condition {
    /// Closed in.
    Sealed,
    /// Heated above room temperature.
    Heated,
    /// Heated, and nobody says to what temperature.
    HeatUnknown,
    /// Taken to dryness.
    ToDryness,
    /// Ground together.
    Ground,
    /// In a cell.
    Cell,
    /// Short-circuited.
    ShortCircuit,
    /// Open to damp air.
    DampAir,
}

impl Context {
    /// True if something is heated above room temperature.
    pub fn is_heated(&self) -> bool {
        self.heated || self.heat.is_some_and(|heat| HEATED_FROM <= heat)
    }

    /// True if the condition holds.
    pub fn holds(&self, condition: Condition) -> bool {
        match condition {
            Condition::Sealed => self.sealed,
            Condition::Heated => self.is_heated(),
            Condition::HeatUnknown => self.heated && self.heat.is_none(),
            Condition::ToDryness => self.to_dryness,
            Condition::Ground => self.ground,
            Condition::Cell => self.cell,
            Condition::ShortCircuit => self.short_circuit,
            Condition::DampAir => self.damp_air,
        }
    }
}
