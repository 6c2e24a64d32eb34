//! The cells with their lots, and those that ended.

use super::ReportView;
use crate::cell::metric::CellRecord;
use crate::record::cell::Cell;
use crate::report::document::{Block, Table, bullets, column, heading, muted, paragraph};
use crate::report::view::amount::short;
use crate::report::view::cell::cell_state;
use crate::report::view::comparison::failure_counts;
use crate::report::view::event_words::cause_words;
use crate::report::view::moment::day;

pub(super) fn blocks(view: &ReportView<'_>) -> Vec<Block> {
    let mut blocks = vec![heading(1, "The cells and their lots"), shown(view).into()];
    blocks.push(paragraph(muted(
        "Order is the place in the random building order of the set; a dose that nobody weighed is the planned one.",
    )));
    let mut told: Vec<String> = Vec::new();
    for record in view.cells {
        let design = &record.cell.set.design;
        let fields = design.fields.iter().map(|(name, value)| format!("{name} {value}"));
        let words = format!("{}: {}", design.name, fields.collect::<Vec<_>>().join("; "));
        if !told.contains(&words) {
            told.push(words);
        }
        let deviations = record.cell.set.deviations.iter();
        for deviation in deviations.map(|words| format!("Other than the design: {words}")) {
            if !told.contains(&deviation) {
                told.push(deviation);
            }
        }
    }
    blocks.push(bullets(told).into());
    blocks
}

/// A row for each cell: the names of the lots stand above, in what was made.
fn shown(view: &ReportView<'_>) -> Table {
    let all = table(view);
    let kept: Vec<usize> = (0..all.columns().len()).filter(|at| *at != ELECTROLYTE).collect();
    let mut table = Table::new(kept.iter().map(|at| all.columns()[*at].clone()));
    all.rows().iter().for_each(|row| table.push(kept.iter().map(|at| row[*at].clone())));
    table
}

/// The place of the electrolyte among the columns.
const ELECTROLYTE: usize = 1;

/// A row for each cell with all that belongs to it.
pub(super) fn table(view: &ReportView<'_>) -> Table {
    let mut table = Table::new([
        column("Cell").key("cell"),
        column("Electrolyte").key("electrolyte"),
        column("Lot").key("batch"),
        column("Holds").key("holds"),
        column("Built").key("built"),
        column("Order").key("position").right(),
        column("Block").key("block"),
        column("Readings").key("readings").right(),
        column("State").key("state"),
    ]);
    for CellRecord { cell, electrolyte, batch, readings, .. } in view.cells {
        table.push([
            cell.code.to_string(),
            electrolyte.clone(),
            batch.clone(),
            holds(cell),
            day(cell.set.built, view.zone),
            cell.position.to_string(),
            cell.block.clone().unwrap_or_default(),
            readings.len().to_string(),
            cell_state(cell),
        ]);
    }
    table
}

fn holds(cell: &Cell) -> String {
    let content = |content: &crate::record::cell::CellContent| {
        let planned = if content.weighed_g.is_some() { "" } else { " planned" };
        format!("{} {} g{planned}", content.batch, short(content.mass_g(), 6))
    };
    cell.contents.iter().map(content).collect::<Vec<_>>().join(", ")
}

/// Every cell that ended, with its cause: a failure that vanishes would be a lie.
pub(super) fn ended(view: &ReportView<'_>) -> Vec<Block> {
    let mut table = Table::new([
        column("Cell").key("cell"),
        column("Electrolyte").key("electrolyte"),
        column("Lot").key("batch"),
        column("Ended").key("ended"),
        column("After").unit("d").key("age_d").right(),
        column("Cause").key("cause"),
        column("Seen").key("seen"),
    ]);
    let ended = view.cells.iter().filter_map(|record| Some((record, record.cell.retired.as_ref()?)));
    for (record, (at, cause, seen)) in ended {
        let age = at.duration_since(record.cell.set.built).as_secs_f64() / 86_400.0;
        table.push([
            record.cell.code.to_string(),
            record.electrolyte.clone(),
            record.batch.clone(),
            day(*at, view.zone),
            format!("{age:.0}"),
            cause_words(cause).to_owned(),
            seen.clone().unwrap_or_default(),
        ]);
    }
    let mut blocks = vec![heading(1, "Cells that ended")];
    if table.rows().is_empty() {
        blocks.push(paragraph("None."));
        return blocks;
    }
    blocks.push(table.into());
    let counted = view.metrics.iter().find_map(|metric| metric.comparison.as_ref());
    blocks.extend(counted.map(failure_counts).into_iter().flatten());
    blocks.push(paragraph(muted(
        "A cell is left out by a physical cause alone, never for its value; it is counted as a failure of its electrolyte. A \
         cell whose test was over has not failed.",
    )));
    blocks
}
