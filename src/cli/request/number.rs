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
