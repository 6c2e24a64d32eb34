//! The cautions of a cell: all that its batches are made of meets the materials of its design.

use std::sync::Arc;

use super::batch::{lives, review_batch, standing};
use super::surroundings::failure;
use crate::book::{Book, batch};
use crate::caution::{Context, Material, Named, Review, Scheme, Subject, find_named, review};
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentTable};
use crate::input::{Place, Warning};
use crate::record::life::PutIn;
use crate::record::reading::ReadingKind;
use crate::record::{CellDesign, Code};

/// The review, and what it could not look at.
pub(in crate::cli) struct CellReview {
    pub(in crate::cli) review: Review,
    pub(in crate::cli) warnings: Vec<Warning>,
    /// Materials of the design that nothing is known of.
    pub(in crate::cli) not_known: Vec<String>,
}

/// Reviews batches and design as closed up, or open, in a cell.
pub(in crate::cli) fn cell_review(
    book: &Book,
    table: &ComponentTable,
    batches: &[Code],
    design: &CellDesign,
    scheme: Scheme,
) -> Result<CellReview, Failure> {
    let mut components = components_of(book, batches)?;
    let mut materials: Vec<Material> = Vec::new();
    let mut warnings = Vec::new();
    let mut not_known = Vec::new();
    for name in design.materials() {
        match find_named(name, table, Place::named("design")) {
            Ok(Named::Component(component)) => components.push(component),
            Ok(Named::Material(material)) => materials.push(material.clone()),
            Err(_) => {
                let message = format!(
                    "the cautions know nothing of {name:?}, which the design names: read its safety data sheet"
                );
                warnings.push(Warning::new("material_not_known", message));
                not_known.push(name.to_owned());
            }
        }
    }
    let short_circuit = design.schedule.iter().any(|due| due.what == ReadingKind::ShortCircuit.word());
    let context = Context { sealed: design.sealed, cell: true, short_circuit, scheme, ..Context::default() };
    let subject = Subject { components: &components, materials: &materials, composition: None };
    let mut review = review(&subject, &context);
    for code in batches {
        // Each liquid for itself: a cell is no mixture of all that is in it.
        let of_batch = review_batch(&standing(book, code)?, scheme);
        review.presumed = review.presumed.or(of_batch.presumed);
    }
    Ok(CellReview { review, warnings, not_known })
}

/// The components that went into batches, through blends and stock solutions, and those that their plans
/// name, as the records describe them.
pub(super) fn components_of(book: &Book, batches: &[Code]) -> Result<Vec<Arc<Component>>, Failure> {
    let mut components: Vec<Arc<Component>> = Vec::new();
    for code in batches {
        let lives = lives(code, |code| batch(book, code)).map_err(|error| failure(&error))?;
        for life in lives.values() {
            let planned = life.plan().into_iter().flat_map(|plan| &plan.lines);
            components.extend(planned.map(|line| Arc::clone(&line.component)));
            components.extend(life.put_in.iter().filter_map(|put| match &put.what {
                PutIn::Component(weighed) => Some(Arc::clone(&weighed.entry)),
                PutIn::Batch(_) => None,
            }));
        }
    }
    Ok(components)
}
