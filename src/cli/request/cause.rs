//! Why a cell ended, as it is typed.

use crate::input::{Fault, Place, did_you_mean};
use crate::record::cell::Cause;

const CAUSES: [&str; 5] = ["leak", "short", "dry", "wrong-dose", "end-of-test"];

/// A cause by its word, or "other: …".
pub(in crate::cli) fn cause(origin: &str, text: &str) -> Result<Cause, Fault> {
    let trimmed = text.trim();
    let other = trimmed.strip_prefix("other:").map(str::trim).filter(|words| !words.is_empty());
    match (trimmed, other) {
        ("leak", _) => Ok(Cause::Leak),
        ("short", _) => Ok(Cause::Short),
        ("dry", _) => Ok(Cause::Dry),
        ("wrong-dose", _) => Ok(Cause::WrongDose),
        ("end-of-test", _) => Ok(Cause::EndOfTest),
        (_, Some(words)) => Ok(Cause::Other(words.to_owned())),
        _ => {
            let all = format!("The causes are {}, or \"other: …\" in words.", CAUSES.join(", "));
            let hint = did_you_mean(trimmed, CAUSES, &all);
            let place = Place::in_text(origin, text, 0..text.len());
            Err(Fault::new("unknown_cause", format!("{text:?} is no cause"), place).with_hint(hint))
        }
    }
}
