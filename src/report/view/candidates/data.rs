//! The table for scripts: a row for each candidate, values and verdicts in columns of their own.

use super::model::{Candidate, CandidatesView};
use crate::compose::candidates::{LimitKind, LiquidBasis, Place, Verdict};
use crate::report::document::{Table, column};

const KEYS: [&str; 24] = [
    "rank",
    "place",
    "components",
    "ratio",
    "limits_met",
    "limits_not_met",
    "limits_open",
    "liquid_at",
    "liquidus_low_k",
    "liquidus_high_k",
    "liquidus_basis",
    "hazards",
    "signal_word",
    "h_codes",
    "alerts",
    "worst_alert",
    "price",
    "price_per_kg",
    "currency",
    "hygroscopic",
    "hygroscopic_level",
    "in_house",
    "house_batch_g",
    "known_from",
];

/// Every candidate that is listed.
pub(super) fn table(view: &CandidatesView) -> Table {
    let mut table = Table::new(KEYS.map(|key| column(key).key(key)));
    for (at, own) in view.listed().enumerate() {
        table.push(row(view, at + 1, own));
    }
    table
}

fn row(view: &CandidatesView, rank: usize, own: &Candidate) -> Vec<String> {
    let [met, missed, open] = own.standing.counts();
    let verdict = |kind| own.standing.verdict(kind).map(Verdict::words).unwrap_or_default().to_owned();
    let number = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
    let ids: Vec<&str> = own.combination.parts.iter().map(|(part, _)| part.id.as_str()).collect();
    let deciding = own.facts.liquid.deciding();
    let recipes: Vec<&str> = own.recipes.iter().map(|recipe| recipe.name.as_str()).collect();
    let hazards = &own.hazards;
    let signal = hazards.signal.worst.filter(|_| hazards.signal.complete || !hazards.classes.is_empty());
    vec![
        rank.to_string(),
        place(own.standing.place()).to_owned(),
        ids.join(" "),
        own.combination.ratio(),
        met.to_string(),
        missed.to_string(),
        open.to_string(),
        verdict(LimitKind::LiquidAt),
        number(deciding.map(|(_, low, _)| low)),
        number(deciding.map(|(_, _, high)| high)),
        deciding.map(|(basis, ..)| basis_word(basis)).unwrap_or_default().to_owned(),
        verdict(LimitKind::Hazards),
        signal.map(super::words::signal_level).unwrap_or_default().to_owned(),
        hazards.h_codes.join(" "),
        verdict(LimitKind::Alerts),
        own.facts.alerts.worst.map(super::words::alert_level).unwrap_or_default().to_lowercase(),
        verdict(LimitKind::Price),
        number(own.price.per_kg),
        own.price.per_kg.and(view.prices.currency.clone()).unwrap_or_default(),
        verdict(LimitKind::Hygroscopic),
        own.facts.hygroscopic.worst.map(|level| level.word().to_owned()).unwrap_or_default(),
        verdict(LimitKind::InHouse),
        number(own.house.batch_g),
        recipes.join(" "),
    ]
}

fn place(place: Place) -> &'static str {
    match place {
        Place::Meets => "meets",
        Place::Open => "open",
        Place::Misses => "misses",
        Place::Refused => "refused",
    }
}

fn basis_word(basis: LiquidBasis) -> &'static str {
    match basis {
        LiquidBasis::Measured => "measured",
        LiquidBasis::SeenLiquid => "seen_liquid",
        LiquidBasis::Ideal => "ideal",
    }
}
