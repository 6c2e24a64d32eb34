//! Supplemental statements of CLP (EUH) that a mixture carries over from its components.

use super::class::Class;
use super::ingredient::Ingredient;
use super::sensitiser::to_be_named;
use crate::caution::scheme::Scheme;
use crate::caution::statement::{Statement, statement};
use crate::component::Hazard;

/// The statements; none outside CLP.
pub(super) fn supplements(ingredients: &[Ingredient], reached: &[Class], scheme: Scheme) -> Vec<Statement> {
    if scheme != Scheme::Clp {
        return Vec::new();
    }
    let mut codes: Vec<&str> = ingredients.iter().flat_map(carried).collect();
    codes.sort_unstable();
    codes.dedup();
    let none = Hazard::none_found("");
    let mut statements: Vec<Statement> =
        codes.into_iter().map(|code| statement(code, &none, scheme)).collect();
    let named = to_be_named(ingredients, reached);
    if !named.is_empty() {
        let mut allergy = statement("EUH208", &none, scheme);
        allergy.text = format!("Contains {}. May produce an allergic reaction.", named.join(", "));
        statements.push(allergy);
    }
    statements
}

/// Codes of a component that hold at its concentration. Without a limit of its own a code is carried over whatever
/// the concentration.
fn carried(ingredient: &Ingredient) -> impl Iterator<Item = &str> {
    ingredient.euh.iter().map(String::as_str).filter(|code| {
        let limit = ingredient.limits.euh.iter().find(|(limited, _)| limited == code);
        limit.is_none_or(|(_, from)| *from <= ingredient.percent)
    })
}
