//! Rules for pairs and for single materials: what must meet, and what is then to be said.

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::alert::Alert;
use super::context::{Condition, Context};
use super::selector::{Selector, arranged};
use super::severity::{Severity, WayPast};
use super::subject::Member;
use crate::quantity::MassFraction;

/// A rule. Rules of one id are variants of each other.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Rule {
    pub id: String,
    pub severity: Severity,
    pub way_past: Option<WayPast>,
    /// What the context must say, all of it.
    #[serde(default)]
    pub when: Vec<Condition>,
    pub title: String,
    pub message: String,
    pub reason: String,
    /// Letters of the EPA chart.
    #[serde(default)]
    pub codes: Vec<String>,
    pub source: String,
    /// Each must find a material of its own.
    #[serde(default)]
    pub sides: Vec<Side>,
    /// One of these H codes must be there.
    #[serde(default)]
    pub h_codes: Vec<String>,
    /// A material known to be below this mass fraction does not count.
    pub above: Option<MassFraction>,
}

/// One side of a rule.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Side {
    /// What stands there, in words.
    pub name: String,
    /// A material that fits one of these is on this side.
    pub any: Vec<Selector>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct RuleFile {
    source: HashMap<String, String>,
    rule: Vec<Rule>,
}

static PAIRS: LazyLock<Vec<Rule>> = LazyLock::new(|| read(include_str!("../../data/alerts/pairs.toml")));
static SINGLES: LazyLock<Vec<Rule>> = LazyLock::new(|| read(include_str!("../../data/alerts/singles.toml")));

/// Rules for two or more materials that meet.
pub(super) fn pairs() -> &'static [Rule] {
    &PAIRS
}

/// Rules for single materials and for what is done with them.
pub(super) fn singles() -> &'static [Rule] {
    &SINGLES
}

/// The ids of the rules for pairs and single materials, a variant each time.
pub fn rule_ids() -> impl Iterator<Item = &'static str> {
    pairs().iter().chain(singles()).map(|rule| rule.id.as_str())
}

/// Reads a file of rules. A faulty one would give none, which the tests rule out.
fn read(text: &str) -> Vec<Rule> {
    let Ok(file) = toml::from_str::<RuleFile>(text) else { return Vec::new() };
    let full = |mut rule: Rule| {
        if let Some(source) = file.source.get(&rule.source) {
            rule.source.clone_from(source);
        }
        rule
    };
    file.rule.into_iter().map(full).collect()
}

impl Rule {
    /// The alert if the rule fires.
    pub(super) fn alert(&self, members: &[Member<'_>], context: &Context) -> Option<Alert> {
        if !self.when.iter().all(|condition| context.holds(*condition)) {
            return None;
        }
        Some(Alert {
            id: self.id.clone(),
            severity: self.severity,
            title: self.title.clone(),
            message: self.message.clone(),
            reason: self.reason.clone(),
            because: self.because(members)?,
            codes: self.codes.clone(),
            way_past: self.way_past.unwrap_or(self.severity.usual_way_past()),
            source: self.source.clone(),
        })
    }

    /// The names of the materials that make it fire; `None` if it does not.
    fn because(&self, members: &[Member<'_>]) -> Option<Vec<String>> {
        if !self.h_codes.is_empty() {
            let named: Vec<String> = members.iter().filter_map(|member| self.with_codes(member)).collect();
            return (!named.is_empty()).then_some(named);
        }
        let counting: Vec<Member<'_>> =
            members.iter().copied().filter(|member| self.counts(member)).collect();
        let sides: Vec<&[Selector]> = self.sides.iter().map(|side| side.any.as_slice()).collect();
        let places = arranged(&sides, &counting)?;
        Some(places.into_iter().map(|at| counting[at].name.to_owned()).collect())
    }

    /// "ammonium bromide (H360FD, H362)" if the member has one of the codes.
    fn with_codes(&self, member: &Member<'_>) -> Option<String> {
        let meant = |code: &&String| self.h_codes.iter().any(|wanted| code.starts_with(wanted.as_str()));
        let codes: Vec<&str> =
            member.component?.hazard.codes.iter().filter(meant).map(String::as_str).collect();
        (!codes.is_empty()).then(|| format!("{} ({})", member.name, codes.join(", ")))
    }

    fn counts(&self, member: &Member<'_>) -> bool {
        match (self.above, member.mass_fraction) {
            (Some(limit), Some(fraction)) => limit <= fraction,
            _ => true,
        }
    }
}
