//! All bottles of a shelf: storage classes, what to keep apart, waste streams.

use std::cmp::Reverse;
use std::sync::Arc;

use serde::Serialize;

use super::component_hazard::ComponentHazard;
use super::practice::deferral;
use super::rule::{Rule, pairs};
use super::scheme::Scheme;
use super::severity::Severity;
use super::storage::{StorageClass, WasteStream, storage_class, waste_streams};
use super::subject::Member;
use crate::component::Component;

/// A bottle, or another container, of a component.
#[derive(Debug, Clone)]
pub struct ShelfItem {
    /// What it is called: the code of a bottle.
    pub label: String,
    /// What is in it.
    pub component: Arc<Component>,
}

/// What is to be known of a shelf.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ShelfReview {
    /// The scheme of the statements.
    pub scheme: &'static str,
    /// Its name with its edition.
    pub scheme_title: &'static str,
    /// What to keep apart, the gravest first.
    pub apart: Vec<Apart>,
    /// Each bottle, in the order given.
    pub bottles: Vec<OnShelf>,
    /// Waste streams for what is in them.
    pub waste: Vec<WasteStream>,
    /// Who decides.
    pub deferral: Vec<String>,
}

/// A bottle on the shelf.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OnShelf {
    /// Its code.
    pub bottle: String,
    /// Id of the component.
    pub component: String,
    /// Its name.
    pub name: String,
    /// The graver signal word.
    pub signal_word: Option<String>,
    /// Its H codes.
    pub h_codes: Vec<String>,
    /// Its storage class; `None` where no hazard data was found.
    pub storage_class: Option<StorageClass>,
    /// What is missing, in words.
    pub missing: Option<String>,
}

/// Two sets of bottles that are kept apart.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Apart {
    /// Id of the rule.
    pub id: String,
    /// How grave it is.
    pub severity: Severity,
    /// What would meet what.
    pub title: String,
    /// What would happen.
    pub reason: String,
    /// Bottles on one side, as "B1 urea".
    pub these: Vec<String>,
    /// Bottles on the other.
    pub from: Vec<String>,
    /// The source.
    pub source: String,
}

/// Reviews the bottles of a shelf. Rules that need three materials or a certain handling are left to the cautions of
/// a recipe.
pub fn review_shelf(items: &[ShelfItem], scheme: Scheme) -> ShelfReview {
    let plain = pairs().iter().filter(|rule| rule.when.is_empty() && rule.sides.len() == 2);
    let grave = plain.filter(|rule| Severity::Warn <= rule.severity);
    let mut apart: Vec<Apart> = grave.filter_map(|rule| Apart::of(rule, items)).collect();
    apart.sort_by(|a, b| (Reverse(a.severity), &a.id).cmp(&(Reverse(b.severity), &b.id)));
    let mut kept: Vec<Apart> = Vec::new();
    for one in apart {
        if !kept.iter().any(|graver| graver.covers(&one)) {
            kept.push(one);
        }
    }
    let named: Vec<(String, Member<'_>)> =
        items.iter().map(|item| (item.in_words(), Member::of_component(&item.component))).collect();
    ShelfReview {
        scheme: scheme.word(),
        scheme_title: scheme.title(),
        apart: kept,
        bottles: items.iter().map(|item| OnShelf::new(item, scheme)).collect(),
        waste: waste_streams(&named),
        deferral: deferral(),
    }
}

impl ShelfItem {
    fn in_words(&self) -> String {
        format!("{} {}", self.label, self.component.name)
    }
}

impl OnShelf {
    fn new(item: &ShelfItem, scheme: Scheme) -> Self {
        let hazard = ComponentHazard::new(&item.component, scheme);
        Self {
            bottle: item.label.clone(),
            component: hazard.component,
            name: hazard.name,
            signal_word: hazard.signal_word,
            h_codes: hazard.h_codes,
            storage_class: storage_class(&item.component),
            missing: hazard.missing,
        }
    }
}

impl Apart {
    /// True if a variant of the same rule says nothing of further bottles.
    fn covers(&self, lesser: &Self) -> bool {
        let all = |own: &[String], other: &[String]| other.iter().all(|name| own.contains(name));
        self.id == lesser.id && all(&self.these, &lesser.these) && all(&self.from, &lesser.from)
    }

    /// The bottles on the two sides of a rule; `None` unless two different components meet by it.
    fn of(rule: &Rule, items: &[ShelfItem]) -> Option<Self> {
        let on = |side: usize, item: &&ShelfItem| {
            let member = Member::of_component(&item.component);
            rule.sides[side].any.iter().any(|selector| selector.fits(&member))
        };
        let (these, from): (Vec<&ShelfItem>, Vec<&ShelfItem>) = (
            items.iter().filter(|item| on(0, item)).collect(),
            items.iter().filter(|item| on(1, item)).collect(),
        );
        let other = |item: &ShelfItem, all: &[&ShelfItem]| {
            all.iter().any(|other| other.component.id != item.component.id)
        };
        let these_apart: Vec<String> =
            these.iter().filter(|item| other(item, &from)).map(|item| item.in_words()).collect();
        let from_apart: Vec<String> =
            from.iter().filter(|item| other(item, &these)).map(|item| item.in_words()).collect();
        (!these_apart.is_empty() && !from_apart.is_empty()).then(|| Self {
            id: rule.id.clone(),
            severity: rule.severity,
            title: rule.title.clone(),
            reason: rule.reason.clone(),
            these: these_apart,
            from: from_apart,
            source: rule.source.clone(),
        })
    }
}
