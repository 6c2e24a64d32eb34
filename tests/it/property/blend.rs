//! Blends of random mixtures, and what is to be added to them.

use std::sync::Arc;

use meltbook::component::{Component, Composition};
use meltbook::plan::{
    Adjustment, Liquid, LiquidSource, Size, Supply, Wish, WishedRatio, adjust, blend, plan,
};
use meltbook::quantity::{Mass, MassFraction};
use proptest::prelude::*;

use super::mixture::{Bottle, Mixture, mixture};
use crate::setup::{bottle, grams, recipe, table};

/// Some grams of what a mixture makes out of its bottles, impurities and moisture with it.
fn liquid(mixture: &Mixture, mass: f64) -> Option<Liquid> {
    let composition = plan(mixture.request(Size::Mass(grams(100.0))), table()).ok()?.composition;
    let source = LiquidSource::Batch("B1".to_owned());
    Some(Liquid { source, composition, mass: Mass::new(mass) })
}

fn masses() -> impl Strategy<Value = [f64; 3]> {
    let mass = || (1u32..100_000).prop_map(|mass| f64::from(mass) / 1000.0);
    [mass(), mass(), mass()]
}

fn water() -> &'static Arc<Component> {
    table().get("water").unwrap()
}

fn close(made: f64, asked: f64, whole: f64) -> Result<(), TestCaseError> {
    prop_assert!((made - asked).abs() <= 1e-9 * whole.abs(), "{made}, not {asked}");
    Ok(())
}

/// Equal but for the order of components and the last digits.
fn same(one: &Composition, other: &Composition) -> Result<(), TestCaseError> {
    let whole = other.mass().get();
    close(one.water.get(), other.water.get(), whole)?;
    close(one.unknown.get(), other.unknown.get(), whole)?;
    prop_assert_eq!(one.constituents.len(), other.constituents.len());
    for own in &one.constituents {
        let twin = other.constituent(own.component.id.as_str()).unwrap();
        close(own.anhydrous.get(), twin.anhydrous.get(), twin.anhydrous.get())?;
        prop_assert_eq!(own.amount.is_some(), twin.amount.is_some());
        prop_assert_eq!(own.in_ratio, twin.in_ratio);
        if let Some((own, twin)) = own.amount.zip(twin.amount) {
            close(own.get(), twin.get(), twin.get())?;
        }
    }
    Ok(())
}

/// The ratio of one mixture, with its water as a target: a wish for another.
fn wish_of(mixture: &Mixture, percent: Option<f64>) -> Wish {
    let proportions = recipe(&mixture.text()).proportions;
    let has_water = proportions.parts.iter().any(|part| part.component.is_water());
    let ratio = WishedRatio { basis: proportions.basis, parts: proportions.parts };
    let water = percent.filter(|_| !has_water).map(|percent| MassFraction::new(percent / 100.0));
    Wish { ratio: Some(ratio), water }
}

/// What the ratio counts of each part, from the composition alone, over its number.
fn units(composition: &Composition, mixture: &Mixture) -> Vec<f64> {
    let dry = mixture.parts.iter().map(|(component, ratio)| {
        let own = composition.constituent(component.id.as_str());
        let anhydrous = own.map_or(0.0, |own| own.anhydrous.get());
        let formula = component.formula.as_ref();
        let counted = match (mixture.by_mass, formula) {
            (true, Some(formula)) => anhydrous * (formula.molar_mass() / formula.anhydrous_molar_mass()),
            (true, None) => anhydrous,
            (false, formula) => anhydrous / formula.unwrap().anhydrous_molar_mass().get(),
        };
        counted / ratio
    });
    let water = match mixture.water {
        super::mixture::Water::InRatio(ratio) if mixture.by_mass => Some(composition.water.get() / ratio),
        super::mixture::Water::InRatio(ratio) => Some(composition.water.get() / 18.015 / ratio),
        _ => None,
    };
    dry.chain(water).collect()
}

fn supplies(mixture: &Mixture) -> Vec<Supply> {
    mixture.bottles.iter().map(|own: &Bottle| bottle(&own.flag())).collect()
}

fn check_met(
    before: &Composition,
    answer: &Adjustment,
    wished: &Mixture,
    wish: &Wish,
) -> Result<(), TestCaseError> {
    let after = &answer.composition;
    // Mass and what went in, put together again by the definitions of assay, moisture and form alone.
    let (mut anhydrous, mut water, mut rest, mut gross) = (0.0, 0.0, 0.0, 0.0);
    for added in &answer.additions {
        let mass = added.weigh().get();
        prop_assert!(0.0 < mass && mass.is_finite(), "{}: {mass}", added.component.id);
        gross += mass;
        if added.component.is_water() {
            water += mass;
            continue;
        }
        let content = wished.content(&added.component, mass);
        (anhydrous, water, rest) =
            (anhydrous + content.anhydrous, water + content.water, rest + content.rest);
    }
    let whole = after.mass().get();
    close(whole, before.mass().get() + gross, whole)?;
    close(after.dry_pure().get(), before.dry_pure().get() + anhydrous, whole)?;
    close(after.water.get(), before.water.get() + water, whole)?;
    close(after.unknown.get(), before.unknown.get() + rest, whole)?;
    let mut drier = after.clone();
    drier.water = drier.water - answer.dry_first.unwrap_or(Mass::ZERO);
    let units = units(&drier, wished);
    for unit in &units {
        close(*unit, units[0], units[0])?;
    }
    if let Some(asked) = wish.water {
        close(drier.water_fraction().get(), asked.get(), 1.0)?;
    }
    Ok(())
}

proptest! {
    /// Mass and moles of everything are conserved, whatever goes in first.
    #[test]
    fn order_does_not_matter(mixtures in [mixture(), mixture(), mixture()], masses in masses()) {
        let liquids: Option<Vec<Liquid>> =
            mixtures.iter().zip(masses).map(|(mixture, mass)| liquid(mixture, mass)).collect();
        let Some(liquids) = liquids else { return Ok(()) };
        let [a, b, c] = [&liquids[0], &liquids[1], &liquids[2]].map(Clone::clone);
        let all = blend(&liquids).unwrap();
        same(&blend(&[c.clone(), a.clone(), b.clone()]).unwrap(), &all)?;
        close(all.mass().get(), masses.iter().sum(), all.mass().get())?;
        for own in &all.constituents {
            let share = |liquid: &Liquid| {
                let part = liquid.composition.constituent(own.component.id.as_str());
                let amount = part.and_then(|part| part.amount).map_or(0.0, |amount| amount.get());
                amount * (liquid.mass / liquid.composition.mass())
            };
            if let Some(amount) = own.amount {
                let sum: f64 = liquids.iter().map(share).sum();
                close(amount.get(), sum, sum)?;
            }
        }
        // Two first, the third into what they make.
        let first = blend(&[a, b]).unwrap();
        let mass = first.mass();
        let first = Liquid { source: LiquidSource::Batch("B2".to_owned()), composition: first, mass };
        same(&blend(&[first, c]).unwrap(), &all)?;
    }

    /// A liquid poured in two portions, or into more of itself, is that liquid.
    #[test]
    fn portions_of_one_liquid_are_that_liquid(mixture in mixture(), masses in masses()) {
        let Some(whole) = liquid(&mixture, masses[0] + masses[1]) else { return Ok(()) };
        let portion = |mass: f64| Liquid { mass: Mass::new(mass), ..whole.clone() };
        let alone = blend(std::slice::from_ref(&whole)).unwrap();
        same(&blend(&[portion(masses[0]), portion(masses[1])]).unwrap(), &alone)?;
        for (one, other) in alone.shares(None).iter().zip(whole.composition.shares(None)) {
            close(one.mass_fraction.get(), other.mass_fraction.get(), 1.0)?;
        }
    }

    /// What is to be added makes the wish true, is never negative, and leaves one component of the ratio
    /// alone, so that less would not do.
    #[test]
    fn additions_reach_the_wish(
        start in mixture(), other in mixture(), wished in mixture(), masses in masses(),
        percent in prop::option::of(0u32..300),
    ) {
        let liquids = [liquid(&start, masses[0]), liquid(&other, masses[1]), liquid(&wished, masses[2])];
        let [Some(a), Some(b), Some(c)] = liquids else { return Ok(()) };
        let before = blend(&[a, b, c]).unwrap();
        let wish = wish_of(&wished, percent.map(|percent| f64::from(percent) / 10.0));
        let answer = adjust(&before, &wish, &supplies(&wished), water()).unwrap();
        check_met(&before, &answer, &wished, &wish)?;
        let added = |id: &str| answer.additions.iter().any(|added| added.component.id.as_str() == id);
        let alone = wished.parts.iter().filter(|(component, _)| !added(component.id.as_str())).count();
        prop_assert!(1 <= alone);
        if let Some(instead) = &answer.instead {
            let other = Adjustment {
                additions: instead.clone(),
                composition: poured(&before, instead),
                dry_first: None,
                instead: None,
            };
            check_met(&before, &other, &wished, &wish)?;
        }
    }

    /// Once met, a wish asks for nothing more.
    #[test]
    fn a_wish_that_is_met_asks_for_nothing(
        start in mixture(), wished in mixture(), masses in masses(), percent in prop::option::of(0u32..300),
    ) {
        let liquids = [liquid(&start, masses[0]), liquid(&wished, masses[1])];
        let [Some(a), Some(b)] = liquids else { return Ok(()) };
        let before = blend(&[a, b]).unwrap();
        let wish = wish_of(&wished, percent.map(|percent| f64::from(percent) / 10.0));
        let first = adjust(&before, &wish, &supplies(&wished), water()).unwrap();
        if first.dry_first.is_some() {
            return Ok(());
        }
        let again = adjust(&first.composition, &wish, &supplies(&wished), water()).unwrap();
        let mass: f64 = again.additions.iter().map(|added| added.weigh().get()).sum();
        prop_assert!(mass <= 1e-9 * first.composition.mass().get(), "{:?}", again.additions);
        prop_assert!(again.dry_first.is_none_or(|mass| mass.get() <= 1e-9 * first.composition.mass().get()));
    }
}

/// A mixture with additions in it, by their corrections.
fn poured(before: &Composition, additions: &[meltbook::plan::Added]) -> Composition {
    let mut after = before.clone();
    for added in additions {
        let moles = added.component.molar_mass().map(|molar_mass| added.correction.as_asked / molar_mass);
        after.add(&added.component, moles, added.correction.anhydrous, true);
        after.water = after.water + added.correction.water();
        after.unknown = after.unknown + added.correction.impurity;
    }
    after
}
