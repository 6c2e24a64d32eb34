//! `batch release` and `batch reject`: the latest of a batch against the limits of its recipe.

use std::collections::BTreeMap;

use clap::Args;

use super::answer::{answer, plain, write};
use crate::book::{BookError, Writer};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, code, lives};
use crate::record::batch::{Rejected, Released};
use crate::record::limit::Comparison;
use crate::record::{Code, Event};
use crate::report::standing::Standing;

/// Record that it meets its recipe's limits; refused where one is not met or has no data, unless --because
/// says why
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook batch release E1")]
pub(super) struct ReleaseArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    #[command(flatten)]
    record: RecordArgs,
}

/// Record that it is not to be used; --because says why
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook batch reject E1 --because \"crystals after a week\"")]
pub(super) struct RejectArgs {
    /// The batch
    #[arg(value_name = "CODE")]
    code: String,
    #[command(flatten)]
    record: RecordArgs,
}

pub(super) fn release(common: &Common, args: &ReleaseArgs) -> Result<Outcome, Failure> {
    let batch = code("CODE", &args.code)?;
    let at = args.record.at()?;
    let because = args.record.because.clone().filter(|because| !because.trim().is_empty());
    write(common, &args.record, |writer| {
        let comparisons = compared(writer, &batch, at)?;
        let failed: Vec<&str> =
            comparisons.iter().filter(|c| c.met != Some(true)).map(|c| c.sentence.as_str()).collect();
        let against = if comparisons.is_empty() {
            Some("it has no recipe whose limits it could meet".to_owned())
        } else {
            (!failed.is_empty()).then(|| failed.join("; "))
        };
        if let Some(what) = against.as_ref().filter(|_| because.is_none()) {
            return Err(BookError::NeedsReason { what: format!("{batch} is not released: {what}") });
        }
        let basis = comparisons.iter().map(|comparison| comparison.sentence.clone()).collect();
        // A reason that nothing asked for would say that a limit was passed over.
        let because = because.clone().filter(|_| against.is_some() || rejected(writer, &batch));
        writer
            .append(&Event::BatchReleased(Released { batch: batch.clone(), basis, because, at }))
            .map(|_| ())
    })?;
    answer(common, &batch, "Released", Vec::new(), plain)
}

pub(super) fn reject(common: &Common, args: &RejectArgs) -> Result<Outcome, Failure> {
    let batch = code("CODE", &args.code)?;
    let reason = request::reason(&args.record, "why the batch is not to be used")?;
    let at = args.record.at()?;
    write(common, &args.record, |writer| {
        let basis = compared(writer, &batch, at)?.into_iter().map(|comparison| comparison.sentence).collect();
        writer.append(&Event::BatchRejected(Rejected { batch: batch.clone(), reason, basis, at })).map(|_| ())
    })?;
    answer(common, &batch, "Rejected", Vec::new(), plain)
}

/// Every limit against the latest, inside the transaction, so that nothing can come between.
fn compared(writer: &Writer<'_>, code: &Code, at: jiff::Timestamp) -> Result<Vec<Comparison>, BookError> {
    let lives = lives(code, |code| writer.batch(code))?;
    let standing = Standing::of(&lives, code, &BTreeMap::new(), at);
    standing.map(|standing| standing.comparisons).ok_or_else(|| BookError::UnknownCode(code.clone()))
}

fn rejected(writer: &Writer<'_>, code: &Code) -> bool {
    writer.batch(code).is_ok_and(|life| life.status == crate::record::life::BatchStatus::Rejected)
}
