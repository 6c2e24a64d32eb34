//! Tables that would mislead.

use meltbook::component::{Component, read_components};
use meltbook::input::Faults;

use super::check;
use crate::setup::table;

fn read(keys: &str) -> Result<Vec<Component>, Faults> {
    let text = format!(
        "[[component]]\nname = \"mine\"\nroles = [\"salt\"]\nidentity = \"invented for this test\"\n{keys}\n\
         hazard = {{ basis = \"none-found\", codes = [], source = \"invented\" }}\n"
    );
    read_components("components.toml", &text, table())
}

/// An id that is another component's name would never be found.
#[test]
fn id_that_is_the_name_of_another() {
    let hint = "Choose a name that no other component has.";
    check(read("id = \"chcl\""), "name_twice: the name \"chcl\" already means choline-chloride", hint);
    assert!(read("id = \"my-salt\"").is_ok());
    // The same id replaces the built-in component.
    assert!(read("id = \"choline-chloride\"").is_ok());
}

#[test]
fn hydrate_of_something_unknown() {
    let told = "unknown_component: hydrate_of names \"zinc-sulfat\", which is no component";
    let keys = |parent: &str| format!("id = \"x\"\nformula = \"ZnSO4·6H2O\"\nhydrate_of = {parent:?}");
    check(read(&keys("zinc-sulfat")), told, "Did you mean \"zinc-sulfate\"?");
    assert!(read(&keys("zinc-sulfate")).is_ok());
}
