//! The cautions of every batch and of what meets in every cell, at the end of the report: each said once, with what it holds for.

use super::{Meeting, ReportView, ReportedBatch, deeper};
use crate::record::Code;
use crate::report::document::{Block, heading};
use crate::report::view::cautions::cautions_on_sheet;
use crate::report::view::ranges::code_range;

pub(super) fn of_each(view: &ReportView<'_>) -> Vec<Block> {
    let mut blocks = vec![heading(1, "Cautions for each batch, and for what meets in cells")];
    for (batches, cautions) in of_batches(&view.batches) {
        let mut names: Vec<&str> = batches.iter().map(|batch| batch.standing.life.name.as_str()).collect();
        names.dedup();
        let codes: Vec<Code> = batches.iter().map(|batch| batch.standing.life.code.clone()).collect();
        blocks.push(heading(2, format!("{} {}", code_range(&codes), names.join("; "))));
        blocks.extend(deeper(&cautions, 2));
    }
    for (meetings, cautions) in in_cells(view.meetings) {
        blocks.push(heading(2, which_cells(&meetings, view.meetings.len())));
        blocks.extend(deeper(&cautions, 2));
    }
    blocks
}

/// Batches of which all the same is to be said, in the order of their first.
fn of_batches<'v>(batches: &'v [ReportedBatch<'v>]) -> Vec<(Vec<&'v ReportedBatch<'v>>, Vec<Block>)> {
    let mut told: Vec<(Vec<&ReportedBatch<'_>>, Vec<Block>)> = Vec::new();
    for batch in batches {
        let cautions = cautions_on_sheet(batch.review);
        match told.iter_mut().find(|(_, known)| *known == cautions) {
            Some((alike, _)) => alike.push(batch),
            None => told.push((vec![batch], cautions)),
        }
    }
    told
}

/// Each caution with the sets of cells that it holds for; those that hold for the same sets stand together, what holds for most first.
fn in_cells(meetings: &[Meeting]) -> Vec<(Vec<&Meeting>, Vec<Block>)> {
    let mut held: Vec<(Block, Vec<usize>)> = Vec::new();
    for (place, meeting) in meetings.iter().enumerate() {
        for caution in cautions_on_sheet(&meeting.review) {
            match held.iter_mut().find(|(known, _)| *known == caution) {
                Some((_, places)) => places.push(place),
                None => held.push((caution, vec![place])),
            }
        }
    }
    let mut told: Vec<(Vec<usize>, Vec<Block>)> = Vec::new();
    for (caution, places) in held {
        match told.iter_mut().find(|(known, _)| *known == places) {
            Some((_, cautions)) => cautions.push(caution),
            None => told.push((places, vec![caution])),
        }
    }
    // A stable sort: sets with as many cells stay in the order of the book.
    told.sort_by_key(|(places, _)| std::cmp::Reverse(places.len()));
    let with_meetings = |(places, cautions): (Vec<usize>, Vec<Block>)| {
        (places.into_iter().map(|place| &meetings[place]).collect(), cautions)
    };
    told.into_iter().map(with_meetings).collect()
}

fn which_cells(meetings: &[&Meeting], all: usize) -> String {
    let cells: Vec<Code> = meetings.iter().flat_map(|meeting| meeting.cells.clone()).collect();
    let mut batches: Vec<Code> = meetings.iter().flat_map(|meeting| meeting.batches.clone()).collect();
    batches.sort();
    batches.dedup();
    let mut designs: Vec<&str> = meetings.iter().map(|meeting| meeting.design.as_str()).collect();
    designs.sort_unstable();
    designs.dedup();
    let which = if meetings.len() == all && 1 < all { "In all cells" } else { "In the cells" };
    format!("{which} {}: {} in {}", code_range(&cells), code_range(&batches), designs.join(", "))
}
