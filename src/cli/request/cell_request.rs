//! What cells are built from, in which blocks, and from which seed, as flags say it.

use std::collections::BTreeSet;

use super::record::code;
use super::shelf::quantity;
use crate::input::{Fault, Faults, FlagValue, Place};
use crate::quantity::Mass;
use crate::record::cell::CellUse;

/// `E1=1.2g M1=0.4g`.
pub(in crate::cli) fn uses(flag: &str, text: &str) -> Result<Vec<CellUse>, Faults> {
    let value = FlagValue::parse_any(flag, text)?;
    let mut faults = Faults::none();
    if value.pairs.is_empty() || !value.name.is_empty() {
        let fault = Fault::new("no_mass", format!("{text:?} names no batch with its mass"), value.place());
        return Err(fault.with_hint(format!("Write it like {flag} \"E1=1.2g\".")).into());
    }
    let mut uses = Vec::new();
    for pair in &value.pairs {
        let batch = faults.collect(code(flag, &pair.key));
        let dose = faults.collect(quantity::<Mass>(flag, &pair.value));
        if dose.as_ref().is_some_and(|dose| dose.value <= Mass::ZERO) {
            let fault = Fault::new("no_dose", "a dose must be above 0", value.place_of(pair));
            faults.push(fault.with_hint("Write it like --use E1=1.2g."));
        }
        uses.extend(batch.zip(dose).map(|(batch, dose)| CellUse { batch, dose }));
    }
    faults.or(uses)
}

/// `day 2026-11-25 2026-11-26`: what the blocks are, then their names.
pub(in crate::cli) fn blocks(origin: &str, text: &str) -> Result<Vec<String>, Fault> {
    let mut words = text.split_whitespace();
    let what = words.next().filter(|what| matches!(*what, "day" | "operator"));
    let names: Vec<&str> = words.collect();
    let distinct: BTreeSet<&&str> = names.iter().collect();
    match what {
        Some(what) if !names.is_empty() && distinct.len() == names.len() => {
            Ok(names.iter().map(|name| format!("{what} {name}")).collect())
        }
        _ => {
            let place = Place::in_text(origin, text, 0..text.len());
            let fault = Fault::new("bad_blocks", format!("{text:?} names no blocks"), place);
            Err(fault.with_hint(
                "Write it like --blocks \"day 2026-11-25 2026-11-26\" or --blocks \"operator AB CD\".",
            ))
        }
    }
}
