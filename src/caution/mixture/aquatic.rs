//! Hazard to water by summation with M factors (chapter 4.1). HCS has no such classes.

use super::class::{Class, Kind};
use super::finding::{Finding, Findings};
use super::ingredient::Ingredient;
use super::rules::RULES;
use super::sum::{Part, Sum};
use crate::caution::scheme::Scheme;

/// What chapter 4.1 gives. Each sum down to the first that reaches its limit is kept.
pub(super) fn aquatic(ingredients: &[Ingredient], scheme: Scheme) -> Findings {
    let acute: &[&str] = match scheme {
        Scheme::Ghs => &["1", "2", "3"],
        Scheme::Clp => &["1"],
        Scheme::Hcs => return Findings::default(),
    };
    let acute = worked(ingredients, Kind::AquaticAcute, acute);
    acute.and(worked(ingredients, Kind::AquaticChronic, &["1", "2", "3", "4"]))
}

fn worked(ingredients: &[Ingredient], kind: Kind, categories: &[&str]) -> Findings {
    let mut findings = Findings::default();
    for class in categories.iter().filter_map(|category| Class::new(kind, category)) {
        let sum = sum(ingredients, class);
        if sum.parts.is_empty() {
            continue;
        }
        let rules = &RULES.aquatic;
        let finding = Finding::new(class, "summation", sum, &rules.chapter, &rules.source);
        if finding.sum.is_reached() {
            findings.reached.push(finding);
            break;
        }
        findings.not_reached.push(finding);
    }
    findings
}

/// Σ over the categories down to this one, each further up weighing ten times more, category 1 also by its M
/// factor. Long-term category 4 is a plain sum.
fn sum(ingredients: &[Ingredient], class: Class) -> Sum {
    let rules = &RULES.aquatic;
    let parts: Vec<Part> = ingredients.iter().filter_map(|ingredient| part(ingredient, class)).collect();
    Sum {
        what: written(class),
        value: Some(parts.iter().map(|part| part.adds).sum()),
        limit: rules.limit,
        unit: "%".to_owned(),
        at_least: true,
        parts,
    }
}

fn part(ingredient: &Ingredient, class: Class) -> Option<Part> {
    let own = ingredient.class(class.kind).filter(|own| own.number() <= class.number())?;
    let m = if own.number() == 1 { m_factor(ingredient, class.kind).unwrap_or(1.0) } else { 1.0 };
    if ingredient.percent < cutoff(own, m) {
        return None;
    }
    let plain = class.number() == 4;
    let steps = i32::try_from(class.number() - own.number()).unwrap_or(0);
    let weight = if plain { 1.0 } else { m * RULES.aquatic.step.powi(steps) };
    let counted_as = if own.number() == 1 && !plain { format!("{own}, M = {m}") } else { own.to_string() };
    Some(Part::new(ingredient, weight * ingredient.percent, counted_as))
}

/// The component's M factor for acute or long-term hazard, if one is given.
fn m_factor(ingredient: &Ingredient, kind: Kind) -> Option<f64> {
    match kind {
        Kind::AquaticAcute => ingredient.limits.m_acute,
        _ => ingredient.limits.m_chronic,
    }
}

fn cutoff(own: Class, m: f64) -> f64 {
    let cutoff = &RULES.cutoff;
    if own.number() == 1 { cutoff.aquatic_category_1 / m } else { cutoff.aquatic_other }
}

/// The sum in the signs of the standard: "Σ (M × 10 × Chronic 1 + Chronic 2)".
fn written(class: Class) -> String {
    let name = if class.kind == Kind::AquaticAcute { "Acute" } else { "Chronic" };
    let term = |number: usize| match (class.number(), class.number() - number, number) {
        (4, _, _) => format!("{name} {number}"),
        (_, 0, 1) => format!("M × {name} 1"),
        (_, 0, _) => format!("{name} {number}"),
        (_, steps, 1) => format!("M × {} × {name} 1", 10_usize.pow(u32::try_from(steps).unwrap_or(0))),
        (_, steps, _) => format!("{} × {name} {number}", 10_usize.pow(u32::try_from(steps).unwrap_or(0))),
    };
    let terms: Vec<String> = (1..=class.number()).map(term).collect();
    format!("Σ ({})", terms.join(" + "))
}

/// True if the ingredient counts as category 1 and no M factor is given, so that 1 was taken.
pub(super) fn lacks_m_factor(ingredient: &Ingredient) -> bool {
    [Kind::AquaticAcute, Kind::AquaticChronic].into_iter().any(|kind| {
        let first = ingredient.class(kind).is_some_and(|class| class.number() == 1);
        first && m_factor(ingredient, kind).is_none()
    })
}
