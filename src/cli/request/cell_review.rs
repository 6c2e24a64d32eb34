//! The cautions of a cell: all that its batches are made of meets the materials of its design.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::surroundings::failure;
use crate::book::{self, Book};
use crate::caution::{Context, Material, Named, Review, Subject, find_named, review};
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentTable};
use crate::input::{Place, Warning};
use crate::record::{CellDesign, Code, Event};

/// The review, and what it could not look at.
pub(in crate::cli) struct CellReview {
    pub(in crate::cli) review: Review,
    pub(in crate::cli) warnings: Vec<Warning>,
}

/// Reviews batches and design as closed up, or open, in a cell.
pub(in crate::cli) fn cell_review(
    book: &Book,
    table: &ComponentTable,
    batches: &[Code],
    design: &CellDesign,
) -> Result<CellReview, Failure> {
    let mut components = components_of(book, batches)?;
    let mut materials: Vec<Material> = Vec::new();
    let mut warnings = Vec::new();
    for name in design.materials() {
        match find_named(name, table, Place::named("design")) {
            Ok(Named::Component(component)) => components.push(component),
            Ok(Named::Material(material)) => materials.push(material.clone()),
            Err(_) => {
                let message = format!(
                    "the cautions know nothing of {name:?}, which the design names: read its safety data sheet"
                );
                warnings.push(Warning::new("material_not_known", message));
            }
        }
    }
    let context = Context { sealed: design.sealed, cell: true, ..Context::default() };
    let subject = Subject { components: &components, materials: &materials, composition: None };
    Ok(CellReview { review: review(&subject, &context), warnings })
}

/// The components that went into batches, through blends and stock solutions, as the records describe them.
fn components_of(book: &Book, batches: &[Code]) -> Result<Vec<Arc<Component>>, Failure> {
    let lines = book::history(book).map_err(|error| failure(&error))?;
    let standing = || lines.iter().filter(|line| !line.is_struck()).map(|line| &line.event);
    let mut wanted: Vec<Code> = batches.to_vec();
    let mut seen: BTreeSet<Code> = BTreeSet::new();
    let mut components: Vec<Arc<Component>> = Vec::new();
    while let Some(code) = wanted.pop() {
        if !seen.insert(code.clone()) {
            continue;
        }
        for event in standing() {
            match event {
                Event::BatchStarted(event) if event.code == code => {
                    components.extend(event.plan.lines.iter().map(|line| Arc::clone(&line.component)));
                }
                Event::BatchWeighed(event) if event.batch == code => {
                    components.push(Arc::clone(&event.entry))
                }
                Event::BatchAdded(event) if event.batch == code => wanted.push(event.from.clone()),
                Event::BatchBlended(event) if event.code == code => {
                    wanted.extend(event.from.iter().map(|part| part.batch.clone()));
                }
                _ => {}
            }
        }
    }
    Ok(components)
}
