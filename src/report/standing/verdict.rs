//! The latest of a batch against the limits of its recipe.

use jiff::Timestamp;

use super::Standing;
use crate::component::RatioBasis;
use crate::plan::{Made, TargetLine};
use crate::quantity::Property;
use crate::record::limit::{Comparison, Facts, compare};

/// Each limit compared with the latest.
pub(super) fn comparisons(standing: &Standing, now: Timestamp) -> Vec<Comparison> {
    let limits = standing.life.plan().map(|plan| plan.limits.as_slice()).unwrap_or_default();
    compare(limits, &facts(standing, now))
}

fn facts(standing: &Standing, now: Timestamp) -> Facts {
    let life = &standing.life;
    let properties = life.properties.iter().filter_map(|measured| {
        let at = measured.what.temperature.as_ref().map(|at| at.value);
        Some((Property::from_id(&measured.what.property)?, measured.what.value, at))
    });
    let last_put_in = life.put_in.last().map_or(0, |put| put.entry);
    let titrated = standing.titrated.as_ref().map(|made| {
        let since = life.water.last().is_some_and(|water| water.entry < last_put_in);
        let words = if since { " by titration and what was put in since" } else { " by titration" };
        (made.water.fraction.get(), words.to_owned())
    });
    Facts {
        deviations: deviations(standing),
        tolerance: life.plan().map(|plan| plan.tolerance),
        water: titrated,
        properties: properties.collect(),
        clarity: life.appearance.last().map(|look| look.what.clarity.clone()),
        age_s: life.finished.as_ref().map(|finished| now.duration_since(finished.what.at).as_secs_f64()),
    }
}

/// Each component but the first part and added water, as it stands to the first part.
fn deviations(standing: &Standing) -> Vec<(String, Option<f64>)> {
    let Some(targets) = &standing.targets else { return Vec::new() };
    let made = standing.made.as_ref();
    let Some(first) = targets.parts().next() else { return Vec::new() };
    let ratio_of = |line: &TargetLine| {
        let made = made?;
        if let (Some(own), Some(ratio)) = (first.ratio(), line.ratio()) {
            let found = made.ratios.iter().find(|found| found.component.id == line.component)?;
            return Some(found.value / (ratio / own) - 1.0);
        }
        let counted = |line: &TargetLine| Some(counted(made, line, targets.basis)? / line.counted);
        Some(counted(line)? / counted(first)? - 1.0)
    };
    let mut deviations: Vec<(String, Option<f64>)> = Vec::new();
    if made.is_none_or(|made| counted(made, first, targets.basis).is_none() && !first.is_water()) {
        deviations.push((first.component.to_string(), None));
    }
    let others = targets.lines.iter().filter(|line| line.component != first.component);
    let others = others.filter(|line| line.ratio().is_some() || !line.is_water());
    deviations.extend(others.map(|line| (line.component.to_string(), ratio_of(line))));
    deviations
}

/// What the ratio counts of a component.
fn counted(made: &Made, line: &TargetLine, basis: RatioBasis) -> Option<f64> {
    let own = made.estimates.components.iter().find(|own| own.component.id == line.component)?;
    match basis {
        RatioBasis::Mole => own.amount.as_ref().map(|amount| amount.value).or(Some(own.named.value)),
        RatioBasis::Mass => Some(own.named.value),
    }
}
