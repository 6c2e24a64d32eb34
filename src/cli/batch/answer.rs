//! What every recording command of the noun answers: how the batch stands after the entry.

use serde_json::json;

use crate::book::BookError;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, failure, open_book, review_batch, stamp, standing};
use crate::input::Warning;
use crate::record::{Code, Event};
use crate::report::answer::batch_answer;
use crate::report::document::{Block, Caution, Document, facts};
use crate::report::standing::Standing;
use crate::report::view::batch_blocks;

/// The title of a batch that begins: its plan is all that there is to show.
pub(super) const BEGUN: &str = "Begun";

/// Records one event about one batch and shows the batch.
pub(super) fn record(
    common: &Common,
    record: &RecordArgs,
    code: &Code,
    event: Event,
    title: &str,
    blocks: impl FnOnce(&Standing) -> Vec<Block>,
) -> Result<Outcome, Failure> {
    write(common, record, |writer| writer.append(&event).map(|_| ()))?;
    answer(common, code, title, Vec::new(), blocks)
}

/// Runs `work` in the one transaction.
pub(super) fn write<T>(
    common: &Common,
    record: &RecordArgs,
    work: impl FnOnce(&mut crate::book::Writer<'_>) -> Result<T, BookError>,
) -> Result<T, Failure> {
    let settings = request::settings(common)?;
    let stamp = stamp(record.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    book.write(&stamp, work).map_err(|error| failure(&error))
}

/// The batch as it stands after an entry, with the head of the book. `blocks` come first: what this entry was
/// about.
pub(super) fn answer(
    common: &Common,
    code: &Code,
    title: &str,
    warnings: Vec<Warning>,
    blocks: impl FnOnce(&Standing) -> Vec<Block>,
) -> Result<Outcome, Failure> {
    let book = open_book(common)?;
    let standing = standing(&book, code)?;
    let (entry, head) = book.head().map_err(|error| failure(&error))?;
    let mut document = Document::new(format!("{title}: {code}"));
    document.extend(blocks(&standing));
    document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    if title != BEGUN {
        document.extend(batch_blocks(&standing, &review_batch(&standing, request::scheme_here(common)?)));
    }
    document.push(facts([("Entry", format!("{entry}, head {}", head.short()))]));
    let mut value = batch_answer(&standing);
    value["entry"] = json!(entry);
    value["head"] = json!(head.to_string());
    let mut outcome = Outcome::new("batch show", value, document);
    outcome.warnings = warnings;
    Ok(outcome)
}

/// Nothing to say before the batch itself.
pub(super) fn plain(_: &Standing) -> Vec<Block> {
    Vec::new()
}
