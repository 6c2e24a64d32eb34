//! Blends and adjustments by hand. Molar masses are those of the worked cases' header: choline chloride
//! 139.623, urea 60.056, ethylene glycol 62.068, water 18.015 g/mol.

use std::sync::Arc;

use approx::assert_relative_eq;
use meltbook::component::{Component, ComponentId, Composition, RatioBasis};
use meltbook::plan::{
    Adjustment, BlendError, Liquid, LiquidSource, Size, Supply, Wish, WishedRatio, adjust, blend, ratio_in,
};
use meltbook::quantity::{Mass, MassFraction};

use super::worked_case::case;
use crate::setup::{bottle, grams, planned, recipe, request, table};

/// Some grams of a recipe made of pure, dry components.
fn liquid(text: &str, mass: f64) -> Liquid {
    let composition = planned(request(text, Size::Mass(grams(100.0)))).composition;
    Liquid { source: LiquidSource::Recipe(text.to_owned()), composition, mass: Mass::new(mass) }
}

fn blended(liquids: &[Liquid]) -> Composition {
    blend(liquids).unwrap()
}

fn wish(ratio: Option<&str>, water: Option<f64>) -> Wish {
    let ratio = ratio.map(|text| {
        let proportions = recipe(text).proportions;
        WishedRatio { basis: proportions.basis, parts: proportions.parts }
    });
    Wish { ratio, water: water.map(MassFraction::new) }
}

fn water() -> &'static Arc<Component> {
    table().get("water").unwrap()
}

fn adjusted(mixture: &Composition, wish: &Wish, supplies: &[Supply]) -> Adjustment {
    adjust(mixture, wish, supplies, water()).unwrap()
}

fn added(adjustment: &Adjustment, id: &str) -> f64 {
    let own = adjustment.additions.iter().find(|added| added.component.id.as_str() == id);
    own.map_or(0.0, |own| own.weigh().get())
}

fn moles(mixture: &Composition, id: &str) -> f64 {
    mixture.constituent(id).map_or(0.0, |own| own.amount.unwrap().get())
}

#[test]
fn w10_water_up_to_a_target() {
    let case = case("W10");
    let text = format!("{} to {} g/g water", case.mixture("DES"), case.input("water_now"));
    let mixture = blended(&[liquid(&text, case.input("batch_g"))]);
    let answer = adjusted(&mixture, &wish(None, Some(case.input("water_target"))), &[]);
    case.check("water_to_add_g", added(&answer, "water"));
    case.check("final_batch_g", answer.composition.mass().get());
    let per_choline =
        answer.composition.water_amount().get() / moles(&answer.composition, "choline-chloride");
    case.check("mol_water_per_mol_ChCl", per_choline);
    let share = answer.composition.shares(None).into_iter().find(|share| share.component == "water").unwrap();
    case.check("x_water_components", share.mole_fraction.unwrap().get());
    assert_eq!((answer.dry_first, answer.additions.len()), (None, 1));
}

#[test]
fn w11_water_blended_in() {
    let case = case("W11");
    let water = case.input("water_mass_fraction");
    let dry = liquid(&case.mixture("DES"), 1.0 - water);
    let mixture = blended(&[dry, liquid("water 1", water)]);
    let per_choline = mixture.water_amount().get() / moles(&mixture, "choline-chloride");
    case.check("mol_water_per_mol_ChCl", per_choline);
    let shares = mixture.shares(None);
    let share = |id: &str| shares.iter().find(|share| share.component == id).unwrap();
    case.check("x_water_components", share("water").mole_fraction.unwrap().get());
    case.check("x_ChCl_components", share("choline-chloride").mole_fraction.unwrap().get());
    case.check("molality_water_mol_per_kg_DES", share("water").molality.unwrap().get());
    let all = mixture.dry_amount().unwrap() + mixture.water_amount();
    case.check("mean_molar_mass_g_mol", mixture.mass().get() / all.get());
}

/// 60 g of 1 : 2 (formula mass 139.623 + 2 × 60.056 = 259.735) and 40 g of 1 : 3 (319.791) hold
/// 60/259.735 + 40/319.791 mol of choline chloride and 2 × and 3 × that of urea. The mean of the ratios,
/// 2.5, or weighed by mass, 2.4, is not what results.
#[test]
fn ratios_do_not_average() {
    let mixture = blended(&[liquid("ChCl:urea 1:2", 60.0), liquid("ChCl:urea 1:3", 40.0)]);
    let (one, other) = (60.0 / 259.735, 40.0 / 319.791);
    let ratio = (2.0 * one + 3.0 * other) / (one + other);
    assert_relative_eq!(moles(&mixture, "choline-chloride"), one + other, max_relative = 1e-12);
    let choline = ComponentId::from_text("choline-chloride").unwrap();
    let made = ratio_in(&mixture, RatioBasis::Mole, false, (&choline, 1.0));
    assert_eq!(made.len(), 2);
    assert_relative_eq!(made[1].1.unwrap(), ratio, max_relative = 1e-12);
    assert!((ratio - 2.4).abs() > 0.04, "{ratio}");
}

/// 80 g of 1 : 2 to 1 : 2.2, the choline chloride staying: n = 80/259.735, urea 0.2 n × 60.056 more.
/// Out of a bottle of 99.5 % dry-basis assay and 0.2 % moisture that is ÷ (0.995 × 0.998).
#[test]
fn more_of_the_donor() {
    let mixture = blended(&[liquid("ChCl:urea 1:2", 80.0)]);
    let n = 80.0 / 259.735;
    let pure = adjusted(&mixture, &wish(Some("ChCl:urea 1:2.2"), None), &[]);
    assert_relative_eq!(added(&pure, "urea"), 0.2 * n * 60.056, max_relative = 1e-10);
    assert_eq!(pure.additions.len(), 1);
    let bottles = [bottle("urea assay=99.5% basis=dried moisture=0.2%")];
    let answer = adjusted(&mixture, &wish(Some("ChCl:urea 1:2.2"), None), &bottles);
    let gross = 0.2 * n * 60.056 / (0.995 * 0.998);
    assert_relative_eq!(added(&answer, "urea"), gross, max_relative = 1e-10);
    assert_relative_eq!(answer.composition.water.get(), gross * 0.002, max_relative = 1e-10);
    assert_relative_eq!(answer.composition.unknown.get(), gross * 0.998 * 0.005, max_relative = 1e-10);
}

/// Urea would have to be taken out of 1 : 2 for 1 : 1.5, so choline chloride goes in: λ = 2 n / 1.5, which
/// is n/3 more of it.
#[test]
fn too_much_of_one_is_answered_by_the_other() {
    let mixture = blended(&[liquid("ChCl:urea 1:2", 80.0)]);
    let answer = adjusted(&mixture, &wish(Some("ChCl:urea 1:1.5"), None), &[]);
    assert_relative_eq!(
        added(&answer, "choline-chloride"),
        80.0 / 259.735 / 3.0 * 139.623,
        max_relative = 1e-10
    );
    assert_eq!((answer.additions.len(), answer.dry_first), (1, None));
}

/// Ratio and water at once: 80 g of 1 : 2 with 0.42 wt% to 1 : 2.2 with 5 wt%. n = 79.664/259.735;
/// urea u = 0.2 n × 60.056; water (0.05 (80 + u) − 0.336)/0.95.
#[test]
fn ratio_and_water_together() {
    let mixture = blended(&[liquid("ChCl:urea 1:2 to 0.42 wt% water", 80.0)]);
    let answer = adjusted(&mixture, &wish(Some("ChCl:urea 1:2.2"), Some(0.05)), &[]);
    let urea = 0.2 * 79.664 / 259.735 * 60.056;
    assert_relative_eq!(added(&answer, "urea"), urea, max_relative = 1e-10);
    let water = (0.05 * (80.0 + urea) - 0.336) / 0.95;
    assert_relative_eq!(added(&answer, "water"), water, max_relative = 1e-10);
    assert_relative_eq!(answer.composition.water_fraction().get(), 0.05, max_relative = 1e-12);
}

/// 80 g with 5 wt% can't become 2 wt% by adding water: 4 g less R over 80 less R is 0.02, so
/// R = (4 − 1.6)/0.98 must be dried off.
#[test]
fn too_wet_says_how_much_must_be_dried() {
    let mixture = blended(&[liquid("ChCl:urea 1:2 to 5 wt% water", 80.0)]);
    let answer = adjusted(&mixture, &wish(None, Some(0.02)), &[]);
    assert!(answer.additions.is_empty() && answer.instead.is_none());
    assert_relative_eq!(answer.dry_first.unwrap().get(), 2.4 / 0.98, max_relative = 1e-10);
    // With a ratio there is the other way: to 1 : 2 as it is, all of it in dry components, 4/0.02 = 200 g.
    let answer = adjusted(&mixture, &wish(Some("ChCl:urea 1:2"), Some(0.02)), &[]);
    assert!(answer.additions.is_empty(), "{:?}", answer.additions);
    assert_relative_eq!(answer.dry_first.unwrap().get(), 2.4 / 0.98, max_relative = 1e-10);
    let instead: f64 = answer.instead.unwrap().iter().map(|added| added.weigh().get()).sum();
    assert_relative_eq!(instead, 120.0, max_relative = 1e-9);
    // No amount of a bottle with 3 % moisture makes anything of 2 %.
    let bottles = [bottle("ChCl moisture=3%"), bottle("urea moisture=3%")];
    let answer = adjusted(&mixture, &wish(Some("ChCl:urea 1:2"), Some(0.02)), &bottles);
    assert!(answer.dry_first.is_some() && answer.instead.is_none());
}

/// Water as a part: 1 : 2 : 1 of choline chloride, glycol, water is n (139.623 + 2 × 62.068 + 18.015).
/// To 1 : 2 : 2 it lacks n × 18.015; to 1 : 2 : 0.5 half of its water must go, or the rest doubles.
#[test]
fn water_as_a_part_of_the_ratio() {
    let n = 50.0 / (139.623 + 2.0 * 62.068 + 18.015);
    let mixture = blended(&[liquid("ChCl:EG:water 1:2:1", 50.0)]);
    let more = adjusted(&mixture, &wish(Some("ChCl:EG:water 1:2:2"), None), &[]);
    assert_relative_eq!(added(&more, "water"), n * 18.015, max_relative = 1e-10);
    assert_eq!(more.additions.len(), 1);
    let less = adjusted(&mixture, &wish(Some("ChCl:EG:water 1:2:0.5"), None), &[]);
    assert_relative_eq!(less.dry_first.unwrap().get(), 0.5 * n * 18.015, max_relative = 1e-10);
    let instead: f64 = less.instead.unwrap().iter().map(|added| added.weigh().get()).sum();
    assert_relative_eq!(instead, n * (139.623 + 2.0 * 62.068), max_relative = 1e-9);
}

/// Of 40 g MnO2 and graphite 97 : 3 by mass, 38.8 g are the oxide; for 90 : 10 it takes 38.8/9 − 1.2 g.
#[test]
fn mass_ratio_of_a_powder() {
    let mixture = blended(&[liquid("MnO2:graphite 97:3 by mass", 40.0)]);
    let answer = adjusted(&mixture, &wish(Some("MnO2:graphite 90:10 by mass"), None), &[]);
    assert_relative_eq!(added(&answer, "graphite"), 38.8 / 9.0 - 1.2, max_relative = 1e-10);
}

/// A salt that the ratio does not name is carried along and counts in the mass: 0.5 mol/kg in 40 g of dry
/// solvent is 0.02 mol × 136.28 g/mol; water to 10 wt% is a ninth of the 42.7256 g (W07).
#[test]
fn what_the_wish_does_not_name_stays() {
    let mixture = blended(&[liquid("ChCl:urea 1:2 + 0.5 mol/kg ZnCl2", 42.7256)]);
    assert_relative_eq!(moles(&mixture, "zinc-chloride"), 0.02, max_relative = 1e-9);
    let answer = adjusted(&mixture, &wish(Some("ChCl:urea 1:2"), Some(0.1)), &[]);
    assert_relative_eq!(added(&answer, "water"), 42.7256 / 9.0, max_relative = 1e-9);
    assert_eq!(answer.additions.len(), 1);
    assert!(!answer.composition.constituent("zinc-chloride").unwrap().in_ratio);
}

#[test]
fn what_has_no_answer_is_refused() {
    let mixture = blended(&[liquid("ChCl:urea 1:2", 10.0)]);
    let refused = |wish: &Wish| adjust(&mixture, wish, &[], water()).unwrap_err();
    assert_eq!(refused(&wish(Some("menthol:thymol 1:1"), None)), BlendError::NothingOfRatio);
    assert_eq!(refused(&wish(None, Some(1.0))).code(), "all_water");
    assert_eq!(blend(&[]).unwrap_err(), BlendError::NoLiquid);
    let text = "ChCl:urea 1:2".to_owned();
    assert_eq!(blend(&[liquid(&text, 0.0)]).unwrap_err(), BlendError::EmptyLiquid { text });
}
