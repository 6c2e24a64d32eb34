//! What re-targeting needs of a plan, and nothing else: small enough to be frozen in a record and read back
//! years later, when recipe, table and atomic weights may have changed.

use serde::{Deserialize, Serialize};

use super::balance::on_step;
use super::plan_type::{Line, LineKind, Plan};
use super::request::Tolerance;
use crate::component::{ComponentId, RatioBasis};
use crate::quantity::Mass;

/// The targets of one batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Targets {
    /// What the ratio counts.
    pub basis: RatioBasis,
    /// How far a ratio may be off.
    pub tolerance: Tolerance,
    /// Step of the balance's display, if one is stated: what can be added is a whole number of steps.
    #[serde(default)]
    pub step: Option<Mass>,
    /// One for each line of the plan, in its order.
    pub lines: Vec<TargetLine>,
}

/// The target of one component.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct TargetLine {
    /// The component.
    pub component: ComponentId,
    /// What it is in the recipe, a part with its number.
    pub kind: LineKind,
    /// What the display shows when the target is met.
    pub target: Mass,
    /// The mass in the flask then: more than `target` shows where buoyancy is corrected for.
    pub mass: Mass,
    /// What the ratio counts of that mass: moles, or grams of the component as the recipe names it.
    pub counted: f64,
    /// Water that comes with that mass; for water itself all of it.
    pub water: Mass,
    /// What is left to add from; `None` if nothing is said about it.
    pub left: Option<Mass>,
}

impl Plan {
    /// The targets of this plan.
    pub fn targets(&self) -> Targets {
        let basis = self.request.recipe.proportions.basis;
        let lines = self.lines.iter().map(|line| TargetLine::of(line, basis)).collect();
        let step = self.request.balance.as_ref().map(|balance| balance.readability);
        Targets { basis, tolerance: self.request.tolerance, step, lines }
    }
}

impl Targets {
    /// The line of a component.
    pub fn line(&self, id: &str) -> Option<&TargetLine> {
        self.lines.iter().find(|line| line.component.as_str() == id)
    }

    /// The lines of the ratio's parts, water of the ratio among them.
    pub fn parts(&self) -> impl Iterator<Item = &TargetLine> {
        self.lines.iter().filter(|line| line.ratio().is_some())
    }

    /// A mass as the balance's display shows it; the mass itself without a balance.
    pub(super) fn shown(&self, mass: Mass) -> Mass {
        self.step.map_or(mass, |step| on_step((mass / step).round(), step))
    }

    /// Mass in the flask when every target is met.
    pub fn mass(&self) -> Mass {
        self.lines.iter().map(|line| line.mass).sum()
    }
}

impl TargetLine {
    /// The target of a plan's line.
    pub(super) fn of(line: &Line, basis: RatioBasis) -> Self {
        let counted = match (basis, line.amount) {
            (RatioBasis::Mole, Some(amount)) => amount.get(),
            (RatioBasis::Mole, None) | (RatioBasis::Mass, _) => line.correction.as_asked.get(),
        };
        let is_water = line.component.is_water();
        Self {
            component: line.component.id.clone(),
            kind: line.kind.clone(),
            target: line.target(),
            mass: line.weigh,
            counted,
            water: if is_water { line.weigh } else { line.correction.water() },
            left: line.supply.stock.as_ref().map(|stock| stock.value),
        }
    }

    /// The number in the ratio, if the line is a part.
    pub fn ratio(&self) -> Option<f64> {
        match self.kind {
            LineKind::Part { ratio } => Some(ratio),
            LineKind::Addition { .. } | LineKind::Water => None,
        }
    }

    /// True if the line is water itself.
    pub fn is_water(&self) -> bool {
        self.component.as_str() == crate::component::Component::WATER
    }
}
