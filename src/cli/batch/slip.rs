//! A gross slip of the hand or the eye at weighing: a point in the wrong place, or the mass of another component.

use crate::input::Warning;
use crate::record::batch::{FrozenLine, Weighed};
use crate::report::standing::Standing;
use crate::report::view::grams_of;

/// So many times its target, or this part of it, and a mass is hardly what was meant (an order of magnitude less some room; our own
/// choice).
const TIMES: f64 = 5.0;
/// A mass this near to another component's target, and this far from its own, is taken for that one (our own choice).
const NEAR: f64 = 0.02;
const FAR: f64 = 0.10;

/// What is to be asked of a mass that was just written as entry `entry`; `None` for one that may well be meant.
pub(super) fn slip(standing: &Standing, weighed: &Weighed, entry: u64) -> Option<Warning> {
    let id = weighed.component.as_str();
    let plan = standing.life.plan()?;
    let own = plan.lines.iter().find(|line| line.component.id.as_str() == id)?;
    let mass = weighed.mass.value.get();
    // What the window is around counts, since it has grown with what was weighed before.
    let target = standing.window(id).map_or(own.target_g, |(low, high)| (low + high) / 2.0);
    // Several weighings of one component add up; less than its target is then no slip.
    let total = standing.weighed_g(id).unwrap_or(mass);
    let off = |target: f64| (mass - target).abs() / target;
    let swapped = |line: &&FrozenLine| {
        line.component.id != own.component.id && off(line.target_g) <= NEAR && FAR < off(target)
    };
    let grams = |value: f64| format!("{} g", grams_of(standing, value));
    let asked = if let Some(other) = plan.lines.iter().find(swapped) {
        format!(
            "is about the target of {}, {}, and not that of {id}, {}: were the two swapped",
            other.component.id,
            grams(other.target_g),
            grams(target)
        )
    } else if TIMES * target < total {
        let makes =
            if total == mass { String::new() } else { format!("makes {} in all, which ", grams(total)) };
        format!(
            "{makes}is {:.0} times the target of {id}, {}: is a digit or the point wrong",
            total / target,
            grams(target)
        )
    } else if total < target / TIMES && total == mass && is_shifted(mass, target) {
        format!("is a tenth or less of the target of {id}, {}: is a digit or the point wrong", grams(target))
    } else {
        return None;
    };
    let which = if total == mass { "" } else { " (or the entry of an earlier weighing that was wrong)" };
    let message = format!(
        "{} of {id} {asked}? If it is, mend it{which} with: meltbook correct {entry} --mass \"… g\" --because \"…\", or take it back with: \
         meltbook strike {entry} --because \"…\"",
        weighed.mass.text
    );
    Some(Warning::new("gross_slip", message))
}

/// True if the digits are those of the target with the point elsewhere.
fn is_shifted(mass: f64, target: f64) -> bool {
    let places = (target / mass).log10();
    (places - places.round()).abs() < 0.01
}
