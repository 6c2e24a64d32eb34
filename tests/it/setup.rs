//! Plans from text, by the same route as a person's: shorthand, bottles as flag values, plan.

use std::sync::LazyLock;

use meltbook::component::{ComponentTable, Quality};
use meltbook::input::{Faults, FlagValue};
use meltbook::plan::{
    Balance, LiquidsAt, Plan, PlanRequest, Size, Supply, Tolerance, Weighed, Weighing, plan,
};
use meltbook::quantity::{Mass, Quantity, Relative, Temperature, Typed};
use meltbook::recipe::{Recipe, read_shorthand};

static TABLE: LazyLock<ComponentTable> = LazyLock::new(ComponentTable::builtin);

/// The built-in table.
pub fn table() -> &'static ComponentTable {
    &TABLE
}

/// What the faults say, for the message of a test that fails.
pub fn told(faults: Faults) -> String {
    faults.iter().map(|fault| format!("{}: {}", fault.place, fault.message)).collect::<Vec<_>>().join("\n")
}

/// A quantity as typed.
#[track_caller]
pub fn typed<T: Quantity>(text: &str) -> Typed<T> {
    Typed::parse(text).unwrap_or_else(|error| panic!("{error}"))
}

/// Grams as typed.
#[track_caller]
pub fn grams(mass: f64) -> Typed<Mass> {
    typed(&format!("{mass} g"))
}

/// A recipe in the trade's notation.
#[track_caller]
pub fn recipe(text: &str) -> Recipe {
    read_shorthand("RECIPE", text, table()).map_err(told).unwrap_or_else(|told| panic!("{told}"))
}

/// A bottle by its flag, `ChCl assay=98% moisture=1.5%`.
#[track_caller]
pub fn bottle(text: &str) -> Supply {
    let read = || {
        let flag = FlagValue::parse("--bottle", text, &Quality::KEYS)?;
        let component = table().find(&flag.name).unwrap_or_else(|error| panic!("{error}"));
        let quality = Quality::from_flag(&flag, component, table())?;
        Ok(Supply { label: Some(text.to_owned()), quality, ..Supply::unspecified(component.id.clone()) })
    };
    read().map_err(told).unwrap_or_else(|told| panic!("{told}"))
}

/// A balance by its flag, `d=0.01g repeatability=0.01g`.
#[track_caller]
pub fn balance(text: &str) -> Balance {
    let read = || Balance::from_flag(&FlagValue::parse("--balance", text, &Balance::KEYS)?);
    read().map_err(told).unwrap_or_else(|told| panic!("{told}"))
}

/// A request with the defaults of the command line.
#[track_caller]
pub fn request(shorthand: &str, size: Size) -> PlanRequest {
    request_of(recipe(shorthand), size)
}

/// The same for a recipe that is already read.
pub fn request_of(recipe: Recipe, size: Size) -> PlanRequest {
    let tolerance = recipe.ratio_tolerance.as_ref().map(|tolerance| tolerance.value);
    PlanRequest {
        size,
        supplies: Vec::new(),
        balance: None,
        weighing: Weighing::Each,
        tolerance: Tolerance { value: tolerance.unwrap_or(Relative::new(0.01)), stated: tolerance.is_some() },
        liquids_at: LiquidsAt { value: Temperature::from_celsius(20.0), typed: None },
        density: None,
        air: None,
        weighed: Vec::new(),
        minimum_weight: false,
        recipe,
    }
}

/// The plan of a request, which must be possible.
#[track_caller]
pub fn planned(request: PlanRequest) -> Plan {
    plan(request, table()).unwrap_or_else(|error| panic!("{error}"))
}

/// One component as weighed.
#[track_caller]
pub fn weighed(name: &str, mass: f64) -> Weighed {
    let component = table().find(name).unwrap_or_else(|error| panic!("{error}")).id.clone();
    Weighed { component, mass: grams(mass) }
}
