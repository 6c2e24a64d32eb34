//! The worked cases of `tests/fixtures/practice` (see its README), each by the route of a person:
//! shorthand, bottles, plan, re-target. Inputs and answers are read from the fixture.

use std::collections::BTreeSet;

use approx::assert_relative_eq;
use meltbook::component::Shares;
use meltbook::plan::{BottleDensity, Line, Plan, PlanRequest, Retarget, Size, Supply, Weighed, retarget};
use meltbook::quantity::{Amount, Density, Mass, Typed};
use meltbook::recipe::SolutionDensity;

use super::worked_case::{Case, case, cases};
use crate::setup::{balance, bottle, grams, planned, recipe, request, typed, weighed};

/// In `cell.rs`.
const OF_A_CELL: [&str; 3] = ["W19", "W20", "W22"];
/// In `karl_fischer.rs`.
const OF_KARL_FISCHER: [&str; 1] = ["W18"];
const OF_A_PLAN: [&str; 12] =
    ["W01", "W02", "W03", "W05", "W06", "W07", "W09", "W10", "W11", "W14", "W15", "W24"];

/// The line of a component by its id.
#[track_caller]
fn line<'p>(plan: &'p Plan, id: &str) -> &'p Line {
    plan.line(id).unwrap_or_else(|| panic!("no line of {id}"))
}

#[track_caller]
fn weigh(plan: &Plan, id: &str) -> f64 {
    line(plan, id).weigh.get()
}

#[track_caller]
fn amount(plan: &Plan, id: &str) -> f64 {
    line(plan, id).amount.unwrap().get()
}

#[track_caller]
fn share(plan: &Plan, id: &str) -> Shares {
    let density = plan.request.solution_density().map(|density| density.value.value);
    plan.composition.shares(density).into_iter().find(|share| share.component == id).unwrap()
}

/// The ratio of a re-targeted plan in which nothing is corrected, over the first part.
#[track_caller]
fn ratio_as_weighed(plan: &Plan, weighed: &[Weighed], id: &str) -> f64 {
    let retarget = retarget(&plan.targets(), weighed).unwrap();
    retarget.ratio_if_nothing_added.iter().find(|(component, _)| component.as_str() == id).unwrap().1
}

fn mass(grams_of_batch: f64) -> Size {
    Size::Mass(grams(grams_of_batch))
}

#[test]
fn no_case_is_forgotten() {
    let ids: BTreeSet<String> = cases().into_iter().map(|case| case.id).collect();
    let known = OF_A_PLAN.iter().chain(&OF_KARL_FISCHER).chain(&OF_A_CELL).map(|id| (*id).to_owned());
    assert_eq!(ids, known.collect());
}

#[test]
fn w01_pure_components_by_mass() {
    let case = case("W01");
    let plan = planned(request(&case.mixture("ratio"), mass(case.input("batch_g"))));
    case.check("mass_ChCl_g", weigh(&plan, "choline-chloride"));
    case.check("mass_Urea_g", weigh(&plan, "urea"));
    case.check("n_ChCl_mol", amount(&plan, "choline-chloride"));
    case.check("x_ChCl", share(&plan, "choline-chloride").mole_fraction.unwrap().get());
    case.check("w_ChCl", share(&plan, "choline-chloride").mass_fraction.get());
    case.check(
        "mean_molar_mass_per_mole_of_components_g_mol",
        plan.mass.get() / plan.composition.dry_amount().unwrap().get(),
    );
    let unit = planned(request(&case.mixture("ratio"), Size::Amount(typed("1 mol"))));
    case.check("formula_mass_g_per_formula_unit", unit.mass.get());
    case.finish();
}

#[test]
fn w02_assay_of_the_dried_substance_and_moisture() {
    let case = case("W02");
    let size = Size::DryPure(grams(case.input("pure_actives_g")));
    let request = request(&case.mixture("ratio"), size);
    let plan = planned(PlanRequest { supplies: case.assayed_bottles(), ..request.clone() });
    case.check("gross_ChCl_g", weigh(&plan, "choline-chloride"));
    case.check("gross_Urea_g", weigh(&plan, "urea"));
    case.check("water_carried_g", plan.composition.water.get());
    case.check("impurity_carried_g", plan.composition.unknown.get());
    case.check("total_weighed_g", plan.mass.get());
    case.check("water_mass_fraction_of_batch", plan.composition.water_fraction().get());
    case.check("water_ppm", plan.composition.water_fraction().ppm());
    // The slip: planned as if the bottles were dry, then weighed from the bottles as they are.
    let mut dry_bottles = case.assayed_bottles();
    dry_bottles.iter_mut().for_each(|supply| supply.quality.moisture = None);
    let slip = planned(PlanRequest { supplies: dry_bottles, ..request });
    case.check("gross_ChCl_if_moisture_ignored_g", weigh(&slip, "choline-chloride"));
    let as_weighed =
        [weighed("ChCl", weigh(&slip, "choline-chloride")), weighed("urea", weigh(&slip, "urea"))];
    case.check(
        "resulting_mol_urea_per_ChCl_if_both_moistures_ignored",
        ratio_as_weighed(&plan, &as_weighed, "urea"),
    );
    case.finish();
}

#[test]
fn w03_the_same_bottles_to_a_mass_in_the_flask() {
    let case = case("W03");
    let request = request(&case.mixture("ratio"), mass(case.input("gross_total_g")));
    let plan = planned(PlanRequest { supplies: case.assayed_bottles(), ..request });
    case.check("gross_ChCl_g", weigh(&plan, "choline-chloride"));
    case.check("gross_Urea_g", weigh(&plan, "urea"));
    case.check("pure_actives_g", plan.composition.dry_pure().get());
    case.check("water_carried_g", plan.composition.water.get());
    case.finish();
}

#[test]
fn w05_hydrate_in_the_bottle() {
    let case = case("W05");
    let request = request(&case.mixture("ratio"), Size::DryPure(grams(case.input("anhydrous_actives_g"))));
    let supplies = vec![bottle("oxalic-acid form=dihydrate")];
    let plan = planned(PlanRequest { supplies, ..request.clone() });
    case.check("mass_ChCl_g", weigh(&plan, "choline-chloride"));
    case.check("mass_dihydrate_g", weigh(&plan, "oxalic-acid"));
    case.check("hydrate_water_g", plan.composition.water.get());
    case.check("batch_total_g", plan.mass.get());
    case.check("water_mass_fraction", plan.composition.water_fraction().get());
    case.check(
        "mol_ratio_water_to_ChCl",
        plan.composition.water_amount().get() / amount(&plan, "choline-chloride"),
    );
    let choline = share(&plan, "choline-chloride");
    case.check("x_ChCl_water_counted", choline.mole_fraction.unwrap().get());
    case.check("x_ChCl_water_not_counted", choline.mole_fraction_dry.unwrap().get());
    // The slip: the mass of the anhydrous acid, weighed from a bottle of the dihydrate.
    let slip = planned(request);
    case.check("mass_dihydrate_wrongly_weighed_as_anhydrous_g", weigh(&slip, "oxalic-acid"));
    let as_weighed = [weighed("oxalic-acid", weigh(&slip, "oxalic-acid"))];
    case.check("true_oxalic_mol_per_ChCl_then", ratio_as_weighed(&plan, &as_weighed, "oxalic-acid"));
    case.finish();
}

#[test]
fn w06_liquid_by_volume() {
    let case = case("W06");
    let density = |key: &str, at: &str| {
        let value = typed::<Density>(&format!("{} g/mL", case.input(key)));
        Some(BottleDensity { value, at: Some(typed(at)) })
    };
    let warm = Supply { density: density("rho_EG_25C_g_mL", "25 °C"), ..bottle("EG") };
    let request = request(&case.mixture("ratio"), mass(case.input("batch_g")));
    let plan = planned(PlanRequest { supplies: vec![warm], ..request });
    case.check("mass_ChCl_g", weigh(&plan, "choline-chloride"));
    case.check("mass_EG_g", weigh(&plan, "ethylene-glycol"));
    let volume = line(&plan, "ethylene-glycol").volume.as_ref().unwrap().volume;
    case.check("volume_EG_25C_mL", volume.get());
    // The slip: that volume, taken from a colder bottle.
    let cold: Typed<Density> = density("rho_EG_20C_g_mL", "20 °C").unwrap().value;
    let dispensed = volume * cold.value;
    case.check("mass_EG_if_liquid_at_20C_g", dispensed.get());
    let as_weighed = [weighed("EG", dispensed.get())];
    case.check("mol_EG_per_ChCl_then", ratio_as_weighed(&plan, &as_weighed, "ethylene-glycol"));
    case.finish();
}

fn w07(case: &Case, more: &str) -> Plan {
    let molality = case.input("molality_mol_per_kg_DES");
    let text = format!("{} + {molality} mol/kg ZnCl2{more}", case.mixture("ratio"));
    let value = typed(&format!("{} g/mL", case.input("solution_density_g_mL")));
    let density = Some(SolutionDensity { value, at: None, source: None });
    let request = request(&text, Size::DryParts(grams(case.input("DES_g"))));
    planned(PlanRequest { density, ..request })
}

#[test]
fn w07_salt_by_molality() {
    let case = case("W07");
    let plan = w07(&case, "");
    case.check("n_ZnCl2_mol", amount(&plan, "zinc-chloride"));
    case.check("mass_ZnCl2_g", weigh(&plan, "zinc-chloride"));
    case.check("solution_g", plan.mass.get());
    let salt = share(&plan, "zinc-chloride");
    case.check("wt_fraction_ZnCl2", salt.mass_fraction.get());
    case.check("x_ZnCl2_components", salt.mole_fraction.unwrap().get());
    case.check("molarity_mol_L", salt.molarity.unwrap().get());
    case.check("solution_volume_mL", plan.volume.unwrap().get());
    case.check("mol_ZnCl2_per_mol_ChCl", amount(&plan, "zinc-chloride") / amount(&plan, "choline-chloride"));
    case.check("x_ZnCl2_formula_units", over_formula_units(&plan, amount(&plan, "zinc-chloride")));
    case.finish();
}

/// A mole fraction in which one choline chloride with its two ureas counts as one. The program counts
/// components one by one and prints no such fraction; the case states it, so it is made here from the
/// plan's amounts.
fn over_formula_units(plan: &Plan, amount_of_solute: f64) -> f64 {
    amount_of_solute / (amount_of_solute + amount(plan, "choline-chloride"))
}

/// With a water target the answers of W07 change, but each statement must still hold in the final batch:
/// checked by putting the weighed masses back into the statements.
#[test]
fn w07_with_water_holds_by_substitution() {
    let case = case("W07");
    let plan = w07(&case, " to 2 wt% water");
    let batch: f64 = plan.lines.iter().map(|line| line.weigh.get()).sum();
    assert_relative_eq!(weigh(&plan, "water") / batch, 0.02, max_relative = 1e-12);
    let solvent = weigh(&plan, "choline-chloride") + weigh(&plan, "urea");
    assert_relative_eq!(solvent, case.input("DES_g"), max_relative = 1e-12);
    let salt_molar_mass = 65.38 + 2.0 * 35.45;
    let molality = weigh(&plan, "zinc-chloride") / salt_molar_mass / (solvent / 1000.0);
    assert_relative_eq!(molality, case.input("molality_mol_per_kg_DES"), max_relative = 1e-12);
}

/// Every way of stating an addition at once, out of a moist acceptor and a hydrated salt. The arithmetic
/// below starts from the masses on the balance and the definitions of assay, moisture and form alone.
#[test]
fn all_statements_hold_together_in_the_final_batch() {
    let text = "ChCl:urea 1:2 + 0.5 mol/kg ZnCl2 + 0.3 mol/L ZnSO4 + 1.5 wt% thymol to 8 wt% water";
    let supplies = vec![
        bottle("ChCl assay=98% basis=dried moisture=1.5%"),
        bottle("ZnSO4 form=heptahydrate assay=99% basis=as-hydrate"),
        bottle("thymol assay=95% basis=as-is moisture=2%"),
    ];
    let value = typed("1.24 g/mL");
    let density = Some(SolutionDensity { value, at: None, source: None });
    let plan = planned(PlanRequest { supplies, density, ..request(text, mass(250.0)) });
    let weigh = |id: &str| weigh(&plan, id);
    // Molar masses of the fixture's header, and 161.436 + 7 × 18.015.
    let (choline, urea, zinc_chloride, hydrate) = (139.623, 60.056, 136.28, 287.541);
    let pure_choline = weigh("choline-chloride") * (1.0 - 0.015) * 0.98;
    let zinc_sulfate = weigh("zinc-sulfate") * 0.99 / hydrate;
    let water = weigh("choline-chloride") * 0.015
        + zinc_sulfate * 7.0 * 18.015
        + weigh("thymol") * 0.02
        + weigh("water");
    let batch: f64 = plan.lines.iter().map(|line| line.weigh.get()).sum();
    let close = |value: f64, asked: f64| assert_relative_eq!(value, asked, max_relative = 1e-12);
    close(batch, 250.0);
    close(weigh("urea") / urea / (pure_choline / choline), 2.0);
    close(weigh("zinc-chloride") / zinc_chloride / (pure_choline + weigh("urea")) * 1000.0, 0.5);
    close(zinc_sulfate / (batch / 1.24) * 1000.0, 0.3);
    close(weigh("thymol") * 0.95 / batch, 0.015);
    close(water / batch, 0.08);
}

#[test]
fn w09_overshoot_of_the_first_component() {
    let case = case("W09");
    let plan = planned(request(&case.mixture("ratio"), mass(case.input("planned_batch_g"))));
    let actual = case.input("actual_ChCl_g");
    let as_weighed = [weighed("ChCl", actual)];
    let now: Retarget = retarget(&plan.targets(), &as_weighed).unwrap();
    let [choline, glycol] = now.lines.as_slice() else { panic!("{:?}", now.lines) };
    case.check("planned_ChCl_g", choline.planned.get());
    case.check("planned_EG_g", glycol.planned.get());
    // A difference of numbers with 12 digits has fewer: 0.7185 of 32.48.
    let overshoot = (choline.weighed.unwrap() - choline.planned).get();
    case.check("overshoot_g", overshoot);
    case.check("overshoot_relative", overshoot / choline.planned.get());
    assert_eq!(choline.add, Mass::ZERO);
    case.check("new_EG_g", glycol.add.get());
    case.check("extra_EG_over_plan_g", (glycol.add - glycol.planned).get());
    case.check("new_batch_g", now.batch.get());
    case.check(
        "mol_EG_per_ChCl_if_EG_left_as_planned",
        ratio_as_weighed(&plan, &as_weighed, "ethylene-glycol"),
    );
    case.finish();
}

#[test]
fn w10_water_up_to_a_target() {
    let case = case("W10");
    let (batch, now) = (case.input("batch_g"), case.input("water_now"));
    let text = format!("{} to {} g/g water", case.mixture("DES"), case.input("water_target"));
    // Both bottles at the moisture of the batch, so that all of it is at that moisture before water is added.
    let supplies = ["ChCl", "urea"].map(|name| bottle(&format!("{name} moisture={now} g/g")));
    let size = Size::DryParts(grams(batch * (1.0 - now)));
    let plan = planned(PlanRequest { supplies: supplies.to_vec(), ..request(&text, size) });
    let before = weigh(&plan, "choline-chloride") + weigh(&plan, "urea");
    assert_relative_eq!(before, batch, max_relative = 1e-12);
    case.check("water_to_add_g", weigh(&plan, "water"));
    case.check("final_batch_g", plan.mass.get());
    case.check(
        "mol_water_per_mol_ChCl",
        plan.composition.water_amount().get() / amount(&plan, "choline-chloride"),
    );
    case.check("x_water_components", share(&plan, "water").mole_fraction.unwrap().get());
    // The slip takes the target as a fraction of the batch before: no plan gives it, and the case states
    // it only to show the difference.
    let slip = batch * (case.input("water_target") - now);
    case.check("slip_water_g", slip);
    case.check("water_fraction_after_slip", (batch * now + slip) / (batch + slip));
    assert!(slip < weigh(&plan, "water"));
    case.finish();
}

#[test]
fn w11_every_way_of_stating_a_composition() {
    let case = case("W11");
    let text = format!("{} to {} g/g water", case.mixture("DES"), case.input("water_mass_fraction"));
    let plan = planned(request(&text, mass(1.0)));
    let water = plan.composition.water_amount();
    case.check("mol_water_per_mol_ChCl", water.get() / amount(&plan, "choline-chloride"));
    case.check("x_water_components", share(&plan, "water").mole_fraction.unwrap().get());
    case.check("x_ChCl_components", share(&plan, "choline-chloride").mole_fraction.unwrap().get());
    case.check("molality_water_mol_per_kg_DES", share(&plan, "water").molality.unwrap().get());
    let all: Amount = plan.composition.dry_amount().unwrap() + water;
    case.check("mean_molar_mass_g_mol", plan.mass.get() / all.get());
    case.check("x_water_formula_units", over_formula_units(&plan, water.get()));
    case.finish();
}

#[test]
fn w14_largest_batch_of_a_stock() {
    let case = case("W14");
    let stock = |name: &str| Some(grams(case.input(&format!("stock_{name}_g"))));
    let mut supplies = case.assayed_bottles();
    supplies[0].stock = stock("ChCl");
    supplies[1].stock = stock("Urea");
    let plan = planned(PlanRequest { supplies, ..request(&case.mixture("ratio"), Size::Stock) });
    let limiting = plan.limiting.as_ref().unwrap();
    let is_choline = limiting.component.as_str() == "choline-chloride";
    case.check("limiting_is_ChCl", f64::from(u8::from(is_choline)));
    case.check("max_formula_units_mol", limiting.units);
    case.check("pure_actives_g", plan.composition.dry_pure().get());
    let urea = limiting.stocks.iter().find(|stock| stock.component.as_str() == "urea").unwrap();
    case.check("gross_Urea_used_g", urea.used.get());
    case.check("Urea_left_g", urea.left.get());
    assert_relative_eq!(weigh(&plan, "urea"), urea.used.get(), max_relative = 1e-12);
    case.finish();
}

#[test]
fn w15_balance_to_ratio() {
    let case = case("W15");
    let at = |d: &str, s: &str| balance(&format!("d={}g repeatability={}g", case.input(d), case.input(s)));
    let (coarse, fine) = (at("d_coarse_g", "s_coarse_g"), at("d_fine_g", "s_fine_g"));
    case.check("u_net_coarse_g", coarse.net_uncertainty().get());
    case.check("min_weight_USP41_coarse_g", coarse.minimum_weight().get());
    case.check("min_weight_USP41_fine_g", fine.minimum_weight().get());
    let unknown_repeatability = balance(&format!("d={}g", case.input("d_coarse_g")));
    case.check("min_weight_USP41_floor_coarse_g", unknown_repeatability.minimum_weight().get());
    // By mass, since the case has no uncertainty of the molar masses; in a mole ratio the program counts
    // it, and the coarse result grows by 1e-4 of itself.
    let (choline, urea) = (case.input("m_ChCl_g"), case.input("m_Urea_g"));
    let by_mass = format!("ChCl:urea {choline}:{urea} by mass");
    let relative = |balance| {
        let request = request(&by_mass, mass(choline + urea));
        let plan = planned(PlanRequest { balance: Some(balance), ..request });
        plan.ratios[0].budget.standard_uncertainty()
    };
    let coarse = relative(coarse);
    case.check("rel_u_ratio_coarse", coarse);
    case.check("rel_u_ratio_fine", relative(fine));
    let plan = planned(request("ChCl:urea 1:2", mass(choline + urea)));
    let ratio = ratio_as_weighed(&plan, &[weighed("ChCl", choline), weighed("urea", urea)], "urea");
    case.check("ratio_urea_per_ChCl", ratio);
    case.check("u_ratio_coarse", coarse * ratio);
    case.finish();
}

#[test]
fn w24_moisture_ignored() {
    let case = case("W24");
    let target = case.input("target_ratio");
    let text = format!("ChCl:urea 1:{target}");
    let slip = planned(request(&text, mass(50.0)));
    let as_weighed =
        [weighed("ChCl", weigh(&slip, "choline-chloride")), weighed("urea", weigh(&slip, "urea"))];
    for key in case.expect.keys() {
        // "urea_per_ChCl_if_moisture_0p005_ignored"
        let moisture = key.split('_').find(|word| word.starts_with("0p")).unwrap().replace('p', ".");
        let supplies = vec![bottle(&format!("ChCl moisture={moisture} g/g"))];
        let plan = planned(PlanRequest { supplies, ..request(&text, mass(50.0)) });
        case.check(key, ratio_as_weighed(&plan, &as_weighed, "urea"));
    }
    case.finish();
}

/// Common practice, arithmetic only: 40 g at 97 to 3 is 38.8 g and 1.2 g.
#[test]
fn mass_ratio_of_a_cathode_mix() {
    let plan = planned(request("MnO2:carbon 97:3 by mass", mass(40.0)));
    assert_relative_eq!(weigh(&plan, "manganese-dioxide"), 38.8, max_relative = 1e-12);
    assert_relative_eq!(weigh(&plan, "carbon-black"), 1.2, max_relative = 1e-12);
    assert_eq!(recipe("MnO2:carbon 97:3 by mass").shorthand(), "manganese-dioxide:carbon-black 97:3 by mass");
}
