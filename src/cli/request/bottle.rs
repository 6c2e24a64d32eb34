//! `--bottle` and `--have`: what the components are taken from.

use std::sync::Arc;

use super::size::comma_warning;
use super::table::find;
use crate::component::{Component, ComponentTable, Quality};
use crate::input::{Fault, Faults, FlagValue, Place, Warning};
use crate::plan::{BottleDensity, Supply};
use crate::quantity::{Density, Mass, QuantityError, Typed};

/// The keys of `--bottle`.
const KEYS: [&str; 9] =
    ["form", "assay", "assay_u", "basis", "moisture", "moisture_u", "density", "density_at", "label"];

/// The supplies that the flags describe, each component once, after those that are `known` already.
pub(super) fn supplies(
    known: Vec<Supply>,
    bottles: &[String],
    stocks: &[String],
    table: &ComponentTable,
    warnings: &mut Vec<Warning>,
) -> Result<Vec<Supply>, Faults> {
    let mut faults = Faults::none();
    let mut supplies: Vec<Supply> = known;
    for text in bottles {
        let Some(supply) = faults.collect(bottle(text, table)) else { continue };
        warnings.extend(unlisted_hydrate(&supply, table));
        if supplies.iter().any(|other| other.component == supply.component) {
            let message = format!("{} has two bottles", supply.component);
            let place = Place::in_text("--bottle", text.as_str(), 0..text.len());
            let fault = Fault::new("bottle_twice", message, place);
            faults
                .push(fault.with_hint(
                    "A plan takes each component from one bottle: plan twice, or mix them first.",
                ));
            continue;
        }
        supplies.push(supply);
    }
    for text in stocks {
        let Some((component, stock)) = faults.collect(stock(text, table)) else { continue };
        warnings.extend(comma_warning("--have", &stock));
        match supplies.iter_mut().find(|supply| supply.component == component.id) {
            Some(supply) if supply.stock.is_some() => {
                let place = Place::in_text("--have", text.as_str(), 0..text.len());
                let fault = Fault::new("stock_twice", format!("{} has two stocks", component.id), place);
                faults.push(fault.with_hint("Add them up."));
            }
            Some(supply) => supply.stock = Some(stock),
            None => supplies.push(Supply { stock: Some(stock), ..Supply::unspecified(component.id.clone()) }),
        }
    }
    faults.or(supplies)
}

/// `ChCl assay=98% basis=dried moisture=1.5%`.
fn bottle(text: &str, table: &ComponentTable) -> Result<Supply, Faults> {
    let mut faults = Faults::none();
    let flag = FlagValue::collecting("--bottle", text, &KEYS, &mut faults);
    let component = faults.collect(named(&flag, text, table));
    let quality = match &component {
        Some(component) => faults.collect(Quality::from_flag(&flag, component, table)),
        None => {
            Quality::check_values(&flag, &mut faults);
            None
        }
    };
    let value = flag.quantity::<Density>("density", &mut faults);
    let at = flag.quantity("density_at", &mut faults);
    if let (Some(value), Some(pair)) = (&value, flag.get("density"))
        && value.value <= Density::ZERO
    {
        let fault = Fault::new("bad_density", "a density must be above 0", flag.place_of(pair));
        faults.push(fault.with_hint("Write it like density=1.11g/mL."));
    }
    if let (None, Some(pair)) = (flag.get("density"), flag.get("density_at")) {
        let fault = Fault::new("density_missing", "density_at is given without density", flag.place_of(pair));
        faults.push(fault.with_hint("Give both, as in density=1.11g/mL density_at=20°C."));
    }
    let label = flag.get("label").map(|pair| pair.value.clone()).or_else(|| described(&flag));
    let supply = component.zip(quality).map(|(component, quality)| Supply {
        component: component.id.clone(),
        label,
        quality,
        density: value.map(|value| BottleDensity { value, at }),
        stock: None,
    });
    match supply {
        Some(supply) if faults.is_empty() => Ok(supply),
        _ => Err(faults),
    }
}

/// A hydrate that the table does not know may well be a slip of the pen.
fn unlisted_hydrate(supply: &Supply, table: &ComponentTable) -> Option<Warning> {
    let form = supply.quality.form.as_ref().filter(|form| 0.0 < form.crystal_water)?;
    let own = table.get(supply.component.as_str())?;
    let hydrates = || table.iter().filter(|other| other.hydrate_of.as_ref() == Some(&own.id));
    let known = own.crystal_water() == form.crystal_water
        || hydrates().any(|hydrate| hydrate.crystal_water() == form.crystal_water);
    if known {
        return None;
    }
    let listed: Vec<&str> = hydrates().map(|hydrate| hydrate.name.as_str()).collect();
    let listed = if listed.is_empty() { "no hydrate of it".to_owned() } else { listed.join(", ") };
    let message =
        format!("{}: the table knows {listed}, and not form={}; check the bottle", own.name, form.name);
    Some(Warning::new("unlisted_hydrate", message))
}

/// A bottle without a label is called by what was said of it.
fn described(flag: &FlagValue) -> Option<String> {
    let said = flag.pairs.iter().filter(|pair| matches!(pair.key.as_str(), "form" | "assay" | "moisture"));
    let said: Vec<String> = said.map(|pair| format!("{} {}", pair.key, pair.value)).collect();
    (!said.is_empty()).then(|| said.join(", "))
}

/// `ChCl 12.4g`.
fn stock(text: &str, table: &ComponentTable) -> Result<(Arc<Component>, Typed<Mass>), Faults> {
    named_mass("--have", text, table)
}

/// A component and a mass, the mass being what follows the first space.
pub(super) fn named_mass(
    origin: &str,
    text: &str,
    table: &ComponentTable,
) -> Result<(Arc<Component>, Typed<Mass>), Faults> {
    let trimmed = text.trim_start();
    let start = text.len() - trimmed.len();
    let Some(space) = trimmed.find(char::is_whitespace) else {
        let place = Place::in_text(origin, text, 0..text.len());
        let fault = Fault::new("no_mass", format!("{text:?} has no mass behind the name"), place);
        return Err(fault.with_hint(format!("Write it like {origin} \"ChCl 32.48g\".")).into());
    };
    let mut faults = Faults::none();
    let component = faults.collect(find(table, origin, text, start..start + space));
    let rest = start + space..text.len();
    let fault = |error: QuantityError| Fault::of_quantity(&error, Place::in_text(origin, text, rest.clone()));
    let mass = faults.collect(Typed::<Mass>::parse(&text[rest.clone()]).map_err(fault));
    match (component, mass) {
        (Some(component), Some(mass)) => Ok((component, mass)),
        _ => Err(faults),
    }
}

fn named(flag: &FlagValue, text: &str, table: &ComponentTable) -> Result<Arc<Component>, Faults> {
    if flag.name.is_empty() {
        let fault = Fault::new("no_name", "the bottle's component is missing", flag.place());
        return Err(fault
            .with_hint("Write it like --bottle \"ChCl assay=98% basis=dried moisture=1.5%\".")
            .into());
    }
    let start = text.find(flag.name.as_str()).unwrap_or(0);
    Ok(find(table, "--bottle", text, start..start + flag.name.len())?)
}
