//! The review: everything that is to be read before anything is opened.

use serde::Serialize;

use super::alert::{Alert, alerts};
use super::component_hazard::ComponentHazard;
use super::context::Context;
use super::keep_apart::keep_apart;
use super::material::Material;
use super::mixture::{Mixture, Presumed, classify};
use super::practice::{Practice, deferral, practice};
use super::severity::{Severity, WayPast};
use super::storage::{WasteStream, storage_class, waste_streams};
use super::subject::{Member, Subject};
use crate::component::Component;

/// The cautions for what is at hand.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Review {
    /// The scheme of the statements: "ghs", "clp" or "hcs".
    pub scheme: &'static str,
    /// Its name with its edition.
    pub scheme_title: &'static str,
    /// Each component of the table, in the order of their names.
    pub components: Vec<ComponentHazard>,
    /// Each other material, in the order of their names.
    pub materials: Vec<MaterialHazard>,
    /// The mixture as a whole; `None` without a composition, or where it is one substance alone.
    pub mixture: Option<Mixture>,
    /// What is presumed of the mixture because of its pH, or of a liquid that is part of what is at hand.
    pub presumed: Option<Presumed>,
    /// What has no way past first, then the gravest, then by id.
    pub alerts: Vec<Alert>,
    /// Waste streams for what is at hand.
    pub waste: Vec<WasteStream>,
    /// Practice for what is at hand.
    pub practice: Vec<Practice>,
    /// Who decides: it goes with every review.
    pub deferral: Vec<String>,
}

/// What is known of a material that is not in the component table.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MaterialHazard {
    /// Its name.
    pub name: String,
    /// Its reactive groups.
    pub groups: Vec<String>,
    /// What is missing, in words.
    pub missing: String,
    /// What to keep it apart from.
    pub keep_apart: Vec<String>,
}

/// Reviews what is at hand in a context. The answer does not depend on the order of the subject's lists.
pub fn review(subject: &Subject<'_>, context: &Context) -> Review {
    let members = subject.members(context);
    let mut components: Vec<ComponentHazard> =
        subject.all_components().into_iter().map(|component| hazard_of(component, context)).collect();
    components.sort_by(|a, b| (&a.name, &a.component).cmp(&(&b.name, &b.component)));
    let mut materials: Vec<MaterialHazard> = subject.materials.iter().map(MaterialHazard::new).collect();
    materials.sort_by(|a, b| a.name.cmp(&b.name));
    materials.dedup();
    let mixture = subject.composition.and_then(|made| classify(made, context.scheme, context.ph));
    let mixture = mixture.map(|mixture| Mixture { lacks: subject.not_in_composition(), ..mixture });
    Review {
        scheme: context.scheme.word(),
        scheme_title: context.scheme.title(),
        components,
        materials,
        presumed: mixture.as_ref().and_then(|mixture| mixture.presumed.clone()),
        mixture,
        alerts: alerts(&members, context),
        waste: if context.in_short { Vec::new() } else { waste(&members) },
        practice: if context.in_short { Vec::new() } else { practice(&members, context) },
        deferral: deferral(),
    }
}

fn hazard_of(component: &Component, context: &Context) -> ComponentHazard {
    let hazard = ComponentHazard::new(component, context.scheme);
    let storage_class = if context.in_short { None } else { storage_class(component) };
    ComponentHazard { storage_class, ..hazard }
}

fn waste(members: &[Member<'_>]) -> Vec<WasteStream> {
    let water = |member: &&Member<'_>| !member.in_group("water") || 1 < member.groups.len();
    let named: Vec<(String, Member<'_>)> =
        members.iter().filter(water).map(|member| (member.name.to_owned(), *member)).collect();
    waste_streams(&named)
}

impl Review {
    /// The gravest severity; `None` without alerts, which proves nothing.
    pub fn worst(&self) -> Option<Severity> {
        self.alerts.iter().map(|alert| alert.severity).max()
    }

    /// Alerts that need a named written procedure and the person responsible.
    pub fn needing_procedure(&self) -> impl Iterator<Item = &Alert> {
        self.alerts.iter().filter(|alert| alert.way_past == WayPast::ProcedureAndPerson)
    }

    /// Alerts about what is never done.
    pub fn without_way_past(&self) -> impl Iterator<Item = &Alert> {
        self.alerts.iter().filter(|alert| alert.way_past == WayPast::None)
    }
}

impl MaterialHazard {
    fn new(material: &Material) -> Self {
        let name = &material.name;
        Self {
            name: name.clone(),
            groups: material.groups.iter().map(|group| group.as_str().to_owned()).collect(),
            missing: format!(
                "{name} is not in the component table: only its reactive groups are known here, from memory, \
                 and no hazard statements; read the supplier's safety data sheet"
            ),
            keep_apart: keep_apart(&Member::of_material(material)),
        }
    }
}
