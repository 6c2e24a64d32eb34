//! `strike`: an entry is withdrawn.

use clap::Args;

use super::change::Change;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, failure, open_book, stamp};

/// Withdraw an entry; it stays visible, and a code that it made is not used again
///
/// Refused while other entries stand on it; they are named.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook strike 4 --because \"recorded twice\"")]
pub(in crate::cli) struct StrikeArgs {
    /// The number of the entry
    #[arg(value_name = "ENTRY")]
    entry: u64,
    #[command(flatten)]
    record: RecordArgs,
}

pub(in crate::cli) fn run(common: &Common, args: &StrikeArgs) -> Result<Outcome, Failure> {
    let reason = request::reason(&args.record, "why it is withdrawn")?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    let (before, after) = book
        .write(&stamp, |writer| {
            let before = writer.amounts()?;
            writer.strike(args.entry, &reason)?;
            Ok((before, writer.amounts()?))
        })
        .map_err(|error| failure(&error))?;
    let change = Change {
        entry: args.entry,
        title: format!("Entry {} struck", args.entry),
        kind: "strike",
        reason,
        fields: Vec::new(),
        before,
        after,
        doubts: Vec::new(),
        head: book.head().map_err(|error| failure(&error))?,
    };
    Ok(change.outcome())
}
