//! A plan: a recipe at a size, in grams, with every correction kept. It is complete in itself, so that a
//! record can freeze it.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::correction::Correction;
use super::flag::Flag;
use super::limiting::Limiting;
use super::request::PlanRequest;
use super::supply::Supply;
use super::window::Window;
use crate::component::{Component, Composition};
use crate::quantity::{Amount, Budget, Density, Mass, MolarMass, Volume};

/// A recipe at a size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// What it was made from.
    pub request: PlanRequest,
    /// What to weigh, in the order of addition; added water last.
    pub lines: Vec<Line>,
    /// What the batch will be.
    pub composition: Composition,
    /// Mass in the flask.
    pub mass: Mass,
    /// Volume of the final solution, if its density is given.
    pub volume: Option<Volume>,
    /// Each ratio against the first part, as weighed and as rounded.
    pub ratios: Vec<RatioResult>,
    /// The largest relative expanded uncertainty (k = 2) of a ratio, taken off the tolerance as a guard.
    pub guard: f64,
    /// Which stock ends the batch, if stocks are stated.
    pub limiting: Option<Limiting>,
    /// Water that must go first, if the components bring more than the recipe allows.
    pub dry_first: Option<Mass>,
}

/// One component to weigh.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Line {
    /// The component.
    pub component: Arc<Component>,
    /// What it is in the recipe.
    pub kind: LineKind,
    /// What it is taken from.
    pub supply: Supply,
    /// Molar mass of the component as the recipe names it, as it was used.
    pub molar_mass: Option<MolarMass>,
    /// Its amount.
    pub amount: Option<Amount>,
    /// Every step from the anhydrous component to the mass.
    pub correction: Correction,
    /// What to weigh: the mass.
    pub weigh: Mass,
    /// What the balance shows for that mass, if buoyancy is corrected for.
    pub reading: Option<Mass>,
    /// The target on the balance's display, if a balance is stated.
    pub rounded: Option<Mass>,
    /// The volume of a liquid at the stated temperature, if its density is known there.
    pub volume: Option<LiquidVolume>,
    /// Standard uncertainty of the weighing.
    pub weighing_uncertainty: Option<Mass>,
    /// Relative standard uncertainty of the amount, with all its sources; sensitivities are relative.
    pub amount_budget: Budget,
    /// What may stand on the display.
    pub window: Option<Window>,
    /// What is wrong with this weighing.
    pub flags: Vec<Flag>,
}

/// What a line is in the recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LineKind {
    /// A part with its number in the ratio.
    Part {
        /// The number.
        ratio: f64,
    },
    /// An addition with its amount as typed.
    Addition {
        /// The amount.
        asked: String,
    },
    /// Water added to reach the target.
    Water,
}

/// A liquid by volume.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct LiquidVolume {
    /// The volume.
    pub volume: Volume,
    /// The density that it follows from.
    pub density: Density,
    /// Where that density comes from.
    pub source: String,
}

/// The ratio of one part to the first, in the unit of the recipe's basis.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RatioResult {
    /// The part.
    pub component: Arc<Component>,
    /// The first part.
    pub to: Arc<Component>,
    /// As planned.
    pub value: f64,
    /// As it results from the rounded masses; none if the first part rounds to nothing.
    pub rounded: Option<f64>,
    /// Relative budget: sensitivities are relative, so its result is u(r)/r.
    pub budget: Budget,
}

impl Plan {
    /// The line of a component.
    pub fn line(&self, id: &str) -> Option<&Line> {
        self.lines.iter().find(|line| line.component.id.as_str() == id)
    }

    /// What all targets add up to as the display shows them, rounded where a balance is stated.
    pub fn shown_mass(&self) -> Mass {
        self.lines.iter().map(Line::shown).sum()
    }

    /// True if the targets are what the display shows in air. All are, or none.
    pub fn is_corrected_for_buoyancy(&self) -> bool {
        self.lines.iter().any(|line| line.reading.is_some())
    }

    /// The lines of the ratio's parts, water of the ratio among them.
    pub fn parts(&self) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(|line| matches!(line.kind, LineKind::Part { .. }))
    }
}

impl Line {
    /// The number on the display that the window and the rounding are about.
    pub fn target(&self) -> Mass {
        self.reading.unwrap_or(self.weigh)
    }

    /// The target as it is to be weighed: rounded, if a balance is stated.
    pub fn shown(&self) -> Mass {
        self.rounded.unwrap_or_else(|| self.target())
    }

    /// The number in the ratio, if the line is a part.
    pub fn ratio(&self) -> Option<f64> {
        match self.kind {
            LineKind::Part { ratio } => Some(ratio),
            LineKind::Addition { .. } | LineKind::Water => None,
        }
    }
}

impl RatioResult {
    /// Standard uncertainty of the ratio.
    pub fn standard_uncertainty(&self) -> f64 {
        self.value * self.budget.standard_uncertainty()
    }
}
