//! Sensitisers of airways and skin (chapter 3.4), and the naming of those below their limit.

use super::class::{Class, Kind};
use super::ingredient::Ingredient;
use super::rules::RULES;
use super::single::{SingleFindings, of_kinds};
use crate::caution::scheme::Scheme;

const KINDS: [Kind; 2] = [Kind::RespiratorySensitiser, Kind::SkinSensitiser];

/// What chapter 3.4 gives.
pub(super) fn sensitisers(ingredients: &[Ingredient], scheme: Scheme) -> SingleFindings {
    of_kinds(ingredients, &KINDS, scheme)
}

/// Names of the sensitisers that a label under CLP names (EUH208) where the mixture itself is not classified by
/// them: from a tenth of the limit on.
pub(super) fn to_be_named<'i>(ingredients: &'i [Ingredient], reached: &[Class]) -> Vec<&'i str> {
    let named = |ingredient: &&Ingredient| {
        KINDS.iter().any(|kind| {
            let classified = reached.iter().any(|class| class.kind == *kind);
            !classified && elicits_from(ingredient, *kind).is_some_and(|from| from <= ingredient.percent)
        })
    };
    ingredients.iter().filter(named).map(|ingredient| ingredient.name.as_str()).collect()
}

fn elicits_from(ingredient: &Ingredient, kind: Kind) -> Option<f64> {
    let rules = &RULES.elicitation;
    let class = ingredient.class(kind)?;
    let own = ingredient.own_limit(kind, |_| true).map(|limit| limit * rules.of_own_limit);
    let generic = if class.category == "1A" { rules.category_1a } else { rules.category_1 };
    Some(own.map_or(generic, |own| own.min(generic)))
}
