//! The ratio that given masses make, water counted from everywhere.

use super::targets::TargetLine;
use crate::component::ComponentId;
use crate::quantity::Mass;

/// What the ratio counts of each part, in moles or grams, if each line had its target's mass times its
/// factor; a line without a factor has that mass as it is.
pub(super) fn counted_parts(lines: &[TargetLine], factors: &[f64]) -> Vec<(ComponentId, f64)> {
    let factor = |place: usize| factors.get(place).copied().unwrap_or(1.0);
    let water = lines.iter().enumerate().map(|(place, line)| line.water * factor(place)).sum::<Mass>().get();
    let counted = |place: usize, line: &TargetLine| match line.is_water() {
        // The part is all water, whichever bottle it comes with; per gram it counts as added water does.
        true => water * (line.counted / line.mass.get()),
        false => line.counted * factor(place),
    };
    let parts = lines.iter().enumerate().filter(|(_, line)| line.ratio().is_some());
    parts.map(|(place, line)| (line.component.clone(), counted(place, line))).collect()
}
