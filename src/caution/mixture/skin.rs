//! Skin corrosion and irritation by additivity, and by the rule for acids, bases and salts (chapter 3.2).

use super::class::{Class, Kind};
use super::finding::{Finding, Findings};
use super::ingredient::Ingredient;
use super::rules::RULES;
use super::sum::{Sum, Weighed};
use crate::caution::scheme::Scheme;

/// The sub-categories, the gravest first.
const SUB: [&str; 3] = ["1A", "1B", "1C"];

/// What chapter 3.2 gives.
pub(super) fn skin(ingredients: &[Ingredient], scheme: Scheme) -> Findings {
    let counting: Vec<&Ingredient> = ingredients.iter().filter(|ingredient| counts(ingredient)).collect();
    Findings::first_of(ways(&counting, scheme))
}

/// True if the mixture is corrosive by what was found.
pub(super) fn is_corrosive(findings: &Findings) -> bool {
    findings.reached.iter().any(|found| found.of.is_some_and(|class| class.kind == Kind::SkinCorrosion))
}

/// Left out below the cut-off, unless its own limit is lower.
fn counts(ingredient: &Ingredient) -> bool {
    let own = [Kind::SkinCorrosion, Kind::SkinIrritation]
        .iter()
        .filter_map(|kind| ingredient.own_limit(*kind, |_| true))
        .fold(RULES.cutoff.skin, f64::min);
    own <= ingredient.percent
}

/// Every way to a class, the gravest class first.
fn ways(ingredients: &[&Ingredient], scheme: Scheme) -> Vec<Finding> {
    let rules = &RULES.skin;
    let mut ways = corrosive(ingredients);
    ways.extend(not_additive(ingredients, Kind::SkinCorrosion, "1", rules.not_additive_corrosive));
    ways.push(finding(
        Class::new(Kind::SkinIrritation, "2"),
        Sum::of("Σ (10 × Skin Corr. 1 + Skin Irrit. 2)", rules.irritant, &irritants(ingredients)),
    ));
    ways.extend(not_additive(ingredients, Kind::SkinIrritation, "2", rules.not_additive_irritant));
    if scheme == Scheme::Ghs {
        let mild = Class::new(Kind::SkinIrritation, "3");
        ways.push(finding(
            mild,
            Sum::of("Σ Skin Irrit. 2", rules.mild_from_category_2, &category_2(ingredients)),
        ));
        let what = "Σ (10 × Skin Corr. 1 + Skin Irrit. 2 + Skin Irrit. 3)";
        ways.push(finding(mild, Sum::of(what, rules.mild, &all_irritants(ingredients))));
    }
    ways.into_iter().flatten().collect()
}

fn finding(class: Option<Class>, sum: Sum) -> Option<Finding> {
    let rules = &RULES.skin;
    class.map(|class| Finding::new(class, "additivity", sum, &rules.chapter, &rules.source))
}

/// Corrosion: by 1A alone, then 1A with 1B, then all. An ingredient without a sub-category leaves the mixture
/// without one, unless 1A alone is enough.
fn corrosive(ingredients: &[&Ingredient]) -> Vec<Option<Finding>> {
    let generic = RULES.skin.corrosive;
    let mut ways = Vec::new();
    let unsorted = corrosives(ingredients, |category| category == "1");
    for (at, sub) in SUB.iter().enumerate() {
        if at == 1 && !unsorted.is_empty() {
            break;
        }
        let weighed = corrosives(ingredients, |category| SUB[..=at].contains(&category));
        let sum = Sum::of(&format!("Σ Skin Corr. {}", SUB[..=at].join(" + ")), generic, &weighed);
        ways.push(finding(Class::new(Kind::SkinCorrosion, sub), sum));
    }
    let all = Sum::of("Σ Skin Corr. 1", generic, &corrosives(ingredients, |_| true));
    ways.push(finding(Class::new(Kind::SkinCorrosion, "1"), all));
    ways
}

/// The corrosive ingredients that reach a category that `fits`, each with the limit for it. An own limit for a
/// lesser sub-category is what the ingredient is, once diluted: acetic acid is 1A, and 1B from 25 %.
fn corrosives<'i>(ingredients: &[&'i Ingredient], fits: impl Fn(&str) -> bool) -> Vec<Weighed<'i>> {
    let weighed = |ingredient: &&'i Ingredient| {
        let own = ingredient.own_limit(Kind::SkinCorrosion, |class| fits(class.category));
        let class = ingredient.class(Kind::SkinCorrosion).filter(|class| fits(class.category));
        let generic = class.filter(|_| !ingredient.has_own_limit(Kind::SkinCorrosion));
        let counted_as = class.map_or_else(|| "Skin Corr. 1".to_owned(), |class| class.to_string());
        let limit = own.or(generic.map(|_| RULES.skin.corrosive))?;
        Some(Weighed { ingredient, limit, own: own.is_some(), counted_as })
    };
    ingredients.iter().filter_map(weighed).collect()
}

/// What counts towards category 2: an own limit for it, else category 2 by its generic limit, else category 1 by
/// the lower of 1 % and its own limit for corrosion.
fn irritants<'i>(ingredients: &[&'i Ingredient]) -> Vec<Weighed<'i>> {
    let rules = &RULES.skin;
    let weighed = |ingredient: &&'i Ingredient| {
        let own = ingredient.own_limit(Kind::SkinIrritation, |class| class.category == "2");
        let corrosive = ingredient.class(Kind::SkinCorrosion);
        let irritant = ingredient.class(Kind::SkinIrritation).filter(|class| class.category == "2");
        let generic = match (corrosive, irritant) {
            (Some(_), _) => Some(rules.irritant_from_category_1),
            (None, Some(_)) => Some(rules.irritant),
            (None, None) => None,
        };
        let counted_as = corrosive.or(irritant).map_or_else(|| "Skin Irrit. 2".to_owned(), |c| c.to_string());
        let limit = own.or(generic)?;
        Some(Weighed { ingredient, limit, own: own.is_some(), counted_as })
    };
    ingredients.iter().filter_map(weighed).collect()
}

fn category_2<'i>(ingredients: &[&'i Ingredient]) -> Vec<Weighed<'i>> {
    let limit = RULES.skin.mild_from_category_2;
    of_category(ingredients, "2", limit)
}

/// Category 3 beside all that counts towards category 2.
fn all_irritants<'i>(ingredients: &[&'i Ingredient]) -> Vec<Weighed<'i>> {
    let mut all = irritants(ingredients);
    all.extend(of_category(ingredients, "3", RULES.skin.mild));
    all
}

fn of_category<'i>(ingredients: &[&'i Ingredient], category: &str, limit: f64) -> Vec<Weighed<'i>> {
    let weighed = |ingredient: &&'i Ingredient| {
        let class = ingredient.class(Kind::SkinIrritation).filter(|class| class.category == category)?;
        Some(Weighed { ingredient, limit, own: false, counted_as: class.to_string() })
    };
    ingredients.iter().filter_map(weighed).collect()
}

/// Acids, bases, inorganic salts, aldehydes and phenols that carry the class themselves: one is enough at its limit.
fn not_additive(ingredients: &[&Ingredient], kind: Kind, category: &str, limit: f64) -> Vec<Option<Finding>> {
    let rules = &RULES.skin;
    let own = |ingredient: &Ingredient| {
        ingredient.has_own_limit(Kind::SkinCorrosion) || ingredient.has_own_limit(Kind::SkinIrritation)
    };
    let carries = |i: &&&Ingredient| i.not_additive && i.class(kind).is_some() && !own(i);
    let strongest = ingredients.iter().filter(carries).max_by(|a, b| a.percent.total_cmp(&b.percent));
    let finding = |ingredient: &&Ingredient| {
        let class = Class::new(kind, category)?;
        let counted_as = ingredient.class(kind).map_or_else(String::new, |class| class.to_string());
        let sum =
            Sum::single("C of one acid, base, salt, aldehyde or phenol", ingredient, limit, &counted_as);
        let rule = "not additive: one acid, base, salt, aldehyde or phenol is enough";
        Some(Finding::new(class, rule, sum, &rules.chapter, &rules.source))
    };
    vec![strongest.and_then(finding)]
}
