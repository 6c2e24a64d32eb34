//! H and EUH statements: their texts in two schemes, class, category, pictogram and signal word.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use super::scheme::Scheme;
use crate::component::Hazard;

/// A statement as shown for a component.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Statement {
    /// Its code, such as `H302` or `EUH031`.
    pub code: String,
    /// Its text.
    pub text: String,
    /// Where the text comes from: "GHS Rev.11", "CLP" or "none".
    pub text_from: &'static str,
    /// Hazard class; none for EUH statements.
    pub class: Option<String>,
    /// Category in the class, as the standard groups it.
    pub category: Option<String>,
    /// Pictograms of class and category, before any rule of precedence.
    pub pictograms: Vec<String>,
    /// Signal word of class and category.
    pub signal_word: Option<String>,
    /// False if the code is not part of the scheme asked for.
    pub in_scheme: bool,
    /// Source of the text.
    pub source: String,
}

/// A row of `data/statements/hazard.csv`: one class and category of a code.
#[derive(Debug, Clone, Deserialize)]
struct HazardRow {
    code: String,
    text_ghs_rev11: String,
    text_clp: String,
    hazard_class: String,
    category: String,
    pictogram: String,
    signal_word: String,
    status_ghs_rev11: String,
    in_clp: String,
    in_hcs: String,
    source: String,
}

/// A row of `data/statements/supplemental.csv`.
#[derive(Debug, Clone, Deserialize)]
struct SupplementalRow {
    code: String,
    text_clp: String,
    signal_word: String,
    source: String,
}

static HAZARD: LazyLock<Vec<HazardRow>> =
    LazyLock::new(|| rows(include_str!("../../data/statements/hazard.csv")));
static SUPPLEMENTAL: LazyLock<Vec<SupplementalRow>> =
    LazyLock::new(|| rows(include_str!("../../data/statements/supplemental.csv")));

/// The rows of an embedded table. A malformed one is left out; the tests count them.
pub(super) fn rows<T: for<'de> Deserialize<'de>>(text: &str) -> Vec<T> {
    csv::Reader::from_reader(text.as_bytes()).into_deserialize().filter_map(Result::ok).collect()
}

/// The H codes with a text, one for each class and category.
pub fn hazard_codes() -> impl Iterator<Item = &'static str> {
    HAZARD.iter().map(|row| row.code.as_str())
}

/// Whether a code is current in GHS Rev.11; `None` for a code that is not in the table.
pub(super) fn hazard_status(code: &str) -> Option<&'static str> {
    HAZARD.iter().find(|row| row.code == code).map(|row| row.status_ghs_rev11.as_str())
}

/// The EUH codes with a text.
pub fn supplemental_codes() -> impl Iterator<Item = &'static str> {
    SUPPLEMENTAL.iter().map(|row| row.code.as_str())
}

/// The statement of a code in a scheme. `hazard` tells which category of the class is meant, where the
/// code stands for several. A code that no table knows comes with words instead of its text.
pub fn statement(code: &str, hazard: &Hazard, scheme: Scheme) -> Statement {
    let hazard_rows: Vec<&HazardRow> = HAZARD.iter().filter(|row| row.code == code).collect();
    if let Some(row) = meant(&hazard_rows, hazard) {
        return row.statement(scheme);
    }
    match SUPPLEMENTAL.iter().find(|row| row.code == code) {
        Some(row) => row.statement(scheme),
        None => unknown(code),
    }
}

/// The row whose category the component's classes name; else the first, which is the gravest.
fn meant<'r>(rows: &[&'r HazardRow], hazard: &Hazard) -> Option<&'r HazardRow> {
    let named = |row: &&&HazardRow| hazard.classes.iter().any(|class| row.is_class(class));
    rows.iter().find(named).or_else(|| rows.first()).copied()
}

fn unknown(code: &str) -> Statement {
    Statement {
        code: code.to_owned(),
        text: "no text is known for this code: read it in the safety data sheet".to_owned(),
        text_from: "none",
        class: None,
        category: None,
        pictograms: Vec::new(),
        signal_word: None,
        in_scheme: false,
        source: "none".to_owned(),
    }
}

/// Danger and Warning never stand together: Danger wins (GHS 1.4.10.5.3, CLP Article 20).
pub(super) fn gravest_signal_word(statements: &[Statement]) -> Option<String> {
    let has = |word: &str| statements.iter().any(|s| s.signal_word.as_deref() == Some(word));
    ["Danger", "Warning"].into_iter().find(|word| has(word)).map(str::to_owned)
}

impl HazardRow {
    fn statement(&self, scheme: Scheme) -> Statement {
        let ghs = (self.text_ghs_rev11.as_str(), "GHS Rev.11");
        let clp = (self.text_clp.as_str(), "CLP");
        // HCS follows an older GHS, whose wording is that of the GHS column for all codes it shares.
        let (first, second) = if scheme == Scheme::Clp { (clp, ghs) } else { (ghs, clp) };
        let (text, text_from) = if first.0.is_empty() { second } else { first };
        Statement {
            code: self.code.clone(),
            text: text.to_owned(),
            text_from,
            class: filled(&self.hazard_class),
            category: filled(&self.category),
            pictograms: self.pictogram.split('+').filter_map(filled).collect(),
            signal_word: filled(&self.signal_word),
            in_scheme: match scheme {
                Scheme::Ghs => self.status_ghs_rev11 == "current",
                Scheme::Clp => self.in_clp == "yes",
                Scheme::Hcs => self.in_hcs == "yes",
            },
            source: self.source.clone(),
        }
    }

    /// True if a class in the short form of CLP ("Ox. Sol. 2") is of this row's class and category.
    fn is_class(&self, short: &str) -> bool {
        const SHORT_NAMES: [(&str, &str); 9] = [
            ("Explosives", "Expl."),
            ("Desensitized explosives", "Desen. Expl."),
            ("Flammable gases", "Flam. Gas"),
            ("Aerosols", "Aerosol"),
            ("Flammable solids", "Flam. Sol."),
            ("Substances which in contact with water", "Water-react."),
            ("Oxidizing liquids; oxidizing solids", "Ox. "),
            ("Acute toxicity", "Acute Tox."),
            ("Self-reactive substances", "Self-react."),
        ];
        let same_class = SHORT_NAMES
            .iter()
            .any(|(class, name)| self.hazard_class.starts_with(class) && short.starts_with(name));
        let category = self.category.rsplit(' ').next().unwrap_or_default();
        same_class && short.split_whitespace().any(|word| word == category)
    }
}

impl SupplementalRow {
    fn statement(&self, scheme: Scheme) -> Statement {
        Statement {
            code: self.code.clone(),
            text: self.text_clp.clone(),
            text_from: "CLP",
            class: None,
            category: None,
            pictograms: Vec::new(),
            signal_word: filled(&self.signal_word),
            in_scheme: scheme == Scheme::Clp,
            source: self.source.clone(),
        }
    }
}

fn filled(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}
