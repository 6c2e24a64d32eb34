//! Qualities that no bottle can have.

use meltbook::component::Quality;
use meltbook::input::{Faults, FlagValue};

use super::check;
use crate::setup::table;

fn read(text: &str) -> Result<Quality, Faults> {
    let flag = FlagValue::parse("--bottle", text, &Quality::KEYS)?;
    let component = table().find(&flag.name).unwrap();
    Quality::from_flag(&flag, component, table())
}

#[track_caller]
fn check_bottle(text: &str, told: &str, hint: &str) {
    check(read(text), told, hint);
}

#[test]
fn assay_of_nothing_or_of_more_than_all() {
    let hint = "Write it like assay=98%.";
    check_bottle("ChCl assay=0%", "bad_quality: an assay must be above 0 %", hint);
    let hint = "Only an assay that counts a hydrate may be: then give form= and basis=as-hydrate.";
    check_bottle("ChCl assay=110%", "bad_quality: an assay of 110 % is above 100 %", hint);
    check_bottle("ZnSO4 form=7H2O assay=103%", "bad_quality: an assay of 103 % is above 100 %", hint);
    let told = "bad_quality: assay 99.5 % and moisture 1 % add up to more than 100 %";
    let hint = "If the assay is of the dried substance, use basis=dried.";
    check_bottle("ChCl assay=99.5% basis=as-is moisture=1%", told, hint);
}

#[test]
fn range_without_an_upper_end() {
    let told = "bad_quantity: \"≥102 %\" is not a mass fraction: it must lie between 0 and 100 %";
    check_bottle("ZnSO4 form=7H2O basis=as-hydrate assay=≥102 %", told, "Write it like \"102..104%\".");
    assert!(read("ZnSO4 form=7H2O basis=as-hydrate assay=102..104%").is_ok());
    assert_eq!(read("ChCl assay=≥100%").unwrap().assay_value(), 1.0);
}

#[test]
fn hydrate_counted_beyond_its_anhydrous_substance() {
    // 287.541 / 161.436 = 1.78114: nothing but zinc sulfate.
    let told = "bad_quality: an assay of 200.00 % as hydrate is above 178.11 %, \
                which is the anhydrous substance alone";
    let hint = "Check the form and the certificate.";
    check_bottle("ZnSO4 form=7H2O basis=as-hydrate assay=200%", told, hint);
    let told = "bad_quality: an assay as hydrate and moisture that add up to more than 100 %";
    let hint = "A hydrate that has lost water has no moisture beside it: leave moisture= out.";
    check_bottle("ZnSO4 form=7H2O basis=as-hydrate assay=102% moisture=1%", told, hint);
    let told = "bad_quality: basis=as-hydrate, but zinc sulfate is not in a form with crystal water";
    let hint = "Name the hydrate with form=, or use basis=as-is.";
    check_bottle("ZnSO4 basis=as-hydrate assay=99%", told, hint);
}

#[test]
fn moisture_of_all_that_there_is() {
    for moisture in ["100%", "120%"] {
        let told = "bad_quality: moisture must be below 100 %";
        check_bottle(&format!("ChCl moisture={moisture}"), told, "Write it like moisture=1.5%.");
    }
}

#[test]
fn form_of_something_without_a_formula() {
    let told = "bad_quality: polytetrafluoroethylene has no formula, so it has no hydrates";
    check_bottle("PTFE form=dihydrate", told, "Leave form= out.");
    let told = "bad_form: \"dihidrate\" is no hydrate of zinc sulfate";
    let hint = "Give a hydrate's name (heptahydrate), its water (7H2O) or anhydrous.";
    check_bottle("ZnSO4 form=dihidrate", told, hint);
}

#[test]
fn uncertainty_of_nothing() {
    let told = "missing_key: assay_u is given without assay";
    check_bottle("ChCl assay_u=1%", told, "Give assay= too, or leave assay_u= out.");
    let told = "missing_key: moisture_u is given without moisture";
    check_bottle("ChCl assay=98% moisture_u=0.1%", told, "Give moisture= too, or leave moisture_u= out.");
}
