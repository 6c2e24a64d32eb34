//! The other answer to a real mass: leave it, and say what ratio that makes.

use super::error::PlanError;
use super::plan_type::Plan;
use super::retarget::{Retarget, Weighed, retarget};
use crate::quantity::Mass;

/// What results if weighed components stay as they are and the others are weighed as planned.
pub fn accept(plan: &Plan, weighed: &[Weighed]) -> Result<Retarget, PlanError> {
    let mut answer = retarget(plan, weighed)?;
    for (line, planned) in answer.lines.iter_mut().zip(&plan.lines) {
        let stock = planned.supply.stock.as_ref().map_or(f64::INFINITY, |stock| stock.value.get());
        let open = if line.weighed.is_some() { 0.0 } else { planned.target().get() };
        line.add = Mass::new(open.min(stock));
        line.missing = Mass::new((open - stock).max(0.0));
    }
    let share = |(line, planned): (&super::retarget::RetargetLine, &super::plan_type::Line)| {
        planned.weigh * ((line.weighed.unwrap_or(Mass::ZERO) + line.add) / planned.target())
    };
    answer.batch = answer.lines.iter().zip(&plan.lines).map(share).sum();
    answer.growth = answer.batch / plan.mass;
    answer.ratio_after.clone_from(&answer.ratio_if_nothing_added);
    answer.deviation_after = answer.deviation_if_nothing_added;
    Ok(answer)
}
