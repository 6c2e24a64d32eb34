//! The component table: finding a component by any of its names.

use std::collections::HashMap;
use std::sync::Arc;

use super::entry::{Component, ComponentId};
use super::role::Role;
use crate::chemistry::Formula;
use crate::input::{Fault, Place, did_you_mean};

/// A set of components with unique ids and names.
#[derive(Debug, Clone, Default)]
pub struct ComponentTable {
    components: Vec<Arc<Component>>,
    /// Id → place in `components`.
    ids: HashMap<ComponentId, usize>,
    /// Folded id, alias, name and CAS number → place in `components`.
    names: HashMap<String, usize>,
}

/// Why a name finds no component.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum LookupError {
    /// No component has this name.
    #[error("no component is called {name:?}")]
    Unknown {
        /// As given.
        name: String,
        /// The way out.
        hint: String,
    },
    /// Several components have this formula.
    #[error("the formula {name:?} belongs to several components")]
    Ambiguous {
        /// As given.
        name: String,
        /// The way out.
        hint: String,
    },
}

impl LookupError {
    /// The way out.
    pub fn hint(&self) -> &str {
        match self {
            Self::Unknown { hint, .. } | Self::Ambiguous { hint, .. } => hint,
        }
    }

    /// The fault at a place.
    pub fn fault(&self, place: Place) -> Fault {
        let code = match self {
            Self::Unknown { .. } => "unknown_component",
            Self::Ambiguous { .. } => "ambiguous_component",
        };
        Fault::new(code, self.to_string(), place).with_hint(self.hint())
    }
}

impl ComponentTable {
    /// The table that comes with the program.
    pub fn builtin() -> Self {
        super::builtin::table()
    }

    /// All components in the order of the files.
    pub fn iter(&self) -> impl Iterator<Item = &Arc<Component>> {
        self.components.iter()
    }

    /// Number of components.
    pub fn len(&self) -> usize {
        self.components.len()
    }

    /// True without any.
    pub fn is_empty(&self) -> bool {
        self.components.is_empty()
    }

    /// Those of a role.
    pub fn with_role(&self, role: Role) -> impl Iterator<Item = &Arc<Component>> {
        self.components.iter().filter(move |component| component.roles.contains(&role))
    }

    /// The component of this id.
    pub fn get(&self, id: &str) -> Option<&Arc<Component>> {
        self.ids.get(id).map(|place| &self.components[*place])
    }

    /// Puts a component in, replacing the one of the same id. Names that another component already has
    /// go on meaning the other one; the reader of a table reports them first.
    pub fn insert(&mut self, component: Component) {
        let names = names_of(&component);
        let place = match self.ids.get(&component.id).copied() {
            Some(place) => {
                self.names.retain(|_, at| *at != place);
                self.components[place] = Arc::new(component);
                place
            }
            None => {
                let place = self.components.len();
                self.ids.insert(component.id.clone(), place);
                self.components.push(Arc::new(component));
                place
            }
        };
        for name in names {
            self.names.entry(name).or_insert(place);
        }
    }

    /// Which other component already has this name.
    pub fn owner_of(&self, name: &str, besides: &ComponentId) -> Option<&ComponentId> {
        self.find_name(name).map(|component| &component.id).filter(|id| *id != besides)
    }

    /// Finds by id, alias, name (spaces or hyphens, any case), CAS number, or a formula that is unique.
    pub fn find(&self, name: &str) -> Result<&Arc<Component>, LookupError> {
        let name = name.trim();
        if let Some(component) = self.find_name(name) {
            return Ok(component);
        }
        match self.with_formula(name).as_slice() {
            [] => Err(self.unknown(name)),
            [one] => Ok(one),
            several => {
                let ids: Vec<&str> = several.iter().map(|component| component.id.as_str()).collect();
                let hint = format!("Write one of {}.", ids.join(", "));
                Err(LookupError::Ambiguous { name: name.to_owned(), hint })
            }
        }
    }

    fn find_name(&self, name: &str) -> Option<&Arc<Component>> {
        self.names.get(&folded(name)).map(|place| &self.components[*place])
    }

    fn with_formula(&self, text: &str) -> Vec<&Arc<Component>> {
        let Ok(wanted) = text.parse::<Formula>() else { return Vec::new() };
        let same = |component: &&Arc<Component>| {
            component.formula.as_ref().is_some_and(|own| {
                own.hill() == wanted.hill() && own.crystal_water() == wanted.crystal_water()
            })
        };
        self.components.iter().filter(same).collect()
    }

    fn unknown(&self, name: &str) -> LookupError {
        let known = self.components.iter().flat_map(|component| {
            std::iter::once(component.id.as_str()).chain(component.aliases.iter().map(String::as_str))
        });
        let otherwise = "See the names with: meltbook component list. Add your own with --components FILE.";
        LookupError::Unknown { name: name.to_owned(), hint: unknown_hint(name, known, otherwise) }
    }
}

/// The way out for an unknown name: the nearest known one. A text that reads as a formula says exactly what is
/// meant, and another composition with a similar look is something else.
pub fn unknown_hint<'n>(name: &str, known: impl IntoIterator<Item = &'n str>, otherwise: &str) -> String {
    if name.parse::<Formula>().is_ok() {
        return format!("It reads as a formula, and no component has it. {otherwise}");
    }
    if name.contains(':') {
        return "A recipe has its ratio behind the names, all in quotes: \"ChCl:urea 1:2\".".to_owned();
    }
    did_you_mean(name, known, otherwise)
}

/// Names are compared without case, and a space is a hyphen.
fn folded(name: &str) -> String {
    name.trim().to_lowercase().replace([' ', '_'], "-")
}

fn names_of(component: &Component) -> Vec<String> {
    let mut names = vec![folded(component.id.as_str()), folded(&component.name)];
    names.extend(component.aliases.iter().map(|alias| folded(alias)));
    names.extend(
        component.cas.iter().filter(|_| component.hydrate_of.is_none()).map(|cas| cas.as_str().to_owned()),
    );
    names
}
