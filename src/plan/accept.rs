//! The other answer to a real mass: leave it, and say what ratio that makes.

use super::error::PlanError;
use super::retarget::{Retarget, Weighed, retarget};
use super::targets::Targets;
use crate::quantity::Mass;

/// What results if weighed components stay as they are and the others are weighed as planned.
pub fn accept(targets: &Targets, weighed: &[Weighed]) -> Result<Retarget, PlanError> {
    let mut answer = retarget(targets, weighed)?;
    for (line, planned) in answer.lines.iter_mut().zip(&targets.lines) {
        let stock = planned.left.map_or(f64::INFINITY, Mass::get);
        let open = if line.weighed.is_some() { 0.0 } else { planned.target.get() };
        line.add = Mass::new(open.min(stock));
        line.missing = Mass::new((open - stock).max(0.0));
    }
    let share = |(line, planned): (&super::retarget::RetargetLine, &super::targets::TargetLine)| {
        planned.mass * ((line.weighed.unwrap_or(Mass::ZERO) + line.add) / planned.target)
    };
    answer.batch = answer.lines.iter().zip(&targets.lines).map(share).sum();
    answer.growth = answer.batch / targets.mass();
    answer.ratio_after.clone_from(&answer.ratio_if_nothing_added);
    answer.deviation_after = answer.deviation_if_nothing_added;
    Ok(answer)
}
