//! Re-targeting random plans after random weighings.

use meltbook::plan::{Plan, Retarget, Targets, Weighed, accept, retarget};
use meltbook::plan::{PlanRequest, Size, plan};
use proptest::prelude::*;
use proptest::sample::Index;

use super::mixture::{Mixture, mixture};
use super::plan::check_statements;
use crate::setup::{grams, table, weighed};

/// One weighing: which line, and which part of its target.
type Weighing = (Index, f64);

fn weighings(count: std::ops::RangeInclusive<usize>) -> impl Strategy<Value = Vec<Weighing>> {
    let share = (300u32..1400).prop_map(|share| f64::from(share) / 1000.0);
    prop::collection::vec((any::<Index>(), share), count)
}

/// The weighings on a plan; a line drawn twice was weighed in two portions.
fn on(plan: &Plan, weighings: &[Weighing]) -> Vec<Weighed> {
    let one = |(index, share): &Weighing| {
        let line = &plan.lines[index.index(plan.lines.len())];
        weighed(line.component.id.as_str(), line.weigh.get() * share)
    };
    weighings.iter().map(one).collect()
}

fn planned(mixture: &Mixture) -> Option<Plan> {
    plan(mixture.request(Size::Mass(grams(80.0))), table()).ok()
}

fn in_flask(weighed: &[Weighed], id: &str) -> f64 {
    weighed.iter().filter(|w| w.component.as_str() == id).map(|w| w.mass.value.get()).sum()
}

/// What is in the flask when all that is to be added is in.
fn after(weighed: &[Weighed], now: &Retarget) -> Vec<(String, f64)> {
    let mass = |id: &str, add: f64| (id.to_owned(), in_flask(weighed, id) + add);
    now.lines.iter().map(|line| mass(line.component.as_str(), line.add.get())).collect()
}

proptest! {
    /// Nothing is taken out, and when the rest is in, every statement of the recipe holds again.
    #[test]
    fn rest_restores_every_statement(mixture in mixture(), weighings in weighings(1..=4)) {
        let Some(plan) = planned(&mixture) else { return Ok(()) };
        let weighed = on(&plan, &weighings);
        let now = retarget(&plan.targets(), &weighed).unwrap();
        prop_assert_eq!(now.lines.len(), plan.lines.len());
        for line in &now.lines {
            prop_assert!(0.0 <= line.add.get() && line.add.get().is_finite());
            prop_assert_eq!(line.missing.get(), 0.0);
            let mass = in_flask(&weighed, line.component.as_str());
            prop_assert!((line.weighed.map_or(0.0, |mass| mass.get()) - mass).abs() <= 1e-12 * mass);
        }
        let masses = after(&weighed, &now);
        let flask = mixture.flask(&masses);
        let dry_first = plan.dry_first.map_or(0.0, |mass| mass.get()) * now.growth;
        check_statements(&mixture, &flask, dry_first)?;
        prop_assert!((flask.mass() / now.batch.get() - 1.0).abs() <= 1e-9);
        prop_assert!(1.0 - 1e-12 <= now.growth);
        prop_assert!(now.deviation_after <= 1e-9);
    }

    /// As little as possible: the largest overshoot alone sets the batch, and without one it stays.
    #[test]
    fn batch_grows_by_the_largest_overshoot(mixture in mixture(), weighings in weighings(1..=4)) {
        let Some(plan) = planned(&mixture) else { return Ok(()) };
        let weighed = on(&plan, &weighings);
        let now = retarget(&plan.targets(), &weighed).unwrap();
        let overshoot = |line: &meltbook::plan::Line| {
            in_flask(&weighed, line.component.id.as_str()) / line.weigh.get()
        };
        let largest = plan.lines.iter().map(overshoot).fold(1.0, f64::max);
        prop_assert!((now.growth / largest - 1.0).abs() <= 1e-9, "{} {largest}", now.growth);
    }

    /// The ratio as it stands is that of the masses, and its deviation is what it is off by.
    #[test]
    fn ratio_as_weighed_is_that_of_the_masses(mixture in mixture(), weighings in weighings(1..=3)) {
        let Some(plan) = planned(&mixture) else { return Ok(()) };
        let weighed = on(&plan, &weighings);
        let now = retarget(&plan.targets(), &weighed).unwrap();
        let mass = |line: &meltbook::plan::Line| {
            let own = in_flask(&weighed, line.component.id.as_str());
            if own == 0.0 { line.weigh.get() } else { own }
        };
        let masses: Vec<(String, f64)> =
            plan.lines.iter().map(|line| (line.component.id.to_string(), mass(line))).collect();
        let units = mixture.flask(&masses).ratio_units();
        let parts: Vec<_> = plan.parts().collect();
        prop_assert_eq!(parts.len(), now.ratio_if_nothing_added.len());
        let mut largest: f64 = 0.0;
        for (place, part) in parts.iter().enumerate() {
            let off = units[place] / units[0];
            largest = largest.max((off - 1.0).abs());
            let made = now.ratio_if_nothing_added[place].1 / part.ratio().unwrap();
            prop_assert!((made / off - 1.0).abs() <= 1e-9, "{made} {off}");
        }
        prop_assert!((now.deviation_if_nothing_added - largest).abs() <= 1e-9);
    }

    /// Read back from a record, the targets give every digit of the same answer.
    #[test]
    fn frozen_targets_answer_the_same(mixture in mixture(), weighings in weighings(1..=3)) {
        let Some(plan) = planned(&mixture) else { return Ok(()) };
        let weighed = on(&plan, &weighings);
        let frozen = serde_json::to_string(&plan.targets()).unwrap();
        let read: Targets = serde_json::from_str(&frozen).unwrap();
        prop_assert_eq!(retarget(&read, &weighed), retarget(&plan.targets(), &weighed));
        prop_assert_eq!(accept(&read, &weighed), accept(&plan.targets(), &weighed));
    }

    /// A stock that is too small ends it: what can be added, and what is missing.
    #[test]
    fn small_stock_says_what_is_missing(
        mixture in mixture(), weighings in weighings(1..=3), which in any::<Index>(), stock in 0u32..200,
    ) {
        let Some(free) = planned(&mixture) else { return Ok(()) };
        let id = free.lines[which.index(free.lines.len())].component.id.clone();
        let stock = f64::from(stock) / 10.0;
        let mut request = PlanRequest { ..free.request.clone() };
        request.supplies.retain(|supply| supply.component != id);
        request.supplies.push(mixture.stocked(id.as_str(), stock));
        let plan = plan(request, table()).unwrap();
        let weighed = on(&free, &weighings);
        let (unlimited, now) = (retarget(&free.targets(), &weighed).unwrap(), retarget(&plan.targets(), &weighed).unwrap());
        for (line, wanted) in now.lines.iter().zip(&unlimited.lines) {
            let wanted = wanted.add.get();
            let (add, missing) = (line.add.get(), line.missing.get());
            if line.component == id {
                prop_assert!(add <= stock);
                prop_assert!((missing - (wanted - stock).max(0.0)).abs() <= 1e-9);
            }
            prop_assert!((add + missing - wanted).abs() <= 1e-9 * wanted.max(1.0));
        }
        let is_part = plan.parts().any(|part| part.component.id == id);
        let missing: f64 = now.lines.iter().map(|line| line.missing.get()).sum();
        let several = 1 < plan.parts().count();
        // A missing addition may bring water that the ratio counts; a missing part always shows.
        prop_assert!(missing == 0.0 || !is_part || !several || 0.0 < now.deviation_after);
        prop_assert!(0.0 < missing || now.deviation_after <= 1e-9);
    }
}

#[test]
fn what_the_recipe_lacks_is_refused() {
    let plan = crate::setup::planned(crate::setup::request("ChCl:urea 1:2", Size::Mass(grams(50.0))));
    let error = retarget(&plan.targets(), &[weighed("glycerol", 1.0)]).unwrap_err();
    assert_eq!(error.to_string(), "glycerol is not in the recipe");
}
