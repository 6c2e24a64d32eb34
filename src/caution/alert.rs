//! Alerts: what the rules have to say about what is at hand.

use std::cmp::Reverse;

use serde::Serialize;

use super::context::Context;
use super::heat;
use super::rule::{pairs, singles};
use super::severity::{Severity, WayPast};
use super::subject::Member;

/// One alert.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Alert {
    /// Id of its rule. It may come twice if variants of the rule name different materials.
    pub id: String,
    /// How grave it is.
    pub severity: Severity,
    /// What meets what, in a few words.
    pub title: String,
    /// What to do or leave.
    pub message: String,
    /// What would happen.
    pub reason: String,
    /// The materials that it is about, in the order of their names.
    pub because: Vec<String>,
    /// What forms, in the letters of the EPA chart: H heat, F fire, G gas, GT toxic gas, GF flammable
    /// gas, E explosion, P polymerisation.
    pub codes: Vec<String>,
    /// What lets the work go on.
    pub way_past: WayPast,
    /// The source; "from memory" where nothing was read.
    pub source: String,
}

/// All alerts, what has no way past first, then the gravest, then by id.
pub(super) fn alerts(members: &[Member<'_>], context: &Context) -> Vec<Alert> {
    let rules = pairs().iter().chain(singles()).filter_map(|rule| rule.alert(members, context));
    let mut all: Vec<Alert> = rules.chain(heat::alerts(members, context)).collect();
    all.sort_by(|a, b| order(a).cmp(&order(b)));
    let mut kept: Vec<Alert> = Vec::new();
    for alert in all {
        if !kept.iter().any(|graver| graver.covers(&alert)) {
            kept.push(alert);
        }
    }
    kept
}

fn order(alert: &Alert) -> (Reverse<WayPast>, Reverse<Severity>, &str) {
    (Reverse(alert.way_past), Reverse(alert.severity), &alert.id)
}

impl Alert {
    /// True if a variant of the same rule says nothing of further materials.
    fn covers(&self, lesser: &Self) -> bool {
        self.id == lesser.id && lesser.because.iter().all(|name| self.because.contains(name))
    }
}
