//! By which conventions the numbers of a report count: what holds for every report, how each metric was taken and compared, and
//! what the plans of the batches say.

use super::ReportView;
use crate::report::document::{Block, bullets, heading, muted, paragraph};
use crate::report::view::comparison::comparison_notes;

/// What holds for every report.
const ALWAYS: [&str; 4] = [
    "Days count from the building of each cell.",
    "One value of each cell is compared; repeated readings of a cell are never pooled.",
    "Internal resistance is named by its method; figures of different methods are not one quantity.",
    "Masses are what the balance showed unless buoyancy is named; a corrected entry counts as corrected, and the history has both.",
];

pub(super) fn blocks(view: &ReportView<'_>) -> Vec<Block> {
    let mut blocks = vec![heading(1, "Conventions"), heading(2, "Cells and their comparison")];
    blocks.push(bullets(ALWAYS.map(str::to_owned).into_iter().chain(of_metrics(view))).into());
    blocks.push(paragraph(muted(
        "A small p says that a difference of this size would be rare if there were none; it does not say how large or how important \
         the difference is: the interval does. A large p does not show that two are equal. A value that stands out is a reason to \
         look at the cell, not to drop it.",
    )));
    let mut plans: Vec<String> = Vec::new();
    for batch in &view.batches {
        for convention in batch.standing.life.plan().iter().flat_map(|plan| &plan.conventions) {
            if !plans.contains(convention) {
                plans.push(convention.clone());
            }
        }
    }
    if !plans.is_empty() {
        blocks.extend([heading(2, "Weighing"), bullets(plans).into()]);
    }
    blocks
}

/// The rules and notes of all metrics; what does not hold for each of them is said with the metric's name.
fn of_metrics(view: &ReportView<'_>) -> Vec<String> {
    let notes: Vec<(&str, Vec<String>)> = view
        .metrics
        .iter()
        .map(|metric| {
            let own = match &metric.comparison {
                // They begin with the rule of the metric.
                Some(comparison) => comparison_notes(comparison),
                None => metric.summary.rule.to_vec(),
            };
            (metric.summary.what, own)
        })
        .collect();
    let mut told: Vec<String> = Vec::new();
    for (what, own) in &notes {
        for note in own {
            let everywhere = notes.iter().all(|(_, other)| other.contains(note));
            let words = if everywhere { note.clone() } else { format!("For the {what}: {note}") };
            if !told.contains(&words) {
                told.push(words);
            }
        }
    }
    told
}
