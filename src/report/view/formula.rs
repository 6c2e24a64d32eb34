//! What `formula` shows.

use super::amount::short;
use crate::chemistry::Formula;
use crate::quantity::to_digits_of;
use crate::report::document::{Document, Table, column, facts, heading};

/// Molar mass, Hill formula, mass fractions and crystal water of each formula. The first table has one
/// row for each.
pub fn formula_document(formulas: &[(String, Formula)]) -> Document {
    let mut overview = Table::new([
        column("Formula").key("input"),
        column("Hill").key("hill"),
        column("Molar mass").unit("g/mol").key("molar_mass_g_per_mol").decimal(),
        column("Crystal water").unit("mol/mol").key("crystal_water").decimal(),
    ]);
    for (input, formula) in formulas {
        overview.push([
            input.clone(),
            formula.hill(),
            to_digits_of(formula.molar_mass().get(), formula.molar_mass_uncertainty().get(), 4),
            short(formula.crystal_water(), 4),
        ]);
    }
    let mut document = Document::new("Molar masses").with(overview);
    for (input, formula) in formulas {
        document.extend(details(input, formula));
    }
    document
}

fn details(input: &str, formula: &Formula) -> Vec<crate::report::document::Block> {
    let mut elements = Table::new([
        column("Element"),
        column("Atoms").decimal(),
        column("Atomic weight").unit("g/mol").decimal(),
        column("Mass fraction").unit("wt%").decimal(),
    ]);
    for (element, fraction) in formula.mass_fractions() {
        let atoms = formula.atoms().find(|(other, _)| *other == element).map_or(0.0, |(_, atoms)| atoms);
        let weight = element.weight().map_or(String::new(), |weight| weight.value.get().to_string());
        elements.push([
            element.symbol().to_owned(),
            short(atoms, 6),
            weight,
            format!("{:.3}", fraction.percent()),
        ]);
    }
    let mut lines = vec![(
        "Molar mass",
        format!(
            "{} g/mol, standard uncertainty {} g/mol from the atomic weights",
            short(formula.molar_mass().get(), 9),
            short(formula.molar_mass_uncertainty().get(), 2)
        ),
    )];
    if 0.0 < formula.crystal_water() {
        let anhydrous = short(formula.anhydrous_molar_mass().get(), 9);
        lines.push(("Without crystal water", format!("{anhydrous} g/mol")));
    }
    if formula.charge() != 0 {
        lines.push(("Charge", format!("{:+}; the mass of the electrons is not counted", formula.charge())));
    }
    vec![heading(1, input), facts(lines), elements.into()]
}
