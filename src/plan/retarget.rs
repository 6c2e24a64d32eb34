//! After a real mass, the rest again: what to weigh now so that every statement of the recipe holds.
//! Nothing is ever taken out: the batch grows instead.

use serde::{Deserialize, Serialize};

use super::balance::on_step;
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
    /// How much larger that is than planned, as a factor; below 1 only by rounding or where a stock ends it.
    pub growth: f64,
    /// The ratio if nothing is corrected: weighed components as weighed, the others as planned.
    pub ratio_if_nothing_added: Vec<(ComponentId, f64)>,
    /// The largest relative deviation of that ratio from the recipe.
    pub deviation_if_nothing_added: f64,
    /// The ratio when all that is to be added is in.
    pub ratio_after: Vec<(ComponentId, f64)>,
    /// The largest relative deviation of that ratio: 0 unless a stock ends it or the balance rounds.
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
    /// The same as the display can show it, if a balance is stated; never more than there is.
    pub add_rounded: Option<Mass>,
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
        targets.lines.iter().map(|line| retargeted(targets, line, in_flask(line), growth)).collect();
    let after = factors_after(targets, &lines);
    let untouched: Vec<f64> = targets
        .lines
        .iter()
        .map(|line| in_flask(line).unwrap_or_else(|| targets.shown(line.target)) / line.target)
        .collect();
    let ratio_if_nothing_added = ratio(targets, &untouched);
    let (ratio_after, deviation_after) = ratio_after(targets, &lines);
    let batch: Mass = targets.lines.iter().zip(&after).map(|(line, factor)| line.mass * *factor).sum();
    Ok(Retarget {
        lines,
        batch,
        growth: batch / targets.mass(),
        deviation_if_nothing_added: deviation(targets, &ratio_if_nothing_added),
        ratio_if_nothing_added,
        deviation_after,
        ratio_after,
    })
}

fn retargeted(targets: &Targets, line: &TargetLine, weighed: Option<Mass>, growth: f64) -> RetargetLine {
    let target = line.target * growth;
    let needed = (target - weighed.unwrap_or(Mass::ZERO)).get();
    // The component that sets the growth may come out a rounding error away from its own mass.
    let needed = if needed <= 1e-12 * target.get() { 0.0 } else { needed };
    RetargetLine { planned: line.target, weighed, ..to_add(targets, line, Mass::new(needed)) }
}

/// What to add of `needed`, as far as there is any, and what is missing.
pub(super) fn to_add(targets: &Targets, line: &TargetLine, needed: Mass) -> RetargetLine {
    let stock = line.left.unwrap_or(Mass::new(f64::INFINITY));
    // The stock that ends the batch may come out a rounding error away from what is needed.
    let add = if stock < needed * (1.0 - 1e-12) { stock } else { needed };
    RetargetLine {
        component: line.component.clone(),
        planned: line.target,
        weighed: None,
        add,
        add_rounded: targets.step.map(|step| rounded_to_add(add, stock, step)),
        missing: needed - add,
    }
}

/// The last digit is not rounded up to more than there is.
fn rounded_to_add(add: Mass, stock: Mass, step: Mass) -> Mass {
    let rounded = on_step((add / step).round(), step);
    if stock < rounded { on_step((stock / step).floor(), step) } else { rounded }
}

impl RetargetLine {
    /// What to add now as the display can show it.
    pub fn to_add(&self) -> Mass {
        self.add_rounded.unwrap_or(self.add)
    }
}

/// What will be in of each line, over its target.
fn factors_after(targets: &Targets, lines: &[RetargetLine]) -> Vec<f64> {
    let factor = |(line, now): (&TargetLine, &RetargetLine)| {
        (now.weighed.unwrap_or(Mass::ZERO) + now.to_add()) / line.target
    };
    targets.lines.iter().zip(lines).map(factor).collect()
}

/// The ratio when all that is to be added is in, and its largest relative deviation from the recipe.
pub(super) fn ratio_after(targets: &Targets, lines: &[RetargetLine]) -> (Vec<(ComponentId, f64)>, f64) {
    let ratio = ratio(targets, &factors_after(targets, lines));
    let deviation = deviation(targets, &ratio);
    (ratio, deviation)
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
