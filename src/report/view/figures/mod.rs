//! What readings and logs of cells come to, on a screen.

mod discharge;
mod drift;
mod drift_chart;
mod resistance;
mod retention;

use jiff::tz::TimeZone;

use crate::cell::{FigureRules, Figures, Retention};
use crate::input::Warning;
use crate::report::document::{Block, Caution, Document, Table, heading, paragraph};

pub use drift::drift_blocks;
pub use resistance::resistance_blocks;

/// What is shown.
pub struct FiguresView<'v> {
    /// The zone of its days.
    pub zone: &'v TimeZone,
    /// Cell by cell.
    pub figures: &'v [Figures],
    /// The rules.
    pub rules: &'v FigureRules,
    /// Charge retention, if it was asked for.
    pub retention: Option<&'v Retention>,
    /// How long cells were stored, in words.
    pub storage: Option<&'v str>,
}

/// What to know beside the figures.
pub fn figures_warnings(view: &FiguresView<'_>) -> Vec<Warning> {
    let figures = || view.figures.iter();
    figures().flat_map(resistance::warnings).chain(figures().flat_map(discharge::warnings)).collect()
}

/// Resistances, drifts, discharges and retention, each in its own part.
pub fn figures_document(view: &FiguresView<'_>, warnings: &[Warning]) -> Document {
    let mut document = Document::new(title(view.figures));
    let parts: [(&str, Vec<Block>); 4] = [
        ("Internal resistance", resistance_blocks(view.figures, view.rules, view.zone)),
        ("Open-circuit voltage over time", drift_blocks(view.figures)),
        ("Discharge", discharge::blocks(view.figures)),
        ("Self-discharge: charge retention", retention::blocks(view.retention, view.storage)),
    ];
    let mut nothing = true;
    for (title, blocks) in parts {
        if !blocks.is_empty() {
            nothing = false;
            document.push(heading(1, title));
            document.extend(blocks);
        }
    }
    if nothing {
        document.push(paragraph(
            "Nothing to compute yet: read a cell with no load and on a load, again after weeks, or take in a log.",
        ));
    }
    document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    document
}

fn title(figures: &[Figures]) -> String {
    let cells: Vec<String> = figures.iter().filter_map(Figures::name).collect();
    match cells.as_slice() {
        [] => "Figures".to_owned(),
        [one] => format!("Figures of {one}"),
        [first, .., last] => format!("Figures of {} cells, {first} to {last}", cells.len()),
    }
}

/// The cell of a row; readings in no book have none.
fn cell_of(figures: &Figures) -> String {
    figures.name().unwrap_or_default()
}

/// A table without the columns in which nothing stands.
fn filled(table: &Table) -> Table {
    let holds = |at: &usize| table.rows().iter().any(|row| row.get(*at).is_some_and(|cell| !cell.is_blank()));
    let kept: Vec<usize> = (0..table.columns().len()).filter(holds).collect();
    let columns = kept.iter().map(|at| table.columns()[*at].clone());
    let mut filled = Table::new(columns).caption(table.caption_text().clone());
    for row in table.rows() {
        filled.push(kept.iter().map(|at| row[*at].clone()));
    }
    filled
}
