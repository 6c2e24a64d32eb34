//! The label of a cell.

use jiff::tz::TimeZone;

use super::content::{AgainstUse, LabelContent};
use super::hazards::LabelHazards;
use crate::record::cell::{Cell, CellContent};
use crate::report::view::{cause_words, day, short};

/// What the sleeve of a cell bears. `who` built it.
pub fn cell_label(cell: &Cell, hazards: LabelHazards, who: &str, zone: &TimeZone) -> LabelContent {
    let set = &cell.set;
    let closure = if set.design.sealed { "sealed" } else { "vented" };
    let batches = cell.contents.iter().map(|content| content.batch.to_string()).collect::<Vec<_>>();
    let mut label =
        LabelContent::new(cell.code.to_string(), format!("{}; {}", batches.join(" "), set.design.name))
            .composition(cell.contents.iter().map(content).collect::<Vec<_>>().join(", "))
            .made("built", day(set.built, zone))
            .hazards(hazards)
            .permits(set.permit.as_ref())
            .who(set.operator.as_deref().unwrap_or(who));
    let block = cell.block.as_ref().map(|block| format!("block {block}"));
    let place = format!("number {} in the order", cell.position);
    let deviations = set.deviations.iter().cloned();
    let notes = [closure.to_owned(), place].into_iter().chain(block).chain(deviations);
    label = label.note(notes.collect::<Vec<_>>().join("; "));
    match &cell.retired {
        Some((at, cause, _)) => {
            let why = format!("{}, {}", cause_words(cause), day(*at, zone));
            label.against(AgainstUse::Retired, Some(why))
        }
        None => label,
    }
}

fn content(content: &CellContent) -> String {
    let planned = if content.weighed_g.is_some() { "" } else { " planned" };
    format!("{} {} g{planned}", content.batch, short(content.mass_g(), 6))
}
