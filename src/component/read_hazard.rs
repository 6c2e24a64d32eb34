//! The hazard data of one component in a table file.

use super::hazard::{Hazard, HazardBasis};
use super::read::{Sources, source, word};
use crate::input::{Field, TableReader};

pub(super) fn hazard(reader: &TableReader<'_>, sources: &Sources) -> Option<Hazard> {
    let table = reader.table("hazard")?;
    let basis = table
        .required_string("basis")
        .and_then(|field| word(&table, field, HazardBasis::from_word, "harmonised, supplier, none-found"));
    let codes = codes(&table, "codes", "H");
    let euh = codes_of(&table, "euh", "EUH");
    let classes = table.strings("classes").into_iter().map(|field| field.value.to_owned()).collect();
    let text = |key| table.string(key).map(|field| field.value.to_owned());
    let hazard = Hazard {
        basis: basis.unwrap_or(HazardBasis::NoneFound),
        codes,
        euh,
        classes,
        index_no: text("index_no"),
        limits: text("limits"),
        ate_oral_mg_per_kg: table.number("ate_oral_mg_per_kg").map(|field| field.value),
        confidence: text("confidence"),
        note: text("note"),
        source: source(&table, "source", sources).unwrap_or_default(),
    };
    if basis == Some(HazardBasis::NoneFound) && !hazard.codes.is_empty() {
        let hint = "If a source gives these codes, the basis is supplier or harmonised.";
        table.fault(
            "basis_contradicts",
            "codes are given, but the basis says that none were found",
            table.span(),
            hint,
        );
    }
    table.finish();
    Some(hazard)
}

fn codes(table: &TableReader<'_>, key: &'static str, prefix: &str) -> Vec<String> {
    if !table.has(key) {
        table.fault(
            "missing_key",
            "the key \"codes\" is missing",
            table.span(),
            "Write codes = [] if the source gives none.",
        );
    }
    codes_of(table, key, prefix)
}

/// Checks the form of each code: prefix, three digits, and up to three letters ("H360FD").
fn codes_of(table: &TableReader<'_>, key: &'static str, prefix: &str) -> Vec<String> {
    let fits = |field: &Field<&str>| {
        let rest = field.value.strip_prefix(prefix).unwrap_or_default();
        let (digits, letters) = rest.split_at_checked(3).unwrap_or_default();
        let fits = digits.len() == 3
            && digits.bytes().all(|b| b.is_ascii_digit())
            && letters.len() <= 3
            && letters.bytes().all(|b| b.is_ascii_alphabetic());
        if !fits {
            let message = format!("{:?} is no code of the form {prefix}302", field.value);
            table.fault("bad_code", message, field.span.clone(), "Give each code as a text of its own.");
        }
        fits
    };
    table.strings(key).into_iter().filter(fits).map(|field| field.value.to_owned()).collect()
}
