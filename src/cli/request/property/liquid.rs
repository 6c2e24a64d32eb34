//! Which liquid a batch is, so that curves join what is one liquid and nothing else.

use crate::quantity::significant;
use crate::record::batch::FrozenLine;
use crate::report::standing::Standing;

/// Ratios that differ by less than this, relative, are one: what weighing misses a recipe by.
const SAME_RATIO: f64 = 0.02;

/// Components without water, by id, with what the ratio counts of each.
pub(super) type Parts = Vec<(String, f64)>;

/// What a batch holds beside water: as it was weighed, else as it was planned.
pub(super) fn parts(standing: &Standing) -> Parts {
    let made = standing.made.as_ref().map(|made| made.composition.shares(None)).unwrap_or_default();
    let countable = made.iter().all(|own| own.mole_fraction.is_some());
    let amount = |own: &crate::component::Shares| {
        own.mole_fraction.filter(|_| countable).map_or(own.mass_fraction.get(), |x| x.get())
    };
    let weighed = made.iter().map(|own| (own.component.clone(), amount(own)));
    let is_part = |(id, amount): &(String, f64)| id != crate::component::Component::WATER && 0.0 < *amount;
    let weighed: Parts = weighed.filter(is_part).collect();
    let lines = standing.life.plan().map(|plan| plan.lines.as_slice()).unwrap_or_default();
    let planned = lines.iter().map(|line: &FrozenLine| (line.component.id.to_string(), line.counted));
    // While a batch is being weighed it is what it was planned to be.
    let planned: Parts = planned.filter(is_part).collect();
    if weighed.len() < planned.len() { planned } else { weighed }
}

/// True if both hold the same components in the same ratio.
pub(super) fn is_one_liquid(one: &Parts, other: &Parts) -> bool {
    let (one_sum, other_sum) = (total(one), total(other));
    let same = |(id, amount): &(String, f64)| {
        other.iter().any(|(known, own)| {
            known == id && ((own / other_sum) / (amount / one_sum)).ln().abs() <= SAME_RATIO
        })
    };
    one.len() == other.len() && one.iter().all(same)
}

fn total(parts: &Parts) -> f64 {
    parts.iter().map(|(_, amount)| amount).sum()
}

/// "choline-chloride:urea 1:2": in the order of the recipe, against the least.
pub(super) fn words(parts: &Parts) -> String {
    let ids: Vec<&str> = parts.iter().map(|(id, _)| id.as_str()).collect();
    let least = parts.iter().map(|(_, amount)| *amount).fold(f64::INFINITY, f64::min);
    let ratio = |(_, amount): &(String, f64)| {
        let text = significant(amount / least, 3);
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
    };
    format!("{} {}", ids.join(":"), parts.iter().map(ratio).collect::<Vec<_>>().join(":"))
}
