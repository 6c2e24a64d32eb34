//! What is reviewed.

use std::sync::Arc;

use super::context::Context;
use super::material::{Material, humid_air};
use crate::component::{Component, Composition, Group};
use crate::quantity::{Mass, MassFraction};

/// What is reviewed: components of the table, other materials, and the composition if it is known.
#[derive(Debug, Clone, Copy, Default)]
pub struct Subject<'a> {
    /// Components of the table. Those of the composition need not be repeated.
    pub components: &'a [Arc<Component>],
    /// Materials that are not in the table.
    pub materials: &'a [Material],
    /// What is in the mixture as made. It lets rules with a limit by mass fraction stay quiet.
    pub composition: Option<&'a Composition>,
}

/// One of the materials as the rules see it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Member<'a> {
    pub name: &'a str,
    pub groups: &'a [Group],
    pub component: Option<&'a Component>,
    pub mass_fraction: Option<MassFraction>,
}

/// Water below this mass fraction of a known composition is not counted as water at hand (common
/// practice: traces of moisture are in every bottle).
const WATER_COUNTS_FROM: MassFraction = MassFraction::new(0.001);

impl<'a> Subject<'a> {
    /// Components of list and composition, each once.
    pub(super) fn all_components(&self) -> Vec<&'a Arc<Component>> {
        let made = self.composition.iter().flat_map(|composition| &composition.constituents);
        let all = self.components.iter().chain(made.map(|constituent| &constituent.component));
        let mut components: Vec<&Arc<Component>> = Vec::new();
        for component in all {
            if !components.iter().any(|known| known.id == component.id) {
                components.push(component);
            }
        }
        components
    }

    /// Names of components that are at hand and not in the composition: what a batch still waits for.
    pub(super) fn not_in_composition(&self) -> Vec<String> {
        let Some(composition) = self.composition else { return Vec::new() };
        let root =
            |component: &Component| component.hydrate_of.clone().unwrap_or_else(|| component.id.clone());
        let held: Vec<_> = composition.constituents.iter().map(|held| root(&held.component)).collect();
        let lacks = |component: &&Arc<Component>| !component.is_water() && !held.contains(&root(component));
        self.components.iter().filter(lacks).map(|component| component.name.clone()).collect()
    }

    /// Everything at hand in the order of its names, so that no answer depends on the order given.
    pub(super) fn members(&self, context: &Context) -> Vec<Member<'a>> {
        let mut members: Vec<Member<'a>> =
            self.all_components().into_iter().map(|component| self.member(component)).collect();
        members.extend(self.materials.iter().map(Member::of_material));
        if self.holds_water() && !members.iter().any(|m| m.component.is_some_and(Component::is_water)) {
            members
                .extend(humid_air().map(|air| Member { name: Component::WATER, ..Member::of_material(air) }));
        }
        if context.damp_air {
            members.extend(humid_air().map(Member::of_material));
        }
        members.sort_by_key(|member| member.name);
        members.dedup_by_key(|member| member.name);
        members
    }

    fn member(&self, component: &'a Component) -> Member<'a> {
        let mass_fraction = self.composition.and_then(|composition| mass_fraction(composition, component));
        Member { mass_fraction, ..Member::of_component(component) }
    }

    fn holds_water(&self) -> bool {
        self.composition.is_some_and(|composition| WATER_COUNTS_FROM <= composition.water_fraction())
    }
}

/// The fraction in the composition; `None` if the component is none of its constituents.
fn mass_fraction(composition: &Composition, component: &Component) -> Option<MassFraction> {
    let constituent = composition.constituents.iter().find(|c| c.component.id == component.id)?;
    let mass = composition.mass();
    (Mass::ZERO < mass).then(|| MassFraction::new(constituent.anhydrous / mass))
}

impl<'a> Member<'a> {
    /// The component alone, in no mixture.
    pub(super) fn of_component(component: &'a Component) -> Self {
        Self {
            name: &component.name,
            groups: &component.groups,
            component: Some(component),
            mass_fraction: None,
        }
    }

    /// A material that is not in the table.
    pub(super) fn of_material(material: &'a Material) -> Self {
        Self { name: &material.name, groups: &material.groups, component: None, mass_fraction: None }
    }

    pub(super) fn in_group(&self, name: &str) -> bool {
        self.groups.iter().any(|group| group.as_str() == name)
    }

    /// True for the component of this id and for a hydrate of it.
    pub(super) fn is_component(&self, id: &str) -> bool {
        self.component.is_some_and(|component| {
            component.id.as_str() == id
                || component.hydrate_of.as_ref().is_some_and(|anhydrous| anhydrous.as_str() == id)
        })
    }
}
