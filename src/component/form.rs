//! The form in which a component stands in a bottle: anhydrous, or a hydrate.

use serde::{Deserialize, Serialize};

use super::entry::Component;
use super::table::ComponentTable;
use crate::chemistry::Formula;

/// A form, by the crystal water that it holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Form {
    /// Moles of crystal water per mole of the anhydrous substance.
    pub crystal_water: f64,
    /// As typed.
    pub name: String,
}

/// Systematic hydrate names (IUPAC multiplying prefixes).
const HYDRATES: [(&str, f64); 14] = [
    ("anhydrous", 0.0),
    ("hemihydrate", 0.5),
    ("monohydrate", 1.0),
    ("sesquihydrate", 1.5),
    ("dihydrate", 2.0),
    ("trihydrate", 3.0),
    ("tetrahydrate", 4.0),
    ("pentahydrate", 5.0),
    ("hexahydrate", 6.0),
    ("heptahydrate", 7.0),
    ("octahydrate", 8.0),
    ("nonahydrate", 9.0),
    ("decahydrate", 10.0),
    ("dodecahydrate", 12.0),
];

impl Form {
    /// The form that `text` names for `component`: a hydrate's name ("heptahydrate"), a count ("7H2O",
    /// "7-hydrate"), a hydrate of the table by any of its names, or a formula of the hydrate.
    ///
    /// The error says the rule that the text breaks.
    pub fn resolve(text: &str, component: &Component, table: &ComponentTable) -> Result<Self, String> {
        let text = text.trim();
        let water = word(text)
            .or_else(|| count(text))
            .or_else(|| entry(text, component, table))
            .or_else(|| formula(text, component))
            .ok_or_else(|| format!("{text:?} is no hydrate of {}", component.name))?;
        let own = component.crystal_water();
        if 0.0 < own && water != own {
            return Err(format!(
                "{} is asked for as a hydrate with {own} water, not with {water}",
                component.name
            ));
        }
        Ok(Self { crystal_water: water, name: text.to_owned() })
    }
}

fn word(text: &str) -> Option<f64> {
    let folded = text.to_lowercase();
    HYDRATES.iter().find(|(name, _)| *name == folded).map(|(_, water)| *water)
}

/// "7H2O", "·7H2O", "7-hydrate", "7 hydrate".
fn count(text: &str) -> Option<f64> {
    let bare = text.trim_start_matches(['·', '.', '*', ' ']).to_lowercase().replace('₂', "2");
    let number = bare.strip_suffix("h2o").or_else(|| bare.strip_suffix("hydrate"))?;
    let number = number.trim_end_matches(['-', ' ']);
    if number.is_empty() {
        return None;
    }
    number.parse::<f64>().ok().filter(|water| (0.0..=24.0).contains(water))
}

fn entry(text: &str, component: &Component, table: &ComponentTable) -> Option<f64> {
    let other = table.find(text).ok()?;
    let same = other.id == component.id || other.hydrate_of.as_ref() == Some(&component.id);
    same.then(|| other.crystal_water())
}

/// A formula whose part without water is the component's.
fn formula(text: &str, component: &Component) -> Option<f64> {
    let formula: Formula = text.parse().ok()?;
    let own = component.formula.as_ref()?;
    let same_rest = (formula.anhydrous_molar_mass().get() - own.anhydrous_molar_mass().get()).abs() < 1e-6;
    same_rest.then(|| formula.crystal_water())
}
