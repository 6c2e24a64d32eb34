//! The ratio that given masses make, water counted from everywhere.

use super::plan_type::{Line, LineKind};
use crate::chemistry::water_molar_mass;
use crate::component::{ComponentId, RatioBasis};
use crate::quantity::Mass;

/// What the ratio counts of each part, in moles or grams, if each line had its mass times `factor(line)`.
pub(super) fn counted_parts(
    lines: &[Line],
    basis: RatioBasis,
    factor: impl Fn(&Line) -> f64,
) -> Vec<(ComponentId, f64)> {
    let water = total_water(lines, &factor);
    let counted = |line: &Line| match (basis, line.component.is_water(), line.amount) {
        (RatioBasis::Mole, true, _) => water / water_molar_mass().get(),
        (RatioBasis::Mass, true, _) => water,
        (RatioBasis::Mole, false, Some(amount)) => amount.get() * factor(line),
        (RatioBasis::Mole, false, None) | (RatioBasis::Mass, false, _) => {
            line.correction.as_asked.get() * factor(line)
        }
    };
    let parts = lines.iter().filter(|line| matches!(line.kind, LineKind::Part { .. }));
    parts.map(|line| (line.component.id.clone(), counted(line))).collect()
}

fn total_water(lines: &[Line], factor: &impl Fn(&Line) -> f64) -> f64 {
    let water = |line: &Line| {
        let mass = if line.component.is_water() { line.weigh } else { line.correction.water() };
        mass * factor(line)
    };
    lines.iter().map(water).sum::<Mass>().get()
}
