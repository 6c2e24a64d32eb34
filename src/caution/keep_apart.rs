//! What a material is kept apart from on the shelf and at the bench.

use super::rule::{Rule, pairs};
use super::severity::Severity;
use super::subject::Member;

/// What the material must not or hardly meet, in words, the gravest first and then as the rules stand.
/// Rules that need more than two materials or a certain context are left to the alerts.
pub(super) fn keep_apart(member: &Member<'_>) -> Vec<String> {
    let plain = |rule: &&Rule| rule.when.is_empty() && rule.sides.len() == 2;
    let mut rules: Vec<&Rule> =
        pairs().iter().filter(plain).filter(|rule| Severity::Warn <= rule.severity).collect();
    rules.sort_by_key(|rule| std::cmp::Reverse(rule.severity));
    let mut names: Vec<String> = Vec::new();
    for rule in rules {
        for (own, other) in [(0, 1), (1, 0)] {
            let fits = rule.sides[own].any.iter().any(|selector| selector.fits(member));
            let name = &rule.sides[other].name;
            if fits && !names.contains(name) {
                names.push(name.clone());
            }
        }
    }
    names
}
