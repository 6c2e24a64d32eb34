//! What is not known of the candidates that are shown, so that it can be looked up or measured.

use super::model::{Candidate, CandidatesView};
use crate::report::document::{Block, bullets, heading};

/// One point for each kind of data that is missing; nothing where nothing is.
pub(super) fn missing(view: &CandidatesView, shown: &[&Candidate]) -> Vec<Block> {
    let priced = !view.prices.per_gram.is_empty();
    let kinds = [
        ("For a liquidus", names(shown, fusion)),
        ("Hazard data", names(shown, |own| own.hazards.missing.clone())),
        ("Price", names(shown, |own| if priced { own.price.missing.clone() } else { Vec::new() })),
        ("Water uptake", names(shown, water_uptake)),
    ];
    let known = |(_, names): &(&str, Vec<String>)| !names.is_empty();
    let points: Vec<String> = kinds
        .into_iter()
        .filter(known)
        .map(|(kind, names)| format!("{kind}: {}.", names.join(", ")))
        .collect();
    if points.is_empty() {
        return Vec::new();
    }
    vec![heading(1, "What is missing"), bullets(points).into()]
}

fn names(shown: &[&Candidate], of: impl Fn(&Candidate) -> Vec<String>) -> Vec<String> {
    let mut names: Vec<String> = shown.iter().flat_map(|own| of(own)).collect();
    names.sort();
    names.dedup();
    names
}

/// Where something else decides, fusion data are not missed.
fn fusion(own: &Candidate) -> Vec<String> {
    if own.facts.liquid.deciding().is_some() { Vec::new() } else { own.ideal.missing.clone() }
}

fn water_uptake(own: &Candidate) -> Vec<String> {
    let parts = own.combination.parts.iter().map(|(component, _)| component);
    let without = parts.filter(|own| own.hygroscopic.is_none() && !own.is_water());
    without.map(|own| own.name.clone()).collect()
}
