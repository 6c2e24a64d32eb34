//! Batches that hold more than the components that were named: other liquids, which the fractions of those don't describe.

use crate::component::{Component, Composition, Shares};
use crate::input::Warning;

/// What is neither named nor water may come to this share of the moles: an additive, not another liquid.
const MOST_OTHERS: f64 = 0.05;
/// Water may, unless it is named: what a liquid draws in, about a twentieth of its mass.
const MOST_WATER: f64 = 0.20;
/// Less of a component than this is not worth its name.
const TRACE: f64 = 0.005;

/// Batches that are left out for what else they hold: the code of each with the names.
#[derive(Default)]
pub(super) struct OtherLiquids {
    others: Vec<(String, Vec<String>)>,
    wet: Vec<String>,
}

impl OtherLiquids {
    /// True if the batch holds too much beside the components of these ids, and so is left out. A component that has no molar mass
    /// counts by mass.
    pub(super) fn takes(&mut self, code: &str, composition: &Composition, named: &[&str]) -> bool {
        let share = |own: &Shares| own.mole_fraction.map_or(own.mass_fraction.get(), |x| x.get());
        let shares = composition.shares(None);
        let is_other = |own: &&Shares| !named.contains(&own.component.as_str());
        let (water, others): (Vec<&Shares>, Vec<&Shares>) =
            shares.iter().filter(is_other).partition(|own| own.component == Component::WATER);
        let sum = |of: &[&Shares]| of.iter().map(|own| share(own)).sum::<f64>();
        if MOST_OTHERS < sum(&others) {
            let worth = others.iter().filter(|own| TRACE < share(own));
            self.others.push((code.to_owned(), worth.map(|own| own.component.clone()).collect()));
            return true;
        }
        let is_wet = MOST_WATER < sum(&water);
        if is_wet {
            self.wet.push(code.to_owned());
        }
        is_wet
    }

    /// Which batches are left out, why, and the way out.
    pub(super) fn warnings(&self) -> impl Iterator<Item = Warning> {
        let codes: Vec<&str> = self.others.iter().map(|(code, _)| code.as_str()).collect();
        let mut names: Vec<&str> =
            self.others.iter().flat_map(|(_, names)| names).map(String::as_str).collect();
        names.sort_unstable();
        names.dedup();
        let others = (!codes.is_empty()).then(|| {
            format!(
                "left out: {}: more than {} % of the moles are neither of the named components nor water ({}); these are other \
                 liquids: name what they hold in --part, or what was added to them as a --process",
                codes.join(", "),
                100.0 * MOST_OTHERS,
                names.join(", ")
            )
        });
        let wet = (!self.wet.is_empty()).then(|| {
            format!(
                "left out: {}: more than {} % of the moles are water; name it in --part, or as --process water",
                self.wet.join(", "),
                100.0 * MOST_WATER
            )
        });
        others.into_iter().chain(wet).map(|message| Warning::new("batches_left_out", message))
    }
}
