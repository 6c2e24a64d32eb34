//! What a later addition brings: the alerts that a batch did not have before.

use std::sync::Arc;

use super::batch::{batch_context, standing};
use super::cell_review::components_of;
use super::review::scheme_here;
use super::surroundings::open_book;
use crate::caution::{Review, Severity, Subject, review};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::Component;
use crate::record::Code;

/// What joins a batch.
pub(in crate::cli) enum Joining {
    /// A component.
    Component(Arc<Component>),
    /// Another batch.
    Batch(Code),
}

/// The review of all that is then in the batch, with those alerts that block left alone which it brings. An alert
/// that the batch had before was let past when it began.
pub(in crate::cli) fn brought_by(common: &Common, into: &Code, joining: &Joining) -> Result<Review, Failure> {
    let book = open_book(common)?;
    let context = batch_context(&standing(&book, into)?, scheme_here(common)?);
    let before = components_of(&book, std::slice::from_ref(into))?;
    let mut after = before.clone();
    match joining {
        Joining::Component(component) => after.push(Arc::clone(component)),
        Joining::Batch(code) => after.extend(components_of(&book, std::slice::from_ref(code))?),
    }
    let of = |components: &[Arc<Component>]| review(&Subject { components, ..Subject::default() }, &context);
    let (before, mut after) = (of(&before), of(&after));
    let had =
        |id: &str| before.alerts.iter().any(|known| known.severity == Severity::Block && known.id == id);
    after.alerts.retain(|alert| !had(&alert.id));
    Ok(after)
}
