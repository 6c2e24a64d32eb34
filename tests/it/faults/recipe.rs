//! Recipes that say nothing, too much, or the same thing twice.

use meltbook::recipe::{Recipe, read_recipe, read_shorthand};

use super::check;
use crate::setup::table;

#[track_caller]
fn check_line(text: &str, told: &str, hint: &str) {
    check(read_shorthand("RECIPE", text, table()), told, hint);
}

const PER_WHAT: &str =
    "Write wt% (of the final batch), mol/kg (of dry acceptor and donor) or mol/L (of final solution).";

#[test]
fn percent_of_nobody_knows_what() {
    let told = "bare_percent: \"0.5 %\" does not say what it is a percentage of";
    check_line("ChCl:urea 1:2 + 0.5 % ZnCl2", told, PER_WHAT);
    let told = "bare_percent: \"2%\" does not say what it is a percentage of";
    check_line("ChCl:urea 1:2 to 2% water", told, PER_WHAT);
}

#[test]
fn units_of_something_else() {
    let told =
        "bad_amount: \"5 mol%\" is no amount of an addition: its unit must be wt%, ppm, mol/kg or mol/L";
    check_line("ChCl:urea 1:2 + 5 mol% ZnCl2", told, PER_WHAT);
    let told = "bad_fraction: \"2 mol%\" is no mass fraction of the final batch: its unit must be wt% or ppm";
    check_line("ChCl:urea 1:2 to 2 mol% water", told, "Write it like 2 wt%.");
}

#[test]
fn addition_of_nothing() {
    for amount in ["0 wt%", "0 mol/kg", "0.0 mmol/L"] {
        let told = format!("bad_amount: {amount:?} of an addition is none of it");
        check_line(&format!("ChCl:urea 1:2 + {amount} thymol"), &told, "Leave the addition out.");
    }
}

#[test]
fn water_in_two_places() {
    let told = "water_twice: water stands in the ratio and as a target: only one can hold";
    check_line("ChCl:water 1:2 to 2 wt% water", told, "Leave one of the two out.");
    let hint = "Give the total water of the final batch: \"to 2 wt% water\", or [water] target in a file.";
    check_line("ChCl:urea 1:2 + 1 wt% water", "water_as_addition: water can't be an addition", hint);
    let told = "water_not_last: \"2 wt% water + 0.5 mol/kg ZnCl2\" is no water content: \
                an addition stands behind the water";
    let hint = "Give the water last, as in \"… + 0.5 mol/kg ZnCl2 to 2 wt% water\".";
    check_line("ChCl:urea 1:2 to 2 wt% water + 0.5 mol/kg ZnCl2", told, hint);
}

#[test]
fn more_than_the_whole() {
    let told = "no_room: additions and water take up 110 % of the batch";
    let hint = "Leave room for the ratio's own components.";
    check_line("ChCl:urea 1:2 + 60 wt% ZnCl2 to 50 wt% water", told, hint);
    let told = "bad_fraction: \"100 wt%\" is the whole batch or more";
    check_line("ChCl:urea 1:2 to 100 wt% water", told, "Give less than 100 wt%.");
}

#[test]
fn same_component_twice() {
    let hint = "Put its amounts together.";
    check_line("ChCl:urea:ChCl 1:2:1", "component_twice: choline-chloride stands twice in the recipe", hint);
    let told = "component_twice: urea stands twice in the recipe";
    check_line("ChCl:urea 1:2 + 1 wt% carbamide", told, hint);
}

#[test]
fn moles_of_something_without_a_formula() {
    let hint = "Use a mass ratio (basis = \"mass\", or \"by mass\" in the shorthand) or wt%.";
    let told = "no_formula: polytetrafluoroethylene has no formula, so it can't be given by a mole ratio";
    check_line("ChCl:PTFE 1:2", told, hint);
    let told = "no_formula: polytetrafluoroethylene has no formula, so it can't be given by 0.5 mol/kg";
    check_line("ChCl:urea 1:2 + 0.5 mol/kg PTFE", told, hint);
}

#[test]
fn numbers_of_a_ratio() {
    for number in ["0", "-1", "1e7", "2,5", "x"] {
        let told = format!(
            "bad_ratio: {number:?} is no number for a ratio: above 0, at most 1000000, with a decimal point"
        );
        check_line(&format!("ChCl:urea 1:{number}"), &told, "Write it like 1:2 or 1:2.5.");
    }
    let hint = "Give one number for each name, as in A:B:C 1:2:1.";
    check_line("ChCl:urea 1", "ratio_mismatch: 2 names, but 1 number in the ratio", hint);
}

fn file(tail: &str) -> Result<Recipe, meltbook::input::Faults> {
    let text = format!(
        "name = \"x\"\nbasis = \"mole\"\n[[part]]\ncomponent = \"ChCl\"\nratio = 1\n[[part]]\n\
         component = \"urea\"\nratio = 2\n{tail}"
    );
    read_recipe("recipe.toml", &text, table())
}

#[test]
fn files_say_the_same_as_the_shorthand() {
    assert_eq!(file("").unwrap().shorthand(), "choline-chloride:urea 1:2");
    let addition = |amount: &str| format!("[[addition]]\ncomponent = \"thymol\"\namount = {amount:?}\n");
    let told = "bad_amount: \"0 wt%\" of an addition is none of it";
    check(file(&addition("0 wt%")), told, "Leave the addition out.");
    let told = "bare_percent: \"1 %\" does not say what it is a percentage of";
    check(file(&addition("1 %")), told, PER_WHAT);
    let told = "bare_percent: \"2 %\" does not say what it is a percentage of";
    check(file("[water]\ntarget = \"2 %\"\n"), told, PER_WHAT);
}
