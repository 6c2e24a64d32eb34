//! What the rules know of each component of a mixture, and how much of it is there.

use super::class::{Class, Kind};
use super::limit::{Exposure, OwnLimits};
use super::rules::RULES;
use crate::component::{Component, Composition, HazardBasis, Role, State};

/// A component at its concentration. A hydrate and its anhydrous substance are one ingredient.
#[derive(Debug, Clone)]
pub(super) struct Ingredient {
    /// Id of the anhydrous substance.
    pub(super) key: String,
    pub(super) name: String,
    /// Concentration in % by mass, without crystal water.
    pub(super) percent: f64,
    pub(super) classes: Vec<Class>,
    pub(super) limits: OwnLimits,
    /// Codes as the source writes them: H360FD.
    pub(super) codes: Vec<String>,
    pub(super) euh: Vec<String>,
    pub(super) ate_oral: Option<f64>,
    pub(super) basis: HazardBasis,
    pub(super) confidence: Option<String>,
    pub(super) gas: bool,
    /// Additivity does not apply to it for skin and eye.
    pub(super) not_additive: bool,
    /// An acid or a base whose pH is expected at one of the ends.
    pub(super) extreme_ph: Option<Extreme>,
}

/// The end of the pH scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Extreme {
    Acid,
    Base,
}

/// The components of a composition other than water, and what nobody knows, in %.
pub(super) fn ingredients(composition: &Composition) -> (Vec<Ingredient>, f64) {
    let mass = composition.mass().get();
    let mut all: Vec<Ingredient> = Vec::new();
    for constituent in &composition.constituents {
        let percent = 100.0 * constituent.anhydrous.get() / mass;
        let next = Ingredient::new(&constituent.component, percent);
        match all.iter_mut().find(|known| known.key == next.key) {
            Some(known) => known.take_in(next),
            None if 0.0 < percent => all.push(next),
            None => {}
        }
    }
    // No answer depends on the order of the lines.
    all.sort_by(|a, b| b.percent.total_cmp(&a.percent).then_with(|| a.key.cmp(&b.key)));
    (all, 100.0 * composition.unknown.get() / mass)
}

impl Ingredient {
    fn new(component: &Component, percent: f64) -> Self {
        let hazard = &component.hazard;
        Self {
            key: component.hydrate_of.as_ref().unwrap_or(&component.id).to_string(),
            name: component.name.clone(),
            percent,
            classes: Class::all_of(&hazard.codes, &hazard.classes),
            limits: hazard.limits.as_deref().map(OwnLimits::read).unwrap_or_default(),
            codes: hazard.codes.clone(),
            euh: hazard.euh.clone(),
            ate_oral: hazard.ate_oral_mg_per_kg,
            basis: hazard.basis,
            confidence: hazard.confidence.clone(),
            gas: component.state == Some(State::Gas),
            not_additive: not_additive(component),
            extreme_ph: extreme_ph(component),
        }
    }

    /// A hydrate beside its anhydrous substance: amounts add up, and all that either source says counts. A form of which
    /// nothing was found stays a gap, whatever is known of the other: a trace of that would else make the whole known.
    fn take_in(&mut self, other: Self) {
        self.percent += other.percent;
        if (other.name.len(), &other.name) < (self.name.len(), &self.name) {
            self.name = other.name;
        }
        self.classes.extend(other.classes);
        self.classes.sort();
        self.classes.dedup_by_key(|class| class.kind);
        let known = self.limits.clone();
        self.limits.classes.extend(other.limits.classes.into_iter().filter(|l| !known.classes.contains(l)));
        self.limits.estimates.extend(other.limits.estimates);
        self.limits.m_acute = larger(known.m_acute, other.limits.m_acute);
        self.limits.m_chronic = larger(known.m_chronic, other.limits.m_chronic);
        self.limits.euh.extend(other.limits.euh);
        self.codes.extend(other.codes);
        self.euh.extend(other.euh.into_iter().filter(|code| !self.euh.contains(code)).collect::<Vec<_>>());
        self.ate_oral = match (self.ate_oral, other.ate_oral) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        if other.basis == HazardBasis::NoneFound {
            self.basis = other.basis;
        }
        self.not_additive |= other.not_additive;
        self.extreme_ph = self.extreme_ph.or(other.extreme_ph);
    }

    /// Its class of a kind.
    pub(super) fn class(&self, kind: Kind) -> Option<Class> {
        self.classes.iter().copied().find(|class| class.kind == kind)
    }

    /// The lowest own limit for a class of this kind that `fits`.
    pub(super) fn own_limit(&self, kind: Kind, fits: impl Fn(Class) -> bool) -> Option<f64> {
        let limits = self.limits.classes.iter().filter(|limit| limit.class.kind == kind && fits(limit.class));
        limits.map(|limit| limit.from).min_by(f64::total_cmp)
    }

    /// True if it has a limit of its own for this kind.
    pub(super) fn has_own_limit(&self, kind: Kind) -> bool {
        self.own_limit(kind, |_| true).is_some()
    }

    /// True if no source of its hazards was found.
    pub(super) fn is_unknown(&self) -> bool {
        self.basis == HazardBasis::NoneFound
    }

    /// The toxicity estimate that a source gives for a way in.
    pub(super) fn estimate(&self, exposure: Exposure) -> Option<f64> {
        let own = self.limits.estimates.iter().filter(|(way, _)| *way == exposure).map(|(_, value)| *value);
        let oral = self.ate_oral.filter(|_| exposure == Exposure::Oral);
        own.chain(oral).min_by(f64::total_cmp)
    }
}

fn larger(a: Option<f64>, b: Option<f64>) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.max(b)),
        (a, b) => a.or(b),
    }
}

fn in_group(component: &Component, name: &str) -> bool {
    component.groups.iter().any(|group| group.as_str() == name)
}

/// Acids, bases, inorganic salts, aldehydes and phenols (GHS 3.2.3.3.4).
fn not_additive(component: &Component) -> bool {
    RULES.not_additive.groups.iter().any(|group| in_group(component, group)) || is_inorganic_salt(component)
}

fn is_inorganic_salt(component: &Component) -> bool {
    let without_carbon = component
        .formula
        .as_ref()
        .is_some_and(|formula| !formula.atoms().any(|(element, _)| element.symbol() == "C"));
    without_carbon && component.roles.contains(&Role::Salt)
}

fn extreme_ph(component: &Component) -> Option<Extreme> {
    if ["base-strong", "hypochlorite"].iter().any(|group| in_group(component, group)) {
        return Some(Extreme::Base);
    }
    let acid = ["extreme-ph", "acid-mineral"].iter().any(|group| in_group(component, group));
    acid.then_some(Extreme::Acid)
}
