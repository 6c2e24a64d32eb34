//! Classes of which one component at its limit is enough, and those that are summed without weights.

use super::class::{Class, Kind};
use super::finding::{Finding, Findings};
use super::ingredient::Ingredient;
use super::rules::{RULES, Single};
use super::sum::{Sum, Weighed};
use crate::caution::scheme::Scheme;

/// What the rules for some kinds give, and the lower limits that the scheme leaves to the authority.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct SingleFindings {
    pub(super) findings: Findings,
    /// In words.
    pub(super) left_to_authority: Vec<String>,
}

/// Works out the kinds in turn, each for itself.
pub(super) fn of_kinds(ingredients: &[Ingredient], kinds: &[Kind], scheme: Scheme) -> SingleFindings {
    let mut all = SingleFindings::default();
    for kind in kinds {
        let of_kind = |rule: &&Single| rule.class().is_some_and(|class| class.kind == *kind);
        let rules: Vec<&Single> = RULES.single.iter().filter(of_kind).collect();
        let found = Findings::first_of(ways(&rules, ingredients, *kind, scheme));
        if found.reached.is_empty() {
            all.left_to_authority
                .extend(rules.iter().filter_map(|rule| authority(rule, ingredients, scheme)));
        }
        all.findings = all.findings.and(found);
    }
    all
}

/// Every way to a class of the kind, the gravest category first.
fn ways(rules: &[&Single], ingredients: &[Ingredient], kind: Kind, scheme: Scheme) -> Vec<Finding> {
    let mut ways: Vec<Finding> = Vec::new();
    ways.extend(own_limits(ingredients, kind));
    for rule in rules {
        ways.extend(if rule.summed {
            summed(rule, ingredients, scheme)
        } else {
            one(rule, ingredients, scheme)
        });
    }
    // The gravest category first; within it what is reached, then what is nearest to its limit.
    ways.sort_by(|a, b| key(a).0.cmp(&key(b).0).then(key(b).1.total_cmp(&key(a).1)));
    ways
}

fn key(finding: &Finding) -> (usize, f64) {
    let number = finding.of.map_or(usize::MAX, Class::number);
    (number, finding.sum.value.unwrap_or(0.0) / finding.sum.limit)
}

/// Each ingredient against a limit of its own, where it has one.
fn own_limits(ingredients: &[Ingredient], kind: Kind) -> Vec<Finding> {
    if is_summed(kind) {
        return Vec::new();
    }
    let of_ingredient = |ingredient: &'_ Ingredient| {
        let limits = ingredient.limits.classes.iter().filter(move |limit| limit.class.kind == kind);
        let finding = |limit: &super::limit::ClassLimit| {
            let as_what = limit.class.to_string();
            let sum = Sum::single("C against its own limit", ingredient, limit.from, &as_what);
            let mut found = Finding::new(
                limit.class,
                "own limit of the component",
                sum,
                "1.3.3.2",
                "the component's source",
            );
            code_of(&mut found, &[ingredient], Scheme::Clp);
            found
        };
        limits.map(finding).collect::<Vec<_>>()
    };
    ingredients.iter().flat_map(of_ingredient).collect()
}

fn is_summed(kind: Kind) -> bool {
    matches!(kind, Kind::AirwayIrritation | Kind::Narcosis | Kind::Aspiration)
}

/// The component with most of the class, against the limit; the class below it for less.
fn one(rule: &Single, ingredients: &[Ingredient], scheme: Scheme) -> Vec<Finding> {
    let Some(class) = rule.class() else { return Vec::new() };
    let carries = |i: &&Ingredient| {
        i.class(class.kind).is_some_and(|own| rule.is_about(own, class)) && !i.has_own_limit(class.kind)
    };
    let carriers: Vec<&Ingredient> = ingredients
        .iter()
        .filter(carries)
        .filter(|i| !gases_apart(class.kind) || rule.gas == i.gas)
        .collect();
    let mut carriers_by_amount = carriers.clone();
    carriers_by_amount.sort_by(|a, b| b.percent.total_cmp(&a.percent));
    let Some(most) = carriers_by_amount.first() else { return Vec::new() };
    let finding = |gives: Class, limit: f64| {
        let as_what = most.class(class.kind).map_or_else(String::new, |own| own.to_string());
        let mut sum = Sum::single("C of one component", most, limit, &as_what);
        let more = carriers_by_amount[1..].iter().filter(|other| limit <= other.percent);
        sum.parts.extend(more.map(|other| super::sum::Part::new(other, other.percent, as_what.as_str())));
        let reaching: Vec<&Ingredient> = carriers.iter().copied().filter(|i| limit <= i.percent).collect();
        let mut found = Finding::new(gives, "one component is enough", sum, &rule.chapter, &rule.source);
        found.condition.clone_from(&rule.condition);
        code_of(&mut found, &reaching, scheme);
        found
    };
    let gives = rule.gives().map(|gives| sharpened(gives, most, class.kind));
    let first = gives.map(|gives| finding(gives, rule.limit(scheme)));
    let lower = rule.lower(scheme).map(|(gives, from)| finding(gives, from));
    first.into_iter().chain(lower).collect()
}

/// Sensitisers of the airways have limits of their own for gases.
fn gases_apart(kind: Kind) -> bool {
    kind == Kind::RespiratorySensitiser
}

impl Single {
    /// "Muta. 1" is about 1, 1A and 1B; "Skin Sens. 1" about 1 and 1B, since 1A has a row of its own.
    fn is_about(&self, own: Class, class: Class) -> bool {
        let sensitiser = matches!(class.kind, Kind::RespiratorySensitiser | Kind::SkinSensitiser);
        match (sensitiser, class.category, own.category) {
            (true, "1A", own) => own == "1A",
            (true, _, own) => own != "1A",
            (false, _, _) => own.number() == class.number(),
        }
    }
}

/// The sub-category of the component, where the rule names only the category: "Muta. 1" of a 1B is 1B.
fn sharpened(gives: Class, ingredient: &Ingredient, kind: Kind) -> Class {
    let own = ingredient.class(kind).filter(|own| own.number() == gives.number());
    let keeps = matches!(kind, Kind::Mutagen | Kind::Carcinogen | Kind::Reproduction);
    own.filter(|_| keeps).unwrap_or(gives)
}

/// The code as the source letters it (H360FD), if all components of the class agree and the scheme has letters.
fn code_of(finding: &mut Finding, ingredients: &[&Ingredient], scheme: Scheme) {
    if scheme != Scheme::Clp {
        return;
    }
    let base = finding.code.clone();
    let mut lettered: Vec<&String> = ingredients
        .iter()
        .flat_map(|ingredient| ingredient.codes.iter().filter(|code| code.starts_with(base.as_str())))
        .collect();
    lettered.sort();
    lettered.dedup();
    if let [one] = lettered.as_slice() {
        finding.code = (*one).clone();
    }
}

/// All components of the class together, an own limit counting by its share.
fn summed(rule: &Single, ingredients: &[Ingredient], scheme: Scheme) -> Vec<Finding> {
    let Some(class) = rule.class() else { return Vec::new() };
    let limit = rule.limit(scheme);
    let cutoff =
        if class.kind == Kind::Aspiration { RULES.cutoff.aspiration } else { RULES.cutoff.stot_se_3 };
    let weighed = |ingredient: &'_ Ingredient| {
        let own = ingredient.own_limit(class.kind, |own| own.category == class.category);
        let carried = ingredient.class(class.kind).filter(|own| own.category == class.category);
        let limit = own.or(carried.map(|_| limit))?;
        Some((limit, own.is_some()))
    };
    let parts: Vec<Weighed<'_>> = ingredients
        .iter()
        .filter_map(|ingredient| {
            let (limit, own) = weighed(ingredient)?;
            let counts = cutoff.min(limit) <= ingredient.percent;
            counts.then(|| Weighed { ingredient, limit, own, counted_as: class.to_string() })
        })
        .collect();
    let sum = Sum::of(&format!("Σ {class}"), limit, &parts);
    let mut found = Finding::new(class, "additivity", sum, &rule.chapter, &rule.source);
    found.condition.clone_from(&rule.condition);
    vec![found]
}

/// Where GHS lets the authority set a lower limit and a component lies between the two.
fn authority(rule: &Single, ingredients: &[Ingredient], scheme: Scheme) -> Option<String> {
    let lower = rule.authority(scheme)?;
    let class = rule.class()?;
    let between = |i: &&Ingredient| {
        let carried = i.class(class.kind).is_some_and(|own| rule.is_about(own, class));
        carried && lower <= i.percent && i.percent < rule.limit(scheme)
    };
    let name = &ingredients.iter().find(between)?.name;
    Some(format!(
        "{class} because of {name}: GHS lets an authority set the limit at {lower} % instead of {} %, \
         which this mixture reaches",
        rule.limit(scheme)
    ))
}
