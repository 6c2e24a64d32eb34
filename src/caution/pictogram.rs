//! Pictograms, and which of them stand beside each other.

use std::sync::LazyLock;

use serde::Deserialize;

use super::statement::{Statement, rows};

/// A pictogram by its code.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Pictogram {
    /// `GHS01` to `GHS09`, the numbering of CLP Annex V.
    pub code: String,
    /// What it shows.
    pub symbol: String,
    /// The classes it stands for.
    pub used_for: String,
    /// The source.
    pub source: String,
}

static PICTOGRAMS: LazyLock<Vec<Pictogram>> =
    LazyLock::new(|| rows(include_str!("../../data/statements/pictograms.csv")));

/// Classes for which the exclamation mark gives way to the corrosion symbol.
const IRRITATION: [&str; 4] = ["H315", "H319", "H315+H319", "H320"];

/// The pictogram of this code.
pub fn pictogram(code: &str) -> Option<&'static Pictogram> {
    PICTOGRAMS.iter().find(|pictogram| pictogram.code == code)
}

/// The pictograms of some statements, each once in the order of the codes, by the precedence of CLP
/// Article 26(1): the exclamation mark (GHS07) gives way to the skull (GHS06), for irritation to
/// corrosion (GHS05), and for skin sensitisation and irritation to the health hazard of respiratory
/// sensitisation (H334). The optional omissions of that article are not made.
pub fn shown_pictograms(statements: &[Statement]) -> Vec<String> {
    let has = |code: &str| statements.iter().any(|statement| statement.pictograms.iter().any(|p| p == code));
    let skull = has("GHS06");
    let corrosion = has("GHS05");
    let respiratory = statements.iter().any(|statement| statement.code == "H334");
    let gives_way = |statement: &Statement| {
        let irritation = IRRITATION.contains(&statement.code.as_str());
        skull || (irritation && (corrosion || respiratory)) || (respiratory && statement.code == "H317")
    };
    let mut shown: Vec<String> = statements
        .iter()
        .flat_map(|statement| statement.pictograms.iter().map(move |code| (statement, code)))
        .filter(|(statement, code)| *code != "GHS07" || !gives_way(statement))
        .map(|(_, code)| code.clone())
        .collect();
    shown.sort();
    shown.dedup();
    shown
}
