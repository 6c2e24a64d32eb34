//! After a real mass, the rest again: what to weigh now so that every statement of the recipe holds.
//! Nothing is ever taken out: the batch grows instead.

use serde::{Deserialize, Serialize};

use super::error::PlanError;
use super::ratio::counted_parts;
use super::targets::{TargetLine, Targets};
use crate::component::ComponentId;
use crate::quantity::{Mass, Typed};

/// One component as really weighed, by the balance's display.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Weighed {
    /// The component.
    pub component: ComponentId,
    /// The net mass on the display.
    pub mass: Typed<Mass>,
}

/// What to do now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Retarget {
    /// Each line of the plan.
    pub lines: Vec<RetargetLine>,
    /// Mass in the flask when all that is to be added is in.
    pub batch: Mass,
    /// How much larger that is than planned, as a factor; never below 1 unless a stock ends it.
    pub growth: f64,
    /// The ratio if nothing is corrected: weighed components as weighed, the others as planned.
    pub ratio_if_nothing_added: Vec<(ComponentId, f64)>,
    /// The largest relative deviation of that ratio from the recipe.
    pub deviation_if_nothing_added: f64,
    /// The ratio when all that is to be added is in.
    pub ratio_after: Vec<(ComponentId, f64)>,
    /// The largest relative deviation of that ratio: 0 unless a stock ends it.
    pub deviation_after: f64,
}

/// One component after the real masses.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RetargetLine {
    /// The component.
    pub component: ComponentId,
    /// What was planned, on the display.
    pub planned: Mass,
    /// What was weighed, all portions together; `None` if nothing yet.
    pub weighed: Option<Mass>,
    /// What to add now.
    pub add: Mass,
    /// What a stock lacks of that.
    pub missing: Mass,
}

/// Re-targets a batch after `weighed`, which may name a component more than once. What the targets say is
/// left of a stock is what there is to add from now.
pub fn retarget(targets: &Targets, weighed: &[Weighed]) -> Result<Retarget, PlanError> {
    for entry in weighed {
        if targets.lines.iter().all(|line| line.component != entry.component) {
            return Err(PlanError::NotInRecipe { name: entry.component.to_string() });
        }
    }
    let in_flask = |line: &TargetLine| {
        let mut masses =
            weighed.iter().filter(|w| w.component == line.component).map(|w| w.mass.value).peekable();
        masses.peek().is_some().then(|| masses.sum::<Mass>())
    };
    // Every statement of a recipe scales with the batch, so the batch that fits the largest overshoot
    // fits all of them.
    let overshoot = targets.lines.iter().filter_map(|line| Some(in_flask(line)? / line.target));
    let growth = overshoot.fold(1.0, f64::max);
    let lines: Vec<RetargetLine> =
        targets.lines.iter().map(|line| retargeted(line, in_flask(line), growth)).collect();
    let after: Vec<f64> =
        targets.lines.iter().zip(&lines).map(|(line, now)| factor_after(line, now)).collect();
    let untouched: Vec<f64> =
        targets.lines.iter().map(|line| in_flask(line).map_or(1.0, |mass| mass / line.target)).collect();
    let ratio_if_nothing_added = ratio(targets, &untouched);
    let ratio_after = ratio(targets, &after);
    let batch: Mass = targets.lines.iter().zip(&after).map(|(line, factor)| line.mass * *factor).sum();
    Ok(Retarget {
        lines,
        batch,
        growth: batch / targets.mass(),
        deviation_if_nothing_added: deviation(targets, &ratio_if_nothing_added),
        ratio_if_nothing_added,
        deviation_after: deviation(targets, &ratio_after),
        ratio_after,
    })
}

fn retargeted(line: &TargetLine, weighed: Option<Mass>, growth: f64) -> RetargetLine {
    let target = line.target * growth;
    let needed = (target - weighed.unwrap_or(Mass::ZERO)).get();
    // The component that sets the growth may come out a rounding error away from its own mass.
    let needed = if needed <= 1e-12 * target.get() { 0.0 } else { needed };
    let stock = line.left.map_or(f64::INFINITY, Mass::get);
    RetargetLine {
        component: line.component.clone(),
        planned: line.target,
        weighed,
        add: Mass::new(needed.min(stock)),
        missing: Mass::new((needed - stock).max(0.0)),
    }
}

fn factor_after(line: &TargetLine, now: &RetargetLine) -> f64 {
    (now.weighed.unwrap_or(Mass::ZERO) + now.add) / line.target
}

/// The ratio in the recipe's own numbers, the first part at its own.
fn ratio(targets: &Targets, factors: &[f64]) -> Vec<(ComponentId, f64)> {
    let counted = counted_parts(&targets.lines, factors);
    let first = counted.first().map_or(1.0, |(_, counted)| *counted);
    let own = targets.parts().next().and_then(TargetLine::ratio).unwrap_or(1.0);
    counted.into_iter().map(|(component, counted)| (component, counted / first * own)).collect()
}

fn deviation(targets: &Targets, ratio: &[(ComponentId, f64)]) -> f64 {
    let asked = targets.parts().filter_map(TargetLine::ratio);
    asked.zip(ratio).map(|(asked, (_, made))| (made / asked - 1.0).abs()).fold(0.0, f64::max)
}
