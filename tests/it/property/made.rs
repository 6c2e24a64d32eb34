//! What was put in, put together again: the way back of a plan.

use std::sync::Arc;

use meltbook::component::{Component, Quality};
use meltbook::plan::{
    Balance, Made, MadeAddition, MadeAs, MadeContent, Plan, PlanRequest, Size, Weighing, made, plan, retarget,
};
use meltbook::quantity::{Budget, Mass, MassFraction};
use proptest::prelude::*;

use super::mixture::{Mixture, mixture};
use crate::setup::{balance, grams, table, weighed};

fn planned(mixture: &Mixture, balance: Option<Balance>, weighing: Weighing) -> Option<Plan> {
    let request = mixture.request(Size::Mass(grams(80.0)));
    plan(PlanRequest { balance, weighing, ..request }, table()).ok()
}

fn parts(plan: &Plan) -> Vec<Arc<Component>> {
    plan.parts().map(|line| Arc::clone(&line.component)).collect()
}

/// Every line of the plan put in, times its factor.
fn put_in<'p>(plan: &'p Plan, factors: &[f64]) -> Vec<MadeAddition<'p>> {
    let one = |(place, line): (usize, &'p meltbook::plan::Line)| MadeAddition {
        content: MadeContent::Component {
            component: &line.component,
            quality: &line.supply.quality,
            bottle: None,
        },
        reading: line.weigh * factors.get(place).copied().unwrap_or(1.0),
        balance: plan.request.balance.as_ref(),
        in_air: None,
    };
    plan.lines.iter().enumerate().map(one).collect()
}

fn made_of(plan: &Plan, additions: &[MadeAddition<'_>]) -> Made {
    let basis = plan.request.recipe.proportions.basis;
    made(additions, &MadeAs { basis, parts: &parts(plan), weighing: plan.request.weighing })
}

fn close(made: f64, asked: f64, whole: f64) -> Result<(), TestCaseError> {
    prop_assert!((made - asked).abs() <= 1e-9 * whole.abs(), "{made}, not {asked}");
    Ok(())
}

/// A change of one number of a bottle.
type Change = fn(&mut Quality, f64);

/// Effect of a small change of one number of one bottle on a value, by central difference.
fn slope(plan: &Plan, place: usize, change: Change, value: impl Fn(&Made) -> f64) -> f64 {
    let step = 1e-6;
    let at = |by: f64| {
        let mut quality = plan.lines[place].supply.quality.clone();
        change(&mut quality, by);
        let mut additions = put_in(plan, &[]);
        let component = &plan.lines[place].component;
        additions[place].content = MadeContent::Component { component, quality: &quality, bottle: None };
        value(&made_of(plan, &additions))
    };
    (at(step) - at(-step)) / (2.0 * step)
}

fn sensitivity(budget: &Budget, source: &str) -> Option<f64> {
    budget.contributions.iter().find(|c| c.source == source).map(|c| c.sensitivity)
}

fn with_uncertain_bottles(mut plan: Plan) -> Plan {
    for line in &mut plan.lines {
        let quality = &mut line.supply.quality;
        for fraction in [&mut quality.assay, &mut quality.moisture].into_iter().flatten() {
            fraction.standard_uncertainty = Some(MassFraction::new(0.002));
        }
    }
    plan
}

proptest! {
    /// Weighed exactly as planned, the batch is the plan's.
    #[test]
    fn exact_masses_make_the_plan(mixture in mixture()) {
        let Some(plan) = planned(&mixture, None, Weighing::Each) else { return Ok(()) };
        let made = made_of(&plan, &put_in(&plan, &[]));
        let (mine, asked) = (&made.composition, &plan.composition);
        let whole = plan.mass.get();
        close(made.mass.get(), whole, whole)?;
        close(mine.mass().get(), whole, whole)?;
        close(mine.water.get(), asked.water.get(), whole)?;
        close(made.water.fraction.get(), asked.water_fraction().get(), 1.0)?;
        close(mine.unknown.get(), asked.unknown.get(), whole)?;
        prop_assert_eq!(mine.constituents.len(), asked.constituents.len());
        for (own, other) in mine.constituents.iter().zip(&asked.constituents) {
            prop_assert_eq!(&own.component.id, &other.component.id);
            prop_assert_eq!(own.in_ratio, other.in_ratio);
            close(own.anhydrous.get(), other.anhydrous.get(), other.anhydrous.get())?;
            prop_assert_eq!(own.amount.is_some(), other.amount.is_some());
            if let Some((own, other)) = own.amount.zip(other.amount) {
                close(own.get(), other.get(), other.get())?;
            }
        }
        prop_assert_eq!(made.ratios.len(), plan.ratios.len());
        for (own, other) in made.ratios.iter().zip(&plan.ratios) {
            prop_assert_eq!(&own.component.id, &other.component.id);
            prop_assert_eq!(&own.to.id, &other.to.id);
            close(own.value, other.value, other.value)?;
        }
    }

    /// The budget of a ratio is that of the plan, each source with its part, however it was weighed. (A
    /// plan counts no reading shared with the water of another line, so water in a ratio is left to `Each`.)
    #[test]
    fn budgets_are_those_of_the_plan(mixture in mixture(), cumulative in any::<bool>()) {
        let weighing = if cumulative { Weighing::Cumulative } else { Weighing::Each };
        let balance = balance("d=0.001g repeatability=0.002g linearity=0.001g");
        let Some(plan) = planned(&mixture, Some(balance.clone()), weighing) else { return Ok(()) };
        let Some(plan) = plan_again(with_uncertain_bottles(plan)) else { return Ok(()) };
        let made = made_of(&plan, &put_in(&plan, &[]));
        for (own, other) in made.ratios.iter().zip(&plan.ratios) {
            if cumulative && own.component.is_water() {
                continue;
            }
            let (u, planned) = (own.budget.standard_uncertainty(), other.budget.standard_uncertainty());
            prop_assert!((u - planned).abs() <= 1e-9 * planned, "{:?}\n{:?}", own.budget, other.budget);
            if !cumulative {
                for source in &other.budget.contributions {
                    let mine = sensitivity(&own.budget, &source.source).unwrap_or(f64::NAN);
                    let scale = source.sensitivity.abs().max(1e-3);
                    prop_assert!((mine - source.sensitivity).abs() <= 1e-9 * scale, "{}", source.source);
                }
                prop_assert_eq!(own.budget.contributions.len(), other.budget.contributions.len());
            }
        }
    }

    /// Sensitivities to assay and moisture are the slopes that a small change of the bottle shows.
    #[test]
    fn sensitivities_are_slopes(mixture in mixture()) {
        let Some(plan) = planned(&mixture, None, Weighing::Each) else { return Ok(()) };
        let plan = with_uncertain_bottles(plan);
        let made = made_of(&plan, &put_in(&plan, &[]));
        for (place, line) in plan.lines.iter().enumerate() {
            let quality = &line.supply.quality;
            // At exactly 100 % as a hydrate the slope has a corner, and no bottle holds more than all.
            let cornered = (quality.assay_value() - 1.0).abs() < 1e-5
                || 1.0 - 1e-5 < quality.assay_value() + quality.moisture_value();
            if line.component.is_water() || cornered {
                continue;
            }
            let changes: [(&str, bool, Change); 2] = [
                ("assay", quality.assay.is_some(), |quality, by| shift(&mut quality.assay, by)),
                ("moisture", quality.moisture.is_some(), |quality, by| shift(&mut quality.moisture, by)),
            ];
            for (name, stated, change) in changes {
                if !stated {
                    continue;
                }
                let source = format!("{name} of {}", line.component.id);
                for (index, ratio) in made.ratios.iter().enumerate() {
                    let slope = slope(&plan, place, change, |made| made.ratios[index].value.ln());
                    let own = sensitivity(&ratio.budget, &source).unwrap_or(0.0);
                    prop_assert!((own - slope).abs() <= 1e-5 * slope.abs().max(1.0), "{source}: {own} {slope}");
                }
                let slope = slope(&plan, place, change, |made| made.water.fraction.get());
                let own = sensitivity(&made.water.budget, &source).unwrap_or(0.0);
                prop_assert!((own - slope).abs() <= 1e-6 * slope.abs().max(0.1), "water, {source}: {own} {slope}");
            }
        }
    }

    /// Off the target, the ratio is the one that re-targeting tells.
    #[test]
    fn overshoots_make_the_ratio_that_was_told(
        mixture in mixture(), factors in prop::collection::vec(700u32..1400, 12),
    ) {
        let Some(plan) = planned(&mixture, None, Weighing::Each) else { return Ok(()) };
        let factors: Vec<f64> = factors.into_iter().map(|factor| f64::from(factor) / 1000.0).collect();
        let as_weighed: Vec<_> = plan
            .lines
            .iter()
            .zip(&factors)
            .map(|(line, factor)| weighed(line.component.id.as_str(), line.weigh.get() * factor))
            .collect();
        let told = retarget(&plan.targets(), &as_weighed).unwrap().ratio_if_nothing_added;
        let made = made_of(&plan, &put_in(&plan, &factors));
        for ratio in &made.ratios {
            let number = |id: &str| told.iter().find(|(own, _)| own.as_str() == id).unwrap().1;
            let told = number(ratio.component.id.as_str()) / number(ratio.to.id.as_str());
            close(ratio.value, told, told)?;
        }
    }

    /// All of a batch put into another flask is that batch, with one weighing more in the water's budget;
    /// in two portions it is the same composition.
    #[test]
    fn a_batch_in_another_stays_itself(mixture in mixture(), share in 1u32..100) {
        let balance = balance("d=0.001g repeatability=0.002g");
        let Some(plan) = planned(&mixture, Some(balance), Weighing::Each) else { return Ok(()) };
        let first = made_of(&plan, &put_in(&plan, &[]));
        let balance = plan.request.balance.as_ref();
        let some = |share: f64| MadeAddition {
            content: MadeContent::Batch { code: "B1", made: &first },
            reading: first.mass * share,
            balance,
            in_air: None,
        };
        let share = f64::from(share) / 100.0;
        let again = made_of(&plan, &[some(share), some(1.0 - share)]);
        let whole = first.mass.get();
        close(again.mass.get(), whole, whole)?;
        close(again.water.mass.get(), first.water.mass.get(), whole)?;
        close(again.composition.unknown.get(), first.composition.unknown.get(), whole)?;
        prop_assert_eq!(again.ratios.len(), first.ratios.len());
        for (own, other) in again.ratios.iter().zip(&first.ratios) {
            close(own.value, other.value, other.value)?;
            // How much was taken changes no ratio and adds nothing to its uncertainty.
            let (u, before) = (own.budget.standard_uncertainty(), other.budget.standard_uncertainty());
            prop_assert!((u - before).abs() <= 1e-9 * before, "{u} {before}");
        }
        let (u, before) = (again.water.standard_uncertainty(), first.water.standard_uncertainty());
        prop_assert!((u - before).get().abs() <= 1e-12, "{u} {before}");
    }
}

fn shift(fraction: &mut Option<meltbook::quantity::FractionInterval>, by: f64) {
    if let Some(fraction) = fraction {
        fraction.value = fraction.value + MassFraction::new(by);
    }
}

/// The plan of the same request with the bottles of these lines.
fn plan_again(with: Plan) -> Option<Plan> {
    let supplies = with.lines.iter().map(|line| line.supply.clone()).collect();
    plan(PlanRequest { supplies, ..with.request }, table()).ok()
}

#[test]
fn nothing_put_in_is_nothing() {
    let view = MadeAs { basis: meltbook::component::RatioBasis::Mole, parts: &[], weighing: Weighing::Each };
    let made = made(&[], &view);
    assert_eq!((made.mass, made.water.fraction), (Mass::ZERO, MassFraction::ZERO));
    assert!(made.ratios.is_empty() && made.composition.constituents.is_empty());
}
