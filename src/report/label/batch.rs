//! The label of a batch.

use jiff::civil::Date;
use jiff::{SignedDuration, Timestamp};

use super::content::{AgainstUse, LabelContent};
use super::hazards::LabelHazards;
use crate::component::RatioBasis;
use crate::plan::Made;
use crate::quantity::decimals_for_uncertainty;
use crate::record::life::{BatchStatus, Origin};
use crate::record::limit::LimitOf;
use crate::report::standing::Standing;
use crate::report::view::{day, short};

/// More digits after the point than this nobody reads off a label.
const MOST_DECIMALS: usize = 3;

/// What a batch bears. `today` says whether its date is over, `who` began it.
pub fn batch_label(standing: &Standing, hazards: LabelHazards, who: &str, today: Date) -> LabelContent {
    let life = &standing.life;
    let mut label = LabelContent::new(life.code.to_string(), life.name.as_str())
        .hazards(hazards)
        .permits(life.permits())
        .who(who);
    (label.composition, label.composition_in_short) = composition(standing).unzip();
    label.dated = Some(dated(standing));
    let use_by = use_by(standing);
    label.use_by = use_by.map(|on| on.to_string());
    match against(standing, use_by.is_some_and(|on| on < today)) {
        Some((what, why)) => label.against(what, why),
        None => label,
    }
}

/// Real ratio, what else is in it, and water: with the names, and in short. `None` while nothing is in it.
fn composition(standing: &Standing) -> Option<(String, String)> {
    let made = standing.titrated.as_ref().or(standing.made.as_ref())?;
    let ratio = standing.ratio();
    let names = ratio.iter().map(|(name, ..)| name.as_str()).collect::<Vec<_>>().join(":");
    let numbers = ratio.iter().map(number).collect::<Vec<_>>().join(":");
    let by_mass = if standing.basis() == RatioBasis::Mass { " by mass" } else { "" };
    let mut rest: Vec<String> = Vec::new();
    let mass = made.composition.mass();
    for constituent in &made.composition.constituents {
        let component = &constituent.component;
        let is_part = ratio.iter().any(|(name, ..)| *name == component.id.as_str());
        if !is_part && !component.is_water() {
            let share = short(100.0 * (constituent.anhydrous / mass), 3);
            rest.push(format!("{} {share} wt%", component.id));
        }
    }
    let (water, titrated) = standing.water_now()?;
    let how = if titrated { "titrated" } else { "by weighing" };
    let water = format!("water {} wt%", short(100.0 * water, 3));
    // One part alone has no ratio.
    let (long, brief) = match ratio.len() {
        0 | 1 => (names.clone(), names),
        _ => {
            let short_names =
                ratio.iter().map(|(name, ..)| short_name(made, name)).collect::<Vec<_>>().join(":");
            (format!("{names} {numbers}{by_mass}"), format!("{short_names} {numbers}{by_mass}"))
        }
    };
    let joined =
        |parts: Vec<String>| parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("; ");
    let long = [vec![long], rest, vec![format!("{water} {how}")]].concat();
    Some((joined(long), joined(vec![brief, water])))
}

/// The shortest name that the component table knows for a component, such as ChCl.
fn short_name(made: &Made, id: &str) -> String {
    let component = made.composition.constituent(id).map(|constituent| &constituent.component);
    let aliases = component.into_iter().flat_map(|component| &component.aliases);
    let shortest = aliases.map(String::as_str).chain([id]).min_by_key(|name| name.chars().count());
    shortest.unwrap_or(id).to_owned()
}

/// One number of the ratio, to the digits of its uncertainty.
fn number((_, value, uncertainty): &(String, f64, Option<f64>)) -> String {
    match uncertainty {
        Some(uncertainty) if 0.0 < *uncertainty => {
            let decimals = decimals_for_uncertainty(*uncertainty, MOST_DECIMALS).min(MOST_DECIMALS);
            format!("{value:.decimals$}")
        }
        _ => short(*value, 4),
    }
}

/// What was done on which day.
fn dated(standing: &Standing) -> (String, String) {
    let life = &standing.life;
    let (what, at) = match (&life.finished, &life.origin) {
        (Some(finished), _) => ("made", finished.what.at),
        (None, Origin::Blended(blended)) => ("blended", blended.at),
        (None, Origin::Planned(started)) => ("begun", started.at),
    };
    (what.to_owned(), day(at, &standing.zone))
}

/// The last day on which it is no older than its recipe allows. `None` if the recipe says nothing of age.
fn use_by(standing: &Standing) -> Option<Date> {
    let made: Timestamp = standing.life.finished.as_ref()?.what.at;
    let limits = standing.life.plan().map(|plan| plan.limits.as_slice()).unwrap_or_default();
    let ages = limits.iter().filter(|limit| limit.of == LimitOf::Age).filter_map(|limit| limit.high);
    let oldest = ages.reduce(f64::min)?;
    let until = made.checked_add(SignedDuration::try_from_secs_f64(oldest).ok()?).ok()?;
    Some(until.to_zoned_datetime(standing.zone.clone()).date())
}

fn against(standing: &Standing, is_over: bool) -> Option<(AgainstUse, Option<String>)> {
    let life = &standing.life;
    let why = || life.rejected.as_ref().map(|rejected| rejected.what.reason.clone());
    match life.status {
        BatchStatus::Rejected => Some((AgainstUse::Rejected, why())),
        BatchStatus::Started => {
            Some((AgainstUse::NotFinished, Some("its composition may change".to_owned())))
        }
        BatchStatus::Finished | BatchStatus::Released => is_over.then_some((AgainstUse::PastItsDate, None)),
    }
}
