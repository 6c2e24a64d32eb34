//! Candidates in JSON.

use serde_json::{Value, json};

use crate::component::Moistness;
use crate::compose::candidates::{LimitKind, Limits, Place, Verdict};
use crate::report::view::{Candidate, CandidateList, CandidatesView, ranking_rule};

/// `{limits, ratios, counts, ranking, candidates: [{rank, place, components, …}]}`; what is not known is null, with what
/// is missing beside it.
pub fn candidates_answer(view: &CandidatesView) -> Value {
    json!({
        "proposes_to_test": true,
        "lists": view.lists.iter().map(list).collect::<Vec<_>>(),
        "ratios": view.ratios.moles,
        "ratios_by_default": view.ratios.by_default,
        "limits": limits(&view.limits),
        "currency": view.prices.currency,
        "scheme": view.scheme.word(),
        "counts": {
            "candidates": view.candidates.len(),
            "meets": view.count(Place::Meets),
            "open": view.count(Place::Open),
            "misses": view.count(Place::Misses),
            "refused": view.count(Place::Refused),
            "left_out_with_itself": view.with_itself,
            "left_out_same_composition": view.again,
        },
        "ranking": ranking_rule(),
        "candidates": view.listed().enumerate().map(|(at, own)| candidate(at + 1, own)).collect::<Vec<_>>(),
    })
}

fn list(list: &CandidateList) -> Value {
    let ids: Vec<&str> = list.components.iter().map(|own| own.id.as_str()).collect();
    json!({"place": list.flag, "components": ids, "by_default": list.by_default})
}

fn limits(limits: &Limits) -> Value {
    json!({
        "liquid_at_k": limits.liquid_at_k,
        "hazards_below": limits.hazards_below,
        "alerts_below": limits.alerts_below,
        "price_below_per_kg": limits.price_below_per_kg,
        "hygroscopic_below": limits.hygroscopic_below,
        "in_house_g": limits.in_house_g,
    })
}

fn candidate(rank: usize, own: &Candidate) -> Value {
    let [met, missed, open] = own.standing.counts();
    json!({
        "rank": rank,
        "place": own.standing.place(),
        "recipe": own.combination.shorthand(),
        "components": components(own),
        "limits_met": met,
        "limits_not_met": missed,
        "limits_open": open,
        "liquidus": liquidus(own),
        "hazards": hazards(own),
        "alerts": alerts(own),
        "price": json!({
            "verdict": verdict(own, LimitKind::Price),
            "per_kg": own.price.per_kg,
            "missing": own.price.missing,
        }),
        "hygroscopic": hygroscopic(own),
        "house": json!({
            "verdict": verdict(own, LimitKind::InHouse),
            "largest_batch_g": own.house.batch_g,
            "ends_first": own.house.ends_first,
            "missing": if own.house.batch_g.is_none() { vec!["what is in the house"] } else { Vec::new() },
        }),
        "known_from": own.recipes.iter().map(|recipe| json!({"recipe": recipe.name, "source": recipe.source})).collect::<Vec<_>>(),
    })
}

fn verdict(own: &Candidate, kind: LimitKind) -> Option<Verdict> {
    own.standing.verdict(kind)
}

fn components(own: &Candidate) -> Vec<Value> {
    let shares = own.combination.mass_fractions();
    let parts = own.combination.parts.iter().zip(own.combination.mole_fractions()).enumerate();
    parts
        .map(|(at, ((component, moles), fraction))| {
            json!({
                "component": component.id,
                "ratio": moles,
                "mole_fraction": fraction,
                "mass_fraction": shares.as_ref().map(|shares| shares[at]),
            })
        })
        .collect()
}

fn liquidus(own: &Candidate) -> Value {
    let deciding = own.facts.liquid.deciding();
    let sets = own.ideal.sets.iter().map(|set| {
        let sources: Vec<&String> = set.fusion.iter().map(|(_, source)| source).collect();
        json!({"temperature_k": set.temperature.kelvin(), "solid": set.solid, "sources": sources})
    });
    let measured = own.measured.iter().map(|point| {
        json!({
            "temperature_k": point.temperature.kelvin(), "is_least": point.is_least, "what": point.what,
            "source": point.source,
        })
    });
    json!({
        "verdict": verdict(own, LimitKind::LiquidAt),
        "basis": deciding.map(|(basis, ..)| basis),
        "low_k": deciding.map(|(_, low, _)| low),
        "high_k": deciding.map(|(_, _, high)| high),
        "ideal": sets.collect::<Vec<_>>(),
        "measured": measured.collect::<Vec<_>>(),
        "seen_liquid": own.seen.as_ref().map(|seen| json!({
            "temperature_k": seen.temperature.kelvin(), "property": seen.property, "source": seen.source,
        })),
        "missing": own.ideal.missing,
    })
}

fn hazards(own: &Candidate) -> Value {
    let hazards = &own.hazards;
    json!({
        "verdict": verdict(own, LimitKind::Hazards),
        "signal_word": hazards.signal.worst,
        "complete": hazards.signal.complete,
        "classes": hazards.classes,
        "h_codes": hazards.h_codes,
        "presumed": hazards.presumed,
        "missing": hazards.missing,
    })
}

fn alerts(own: &Candidate) -> Value {
    let each = own.alerts.iter().map(|alert| {
        json!({"id": alert.id, "severity": alert.severity, "title": alert.title, "reason": alert.reason})
    });
    json!({
        "verdict": verdict(own, LimitKind::Alerts),
        "worst": own.facts.alerts.worst,
        "each": each.collect::<Vec<_>>(),
    })
}

fn hygroscopic(own: &Candidate) -> Value {
    let parts = own.combination.parts.iter().filter(|(component, _)| !component.is_water());
    let missing: Vec<&str> = parts
        .filter(|(component, _)| component.hygroscopic.is_none())
        .map(|(component, _)| component.name.as_str())
        .collect();
    json!({
        "verdict": verdict(own, LimitKind::Hygroscopic),
        "level": own.facts.hygroscopic.worst.map(Moistness::word),
        "complete": own.facts.hygroscopic.complete,
        "missing": missing,
    })
}
