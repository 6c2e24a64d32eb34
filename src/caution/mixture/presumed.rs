//! What is presumed of a mixture with an acid or a base until its pH is measured (3.2.3.1.2).

use serde::Serialize;

use super::ingredient::{Extreme, Ingredient};
use super::rules::RULES;
use crate::caution::scheme::Scheme;
use crate::caution::statement::{Statement, statement};
use crate::component::Hazard;

/// A presumption.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Presumed {
    /// The classes that are presumed.
    pub classes: Vec<String>,
    /// The components whose pH is expected at one of the ends, with their concentrations in %.
    pub because: Vec<String>,
    /// The statement of the gravest of them, which a label bears until then.
    pub statement: Statement,
    /// What would settle it.
    pub settled_by: String,
    /// The source.
    pub source: String,
}

/// An acid or base of expected extreme pH from this concentration on, in % (Table 3.2.4, first rows).
fn counts_from() -> f64 {
    RULES.skin.not_additive_corrosive
}

/// The presumption, unless the mixture is already classified for skin and eyes as gravely.
pub(super) fn presumed(ingredients: &[Ingredient], is_corrosive: bool, scheme: Scheme) -> Option<Presumed> {
    let rules = &RULES.presumed;
    let extreme: Vec<&Ingredient> = ingredients
        .iter()
        .filter(|ingredient| ingredient.extreme_ph.is_some() && counts_from() <= ingredient.percent)
        .collect();
    if extreme.is_empty() || is_corrosive {
        return None;
    }
    let of = |end: Extreme| extreme.iter().any(|ingredient| ingredient.extreme_ph == Some(end));
    let ends = [
        (of(Extreme::Acid), format!("{} or below", rules.acid_at_or_below)),
        (of(Extreme::Base), format!("{} or above", rules.base_at_or_above)),
    ];
    let ends: Vec<String> = ends.into_iter().filter(|(holds, _)| *holds).map(|(_, end)| end).collect();
    let classes = vec!["Skin Corr. 1".to_owned(), "Eye Dam. 1".to_owned()];
    let hazard = Hazard { classes: classes.clone(), ..Hazard::none_found("") };
    Some(Presumed {
        classes,
        statement: statement("H314", &hazard, scheme),
        because: extreme.iter().map(|ingredient| ingredient.name.clone()).collect(),
        settled_by: format!(
            "a pH of {} is expected here, not measured: until the pH, its acid or alkali reserve or other data show \
             otherwise, the mixture counts as corrosive to skin and eyes",
            ends.join(", or of ")
        ),
        source: rules.source.clone(),
    })
}
