//! A person's own hazard data: what is checked, by the statements of `h-statements.csv` and the classes of CLP Annex I.

use meltbook::caution::{HazardFault, check_hazard};
use meltbook::component::{ComponentTable, read_components};

fn findings(hazard: &str) -> Vec<HazardFault> {
    let text = format!(
        "[[component]]\nid = \"own\"\nname = \"own\"\nroles = [\"salt\"]\nidentity = \"bottle\"\nhazard = {{ {hazard} }}\n"
    );
    let component = read_components("own.toml", &text, &ComponentTable::builtin()).unwrap().remove(0);
    check_hazard(&component).into_iter().map(|finding| finding.code).collect()
}

#[test]
fn the_built_in_table_contradicts_nothing() {
    for component in ComponentTable::builtin().iter() {
        for finding in check_hazard(component) {
            assert_eq!(finding.code, HazardFault::Doubt, "{}: {}", component.id, finding.message);
        }
    }
}

#[test]
fn every_limit_of_the_built_in_table_is_understood() {
    for component in ComponentTable::builtin().iter() {
        for finding in check_hazard(component) {
            assert!(!finding.message.contains("not understood"), "{}: {}", component.id, finding.message);
        }
    }
}

#[test]
fn what_is_wrong_is_found() {
    use HazardFault::{ClassWithoutCode, Contradiction, Doubt, NoIndex, UnknownCode};
    let source = "source = \"sheet\"";
    for (hazard, wanted) in [
        (
            "basis = \"supplier\", codes = [\"H302\", \"H314\"], classes = [\"Acute Tox. 4\", \"Skin Corr. 1B\"]",
            vec![],
        ),
        ("basis = \"supplier\", codes = [\"H302\", \"H999\"]", vec![UnknownCode]),
        ("basis = \"supplier\", codes = [], euh = [\"EUH999\"]", vec![UnknownCode]),
        (
            "basis = \"supplier\", codes = [\"H302\"], classes = [\"Acute Tox. 4\", \"Skin Corr. 1B\"]",
            vec![ClassWithoutCode],
        ),
        (
            "basis = \"supplier\", codes = [\"H302\"], classes = [\"Acute Tox. 3\"]",
            vec![ClassWithoutCode, Contradiction],
        ),
        ("basis = \"supplier\", codes = [\"H301\", \"H302\"]", vec![Contradiction]),
        ("basis = \"supplier\", codes = [\"H314\", \"H315\"]", vec![Contradiction]),
        ("basis = \"supplier\", codes = [\"H350\", \"H351\"]", vec![Contradiction]),
        ("basis = \"supplier\", codes = [\"H360F\", \"H361d\"]", vec![]),
        (
            "basis = \"supplier\", codes = [\"H410\"], classes = [\"Aquatic Acute 1\", \"Aquatic Chronic 1\"]",
            vec![],
        ),
        ("basis = \"supplier\", codes = [\"H302\"], ate_oral_mg_per_kg = 100", vec![Contradiction]),
        ("basis = \"supplier\", codes = [], ate_oral_mg_per_kg = 500", vec![Contradiction]),
        ("basis = \"supplier\", codes = [], ate_oral_mg_per_kg = 3400", vec![]),
        ("basis = \"harmonised\", codes = [\"H302\"]", vec![NoIndex]),
        ("basis = \"supplier\", codes = [\"H200\"]", vec![Doubt]),
        ("basis = \"none-found\", codes = []", vec![Doubt]),
        (
            "basis = \"supplier\", codes = [\"H314\"], limits = \"Skin Corr. 1B; H314: C ≥ 5 %; Skin Irrit. 2; H315: 1 % ≤ C < 5 %\"",
            vec![],
        ),
        ("basis = \"supplier\", codes = [\"H314\"], limits = \"corrosive above five percent\"", vec![Doubt]),
    ] {
        assert_eq!(findings(&format!("{hazard}, {source}")), wanted, "{hazard}");
    }
}
