//! Finding what a person names: a component of the table first, then another material.

use std::sync::Arc;

use super::material::{Material, folded, materials};
use crate::component::{Component, ComponentTable, LookupError, unknown_hint};
use crate::input::{Fault, Place};

/// What a name means.
#[derive(Debug, Clone, PartialEq)]
pub enum Named {
    /// A component of the table.
    Component(Arc<Component>),
    /// Another material.
    Material(&'static Material),
}

/// The component of this name, else the material of this name, else the component of this formula: the
/// formula comes last because NH4SCN is also the composition of thiourea. The fault for an unknown name
/// gives the nearest known one.
pub fn find_named(name: &str, table: &ComponentTable, place: Place) -> Result<Named, Fault> {
    let found = table.find(name);
    let material = materials().iter().find(|material| material.is_called(name));
    let error = match (found, material) {
        (Ok(component), None) => return Ok(Named::Component(Arc::clone(component))),
        (Ok(component), Some(_)) if is_called(component, name) => {
            return Ok(Named::Component(Arc::clone(component)));
        }
        (_, Some(material)) => return Ok(Named::Material(material)),
        (Err(error), None) => error,
    };
    Err(match error {
        LookupError::Ambiguous { .. } => error.fault(place),
        LookupError::Unknown { .. } => {
            let message = format!("no component and no other material is called {name:?}");
            Fault::new("unknown_material", message, place).with_hint(nearest_hint(name, table))
        }
    })
}

/// True if this is a name of the component, not only its formula.
fn is_called(component: &Component, name: &str) -> bool {
    let wanted = folded(name);
    let names = component.aliases.iter().map(String::as_str);
    names.chain([component.id.as_str(), &component.name]).any(|own| folded(own) == wanted)
}

fn nearest_hint(name: &str, table: &ComponentTable) -> String {
    let components = table.iter().flat_map(|component| {
        std::iter::once(component.id.as_str()).chain(component.aliases.iter().map(String::as_str))
    });
    let others = materials().iter().flat_map(|material| {
        std::iter::once(material.name.as_str()).chain(material.aliases.iter().map(String::as_str))
    });
    let otherwise = "See the components with: meltbook component list. Add your own with --components FILE.";
    unknown_hint(name, components.chain(others), otherwise)
}
