//! What is presumed of a mixture with an acid or a base until its pH is measured, and what its measured pH says
//! (3.2.3.1.2, 3.3.3.1.2).

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
    /// The pH that was measured; `None` if one of the ends is expected only.
    pub measured_ph: Option<f64>,
    /// What would settle it.
    pub settled_by: String,
    /// The source.
    pub source: String,
}

/// An acid or base of expected extreme pH from this concentration on, in % (Table 3.2.4, first rows).
fn counts_from() -> f64 {
    RULES.skin.not_additive_corrosive
}

/// The presumption, unless the mixture is already classified for skin and eyes as gravely. A measured pH stands in
/// the place of what is expected: at one of the ends it makes the class, between them there is no presumption.
pub(super) fn presumed(
    ingredients: &[Ingredient],
    is_corrosive: bool,
    scheme: Scheme,
    measured_ph: Option<f64>,
) -> Option<Presumed> {
    if is_corrosive {
        return None;
    }
    let extreme: Vec<&Ingredient> = expected(ingredients).collect();
    let settled_by = match measured_ph {
        Some(ph) => by_measurement(ph)?,
        None if extreme.is_empty() => return None,
        None => by_expectation(&extreme),
    };
    let classes = vec!["Skin Corr. 1".to_owned(), "Eye Dam. 1".to_owned()];
    let hazard = Hazard { classes: classes.clone(), ..Hazard::none_found("") };
    Some(Presumed {
        classes,
        statement: statement("H314", &hazard, scheme),
        because: extreme.iter().map(|ingredient| ingredient.name.clone()).collect(),
        measured_ph,
        settled_by,
        source: RULES.presumed.source.clone(),
    })
}

/// What a measured pH between the ends says, where without it a class would be presumed.
pub(super) fn lifted(ingredients: &[Ingredient], measured_ph: Option<f64>) -> Option<String> {
    let ph = measured_ph.filter(|ph| by_measurement(*ph).is_none())?;
    let because: Vec<&str> = expected(ingredients).map(|ingredient| ingredient.name.as_str()).collect();
    (!because.is_empty()).then(|| {
        format!(
            "the measured pH of {ph} lies between {} and {}: corrosion is not presumed because of {}. That proves \
             nothing: in a liquid with little water an electrode shows no pH by definition, and the classes of the \
             components count as before",
            RULES.presumed.acid_at_or_below,
            RULES.presumed.base_at_or_above,
            because.join(", ")
        )
    })
}

/// The ingredients whose pH is expected at one of the ends.
fn expected(ingredients: &[Ingredient]) -> impl Iterator<Item = &Ingredient> {
    ingredients
        .iter()
        .filter(|ingredient| ingredient.extreme_ph.is_some() && counts_from() <= ingredient.percent)
}

/// What follows from a measured pH at one of the ends; `None` between them.
fn by_measurement(ph: f64) -> Option<String> {
    let rules = &RULES.presumed;
    let end = match ph {
        ph if ph <= rules.acid_at_or_below => format!("{} or below", rules.acid_at_or_below),
        ph if rules.base_at_or_above <= ph => format!("{} or above", rules.base_at_or_above),
        _ => return None,
    };
    Some(format!(
        "its pH was measured as {ph}, and {end} counts as corrosive to skin and eyes unless its acid or alkali \
         reserve and other data show otherwise"
    ))
}

fn by_expectation(extreme: &[&Ingredient]) -> String {
    let rules = &RULES.presumed;
    let of = |end: Extreme| extreme.iter().any(|ingredient| ingredient.extreme_ph == Some(end));
    let ends = [
        (of(Extreme::Acid), format!("{} or below", rules.acid_at_or_below)),
        (of(Extreme::Base), format!("{} or above", rules.base_at_or_above)),
    ];
    let ends: Vec<String> = ends.into_iter().filter(|(holds, _)| *holds).map(|(_, end)| end).collect();
    format!(
        "a pH of {} is expected here, not measured: until the pH, its acid or alkali reserve or other data show \
         otherwise, the mixture counts as corrosive to skin and eyes",
        ends.join(", or of ")
    )
}
