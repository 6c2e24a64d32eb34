//! The other answer to a real mass: leave it, and say what ratio that makes.

use super::error::PlanError;
use super::retarget::{Retarget, RetargetLine, Weighed, ratio_after, retarget, to_add};
use super::targets::{TargetLine, Targets};
use crate::quantity::Mass;

/// What results if weighed components stay as they are and the others are weighed as planned.
pub fn accept(targets: &Targets, weighed: &[Weighed]) -> Result<Retarget, PlanError> {
    let mut answer = retarget(targets, weighed)?;
    for (line, planned) in answer.lines.iter_mut().zip(&targets.lines) {
        let open = if line.weighed.is_some() { Mass::ZERO } else { planned.target };
        *line = RetargetLine { weighed: line.weighed, ..to_add(targets, planned, open) };
    }
    let share = |(line, planned): (&RetargetLine, &TargetLine)| {
        planned.mass * ((line.weighed.unwrap_or(Mass::ZERO) + line.to_add()) / planned.target)
    };
    answer.batch = answer.lines.iter().zip(&targets.lines).map(share).sum();
    answer.growth = answer.batch / targets.mass();
    (answer.ratio_after, answer.deviation_after) = ratio_after(targets, &answer.lines);
    Ok(answer)
}
