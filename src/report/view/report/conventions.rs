//! By which conventions the numbers of a report count: what holds for every report, how each metric was taken and compared, and
//! what the plans of the batches say.

use super::ReportView;
use crate::record::Code;
use crate::report::document::{Block, bullets, heading, muted, paragraph};
use crate::report::view::comparison::comparison_notes;
use crate::report::view::ranges::code_range;

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
    let plans = of_plans(view);
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

/// What the plans say, with the batches for which it holds where it does not hold for all.
fn of_plans(view: &ReportView<'_>) -> Vec<String> {
    let mut told: Vec<(&str, Vec<Code>)> = Vec::new();
    let mut planned = 0;
    for life in view.batches.iter().map(|batch| &batch.standing.life) {
        planned += usize::from(life.plan().is_some());
        for convention in life.plan().iter().flat_map(|plan| &plan.conventions) {
            match told.iter_mut().find(|(known, _)| known == convention) {
                Some((_, codes)) => codes.push(life.code.clone()),
                None => told.push((convention, vec![life.code.clone()])),
            }
        }
    }
    let words = |(convention, codes): (&str, Vec<Code>)| {
        if codes.len() == planned {
            convention.to_owned()
        } else {
            format!("{convention} ({})", code_range(&codes))
        }
    };
    told.into_iter().map(words).collect()
}
