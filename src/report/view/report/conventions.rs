//! By which conventions the numbers of a report count.

use super::ReportView;
use crate::report::document::{Block, bullets, heading};

/// What holds for every report.
const ALWAYS: [&str; 5] = [
    "Days count from the building of each cell. Readings within a day of a short circuit of the same cell are left out.",
    "One value of each cell is compared; repeated readings of a cell are never pooled. Cells of one batch are repeats of that batch.",
    "A cell is left out by a physical cause that is recorded, never for its value; failures are counted.",
    "Internal resistance is named by its method; figures of different methods are not one quantity.",
    "Masses are what the balance showed unless buoyancy is named; a corrected entry counts as corrected, and the history has both.",
];

pub(super) fn blocks(view: &ReportView<'_>) -> Vec<Block> {
    let mut told: Vec<String> = ALWAYS.map(str::to_owned).to_vec();
    for batch in &view.batches {
        for convention in batch.standing.life.plan().iter().flat_map(|plan| &plan.conventions) {
            if !told.contains(convention) {
                told.push(convention.clone());
            }
        }
    }
    vec![heading(1, "Conventions"), bullets(told).into()]
}
