//! The JSON of a cell and of a reading, and the facts under an answer that recorded something.

use serde_json::{Value, json};

use crate::record::Hash;
use crate::record::cell::Cell;
use crate::report::document::{Block, facts};
use crate::report::view::{cause_words, cell_state};

/// A cell for scripts.
pub(super) fn of_cell(cell: &Cell) -> Value {
    let contents: Vec<Value> = cell
        .contents
        .iter()
        .map(|content| {
            json!({
                "batch": content.batch.to_string(),
                "planned_g": content.planned_g,
                "weighed_g": content.weighed_g,
                "mass_g": content.mass_g(),
            })
        })
        .collect();
    let retired = cell.retired.as_ref();
    json!({
        "code": cell.code.to_string(),
        "design": cell.set.design.name,
        "sealed": cell.set.design.sealed,
        "position": cell.position,
        "block": cell.block,
        "set_entry": cell.set.entry,
        "seed": cell.set.seed,
        "deviations": cell.set.deviations,
        "operator": cell.set.operator,
        "permit": cell.set.permit,
        "built": cell.set.built.to_string(),
        "contents": contents,
        "state": cell_state(cell),
        "retired": retired.map(|(at, _, _)| at.to_string()),
        "cause": retired.map(|(_, cause, _)| cause_words(cause)),
        "note": retired.and_then(|(_, _, note)| note.clone()),
    })
}

/// Entry and short head, under what was recorded.
pub(super) fn entry_fact(head: &(u64, Hash)) -> Block {
    facts([("Entry", format!("{}, head {}", head.0, head.1.short()))])
}
