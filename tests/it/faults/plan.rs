//! Requests that no batch can fulfil.

use meltbook::plan::{AirDensity, BottleDensity, PlanRequest, Size, Supply, plan};
use meltbook::quantity::Relative;

use crate::setup::{bottle, grams, planned, request, table, typed};

#[track_caller]
fn check(request: PlanRequest, code: &str, told: &str) {
    let error = plan(request, table()).unwrap_err();
    assert_eq!((error.code(), error.to_string().as_str()), (code, told));
    assert!(error.hint().ends_with('.'));
}

fn reline(size: Size) -> PlanRequest {
    request("ChCl:urea 1:2", size)
}

fn mass() -> Size {
    Size::Mass(grams(50.0))
}

#[test]
fn size_that_means_nothing() {
    check(reline(Size::Mass(grams(0.0))), "empty_batch", "the batch size must be above 0");
    let told = "a mass ratio has no ratio units in moles";
    let by_mass = request("MnO2:carbon 9:1 by mass", Size::Amount(typed("1 mol")));
    check(by_mass, "amount_of_mass_ratio", told);
    let told = "no stock is stated for any component of the recipe";
    check(reline(Size::Stock), "no_stock", told);
    let told = "25 mL of final solution needs the density of the final solution, and none is estimated";
    check(reline(Size::Volume(typed("25 mL"))), "density_needed", told);
    let told = "the recipe has nothing dry to size it by";
    check(request("water 1 + 2 mol/kg ZnSO4", Size::DryParts(grams(50.0))), "nothing_dry", told);
    check(request("water 1", Size::DryPure(grams(50.0))), "nothing_dry", told);
}

#[test]
fn stock_of_nothing() {
    let supplies = vec![Supply { stock: Some(grams(0.0)), ..bottle("urea") }];
    let told = "the stock of urea is 0 g, which allows no batch";
    check(PlanRequest { supplies, ..reline(Size::Stock) }, "empty_stock", told);
}

#[test]
fn tolerance_of_nothing() {
    let mut request = reline(mass());
    request.tolerance.value = Relative::ZERO;
    check(request, "no_tolerance", "the ratio tolerance must be above 0 %");
}

#[test]
fn densities_of_gases() {
    let air = Some(AirDensity(typed("1.2 g/mL")));
    check(
        PlanRequest { air, ..reline(mass()) },
        "bad_air_density",
        "an air density of 1.2 g/mL is not one of air",
    );
    for text in ["0 g/mL", "0.0012 g/mL"] {
        let density = Some(BottleDensity { value: typed(text), at: None });
        let supplies = vec![Supply { density, ..bottle("EG") }];
        let told = format!("a density of {text} is not one of ethylene-glycol");
        check(PlanRequest { supplies, ..request("ChCl:EG 1:2", mass()) }, "bad_density", &told);
    }
}

#[test]
fn additions_that_leave_no_room() {
    let supplies = vec![bottle("ZnSO4 form=heptahydrate assay=50%")];
    let told = "the additions, as these bottles hold them, take up the whole batch";
    let request = request("ChCl:urea 1:2 + 40 wt% ZnSO4", mass());
    check(PlanRequest { supplies, ..request }, "no_room", told);
}

/// A first part that rounds to nothing leaves no ratio to print, and no infinity in the JSON.
#[test]
fn first_part_that_rounds_to_nothing() {
    let balance = Some(crate::setup::balance("d=0.1g"));
    let plan = planned(PlanRequest { balance, ..request("ChCl:urea 1:2000", Size::Mass(grams(1.0))) });
    assert_eq!(plan.ratios[0].rounded, None);
    let json = serde_json::to_string(&plan).unwrap();
    assert_eq!(serde_json::from_str::<meltbook::plan::Plan>(&json).unwrap(), plan);
}

/// Salt in water: all of the ratio is water, and molality counts on it.
#[test]
fn water_and_salt_alone_is_a_plan() {
    let plan = planned(request("water 1 + 2 mol/kg ZnSO4", Size::Mass(grams(50.0))));
    let [salt, water] = plan.lines.as_slice() else { panic!("{:?}", plan.lines) };
    // ZnSO4 161.436 g/mol (IUPAC 2021, abridged)
    let molality = salt.weigh.get() / 161.436 / (water.weigh.get() / 1000.0);
    approx::assert_relative_eq!(molality, 2.0, max_relative = 1e-12);
    approx::assert_relative_eq!(plan.mass.get(), 50.0, max_relative = 1e-12);
}
