//! `formula` in JSON.

use serde_json::{Value, json};

use crate::chemistry::Formula;

/// One formula, under the text that a person gave.
pub fn formula_answer(input: &str, formula: &Formula) -> Value {
    let elements: Vec<Value> = formula
        .mass_fractions()
        .into_iter()
        .map(|(element, fraction)| json!({ "element": element.symbol(), "mass_fraction": fraction.get() }))
        .collect();
    json!({
        "input": input,
        "hill": formula.hill(),
        "molar_mass_g_per_mol": formula.molar_mass().get(),
        "molar_mass_u_g_per_mol": formula.molar_mass_uncertainty().get(),
        "crystal_water": formula.crystal_water(),
        "anhydrous_molar_mass_g_per_mol": formula.anhydrous_molar_mass().get(),
        "charge": formula.charge(),
        "elements": elements,
    })
}
