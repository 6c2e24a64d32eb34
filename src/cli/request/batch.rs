//! How a batch of the book stands: its records and those of every batch upstream of it, read once.

use std::collections::BTreeMap;
use std::sync::Arc;

use jiff::{Timestamp, ZonedDateTime};

use super::surroundings::{failure, now, zone};
use crate::book::{Book, BookError, batch, bottle};
use crate::caution::{Context, Review, Scheme, Subject, review};
use crate::cli::outcome::Failure;
use crate::component::{Component, Composition};
use crate::quantity::Property;
use crate::record::Code;
use crate::record::life::{BatchLife, PutIn};
use crate::report::standing::{Lives, Standing};

/// How a batch stands now.
pub(in crate::cli) fn standing(book: &Book, code: &Code) -> Result<Standing, Failure> {
    let lives = lives(code, |code| batch(book, code)).map_err(|error| failure(&error))?;
    let mut left = BTreeMap::new();
    let plan = lives.get(code).and_then(BatchLife::plan);
    for code in plan.iter().flat_map(|plan| plan.lines.iter().filter_map(|line| line.bottle.as_ref())) {
        left.insert(code.clone(), bottle(book, code).map_err(|error| failure(&error))?.left_g);
    }
    let standing = Standing::of(&lives, code, &left, &here(now()?));
    standing.ok_or_else(|| failure(&BookError::UnknownCode(code.clone())))
}

/// A moment in the zone of whoever reads it.
pub(in crate::cli) fn here(at: Timestamp) -> ZonedDateTime {
    at.to_zoned_datetime(zone())
}

/// A batch and every batch upstream of it.
pub(in crate::cli) fn lives(
    code: &Code,
    read: impl Fn(&Code) -> Result<BatchLife, BookError>,
) -> Result<Lives, BookError> {
    let mut lives = Lives::new();
    let mut open = vec![code.clone()];
    while let Some(code) = open.pop() {
        if lives.contains_key(&code) {
            continue;
        }
        let life = read(&code)?;
        open.extend(life.put_in.iter().filter_map(|put| match &put.what {
            PutIn::Batch(added) => Some(added.from.clone()),
            PutIn::Component(_) => None,
        }));
        lives.insert(code, life);
    }
    Ok(lives)
}

/// What a batch is now: by the last titration if there was one, at the mass that is left. `None` while nothing
/// is in it.
pub(in crate::cli) fn composition_now(standing: &Standing) -> Option<Composition> {
    let made = standing.titrated.as_ref().or(standing.made.as_ref())?;
    let left = standing.life.left_g();
    (0.0 < left).then(|| made.composition.scaled(left / made.mass.get()))
}

/// The cautions for a batch: what is in it and what its plan names, heated as it was.
pub(in crate::cli) fn review_batch(standing: &Standing, scheme: Scheme) -> Review {
    let composition = standing.made.as_ref().map(|made| &made.composition);
    let components = batch_components(standing);
    review(
        &Subject { components: &components, composition, materials: &[] },
        &batch_context(standing, scheme),
    )
}

/// What the plan of a batch names.
pub(in crate::cli) fn batch_components(standing: &Standing) -> Vec<Arc<Component>> {
    let plan = standing.life.plan();
    plan.iter().flat_map(|plan| plan.lines.iter().map(|line| Arc::clone(&line.component))).collect()
}

/// How a batch was heated.
pub(in crate::cli) fn batch_context(standing: &Standing, scheme: Scheme) -> Context {
    let finished = standing.life.finished.as_ref().map(|finished| &finished.what);
    Context {
        heat: finished.and_then(|finished| finished.heat.as_ref()).map(|heat| heat.value),
        time: finished.and_then(|finished| finished.time.as_ref()).map(|time| time.value),
        ph: measured_ph(standing),
        scheme,
        ..Context::default()
    }
}

/// The pH that was measured last, if nothing was put in since.
fn measured_ph(standing: &Standing) -> Option<f64> {
    let life = &standing.life;
    let last_put_in = life.put_in.iter().map(|put| put.entry).max().unwrap_or(0);
    let since = life.properties.iter().filter(|recorded| last_put_in < recorded.entry);
    let of_ph = since.filter(|recorded| Property::from_id(&recorded.what.property) == Some(Property::Ph));
    of_ph.max_by_key(|recorded| recorded.what.at).map(|recorded| recorded.what.value)
}
