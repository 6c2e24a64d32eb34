//! Whole numbers as people type them.

use crate::input::{Fault, Place};

/// A whole number from 0.
pub(in crate::cli) fn whole_number(flag: &str, text: &str) -> Result<u64, Fault> {
    text.trim().parse().map_err(|_| {
        let place = Place::in_text(flag, text, 0..text.len());
        Fault::new("bad_number", format!("{text:?} is no whole number from 0"), place)
            .with_hint(format!("Write it like {flag} 7."))
    })
}

/// The number of an entry of the book.
pub(in crate::cli) fn entry_number(text: &str) -> Result<u64, Fault> {
    text.trim().parse().map_err(|_| {
        let place = Place::in_text("ENTRY", text, 0..text.len());
        let fault = Fault::new("bad_number", format!("{text:?} is no number of an entry"), place);
        fault.with_hint("Entries are counted from 1; see them with: meltbook history, or those of a code with: meltbook history CODE.")
    })
}
