//! Eye damage and irritation by additivity, and by the rule for acids, bases and salts (chapter 3.3).

use super::class::{Class, Kind};
use super::finding::{Finding, Findings};
use super::ingredient::Ingredient;
use super::rules::RULES;
use super::sum::{Sum, Weighed};
use crate::caution::scheme::Scheme;

/// What chapter 3.3 gives. A mixture that is corrosive to skin damages eyes.
pub(super) fn eye(ingredients: &[Ingredient], corrosive: Option<&Finding>, scheme: Scheme) -> Findings {
    let counting: Vec<&Ingredient> = ingredients.iter().filter(|ingredient| counts(ingredient)).collect();
    let found = Findings::first_of(ways(&counting, scheme));
    let damages = found.reached.iter().any(|f| f.of.is_some_and(|class| class.kind == Kind::EyeDamage));
    match (corrosive, Class::new(Kind::EyeDamage, "1")) {
        (Some(skin), Some(class)) if !damages => {
            let rules = &RULES.eye;
            let rule = format!("follows from {}", skin.class);
            let finding = Finding::new(class, &rule, skin.sum.clone(), &rules.chapter, &rules.source);
            Findings { reached: vec![finding], not_reached: Vec::new() }
        }
        _ => found,
    }
}

/// Left out below the cut-off, unless its own limit is lower.
fn counts(ingredient: &Ingredient) -> bool {
    let own = [Kind::EyeDamage, Kind::EyeIrritation, Kind::SkinCorrosion]
        .iter()
        .filter_map(|kind| ingredient.own_limit(*kind, |_| true))
        .fold(RULES.cutoff.eye, f64::min);
    own <= ingredient.percent
}

/// Every way to a class, the gravest class first.
fn ways(ingredients: &[&Ingredient], scheme: Scheme) -> Vec<Finding> {
    let rules = &RULES.eye;
    let damage = Class::new(Kind::EyeDamage, "1");
    let sum = Sum::of("Σ (Eye Dam. 1 or Skin Corr. 1)", rules.damage, &damaging(ingredients));
    let mut ways = vec![finding(damage, sum)];
    ways.push(not_additive(
        ingredients,
        damage,
        rules.not_additive_damage,
        &[Kind::EyeDamage, Kind::SkinCorrosion],
    ));
    let irritation = Class::new(Kind::EyeIrritation, irritation_category(ingredients, scheme));
    let what = "Σ (10 × Eye Dam. 1 or Skin Corr. 1 + Eye Irrit. 2)";
    ways.push(finding(irritation, Sum::of(what, rules.irritant, &irritating(ingredients))));
    ways.push(not_additive(ingredients, irritation, rules.not_additive_irritant, &[Kind::EyeIrritation]));
    ways.into_iter().flatten().collect()
}

fn finding(class: Option<Class>, sum: Sum) -> Option<Finding> {
    let rules = &RULES.eye;
    class.map(|class| Finding::new(class, "additivity", sum, &rules.chapter, &rules.source))
}

/// Category 2B only if all that counts is of it, and the scheme has it.
fn irritation_category(ingredients: &[&Ingredient], scheme: Scheme) -> &'static str {
    let mild = irritating(ingredients)
        .iter()
        .all(|part| part.ingredient.class(Kind::EyeIrritation).is_some_and(|class| class.category == "2B"));
    if mild && scheme != Scheme::Clp { "2B" } else { "2" }
}

/// An ingredient that carries both classes enters once.
fn category_1(ingredient: &Ingredient) -> Option<Class> {
    ingredient.class(Kind::EyeDamage).or_else(|| ingredient.class(Kind::SkinCorrosion))
}

/// An own limit for eye damage, else the lowest own limit for corrosion, else the generic one.
fn damaging<'i>(ingredients: &[&'i Ingredient]) -> Vec<Weighed<'i>> {
    let weighed = |ingredient: &&'i Ingredient| {
        let own = ingredient
            .own_limit(Kind::EyeDamage, |_| true)
            .or_else(|| ingredient.own_limit(Kind::SkinCorrosion, |_| true));
        let class = category_1(ingredient);
        let counted_as = class.map_or_else(|| "Eye Dam. 1".to_owned(), |class| class.to_string());
        let limit = own.or(class.map(|_| RULES.eye.damage))?;
        Some(Weighed { ingredient, limit, own: own.is_some(), counted_as })
    };
    ingredients.iter().filter_map(weighed).collect()
}

fn irritating<'i>(ingredients: &[&'i Ingredient]) -> Vec<Weighed<'i>> {
    let rules = &RULES.eye;
    let weighed = |ingredient: &&'i Ingredient| {
        let own = ingredient.own_limit(Kind::EyeIrritation, |_| true);
        let (one, two) = (category_1(ingredient), ingredient.class(Kind::EyeIrritation));
        let generic = match (one, two) {
            (Some(_), _) => Some(rules.irritant_from_category_1),
            (None, Some(_)) => Some(rules.irritant),
            (None, None) => None,
        };
        let counted_as = one.or(two).map_or_else(|| "Eye Irrit. 2".to_owned(), |class| class.to_string());
        let limit = own.or(generic)?;
        Some(Weighed { ingredient, limit, own: own.is_some(), counted_as })
    };
    ingredients.iter().filter_map(weighed).collect()
}

/// Acids, bases, inorganic salts, aldehydes and phenols that carry the class themselves: one is enough at its limit.
fn not_additive(
    ingredients: &[&Ingredient],
    class: Option<Class>,
    limit: f64,
    kinds: &[Kind],
) -> Option<Finding> {
    let rules = &RULES.eye;
    let own = |ingredient: &Ingredient| {
        [Kind::EyeDamage, Kind::EyeIrritation, Kind::SkinCorrosion]
            .iter()
            .any(|kind| ingredient.has_own_limit(*kind))
    };
    let carried = |ingredient: &Ingredient| kinds.iter().find_map(|kind| ingredient.class(*kind));
    let carries = |i: &&&Ingredient| i.not_additive && carried(i).is_some() && !own(i);
    let strongest = ingredients.iter().filter(carries).max_by(|a, b| a.percent.total_cmp(&b.percent))?;
    let counted_as = carried(strongest).map_or_else(String::new, |class| class.to_string());
    let sum = Sum::single("C of one acid, base, salt, aldehyde or phenol", strongest, limit, &counted_as);
    let rule = "not additive: one acid, base, salt, aldehyde or phenol is enough";
    Some(Finding::new(class?, rule, sum, &rules.chapter, &rules.source))
}
