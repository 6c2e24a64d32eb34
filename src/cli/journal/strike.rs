//! `strike`: an entry is withdrawn.

use clap::Args;

use super::change::Change;
use crate::book::Why;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{self, RecordArgs, entry_number, failure, open_book, stamp};

/// Withdraw an entry; it stays visible, and a code that it made is not used again
///
/// Refused while other entries stand on it; they are named.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook strike 4 --because \"recorded twice\"")]
pub(in crate::cli) struct StrikeArgs {
    /// The number of the entry
    #[arg(value_name = "ENTRY")]
    entry: String,
    /// Why, although a bottle or batch then holds less than nothing by the records; recorded
    #[arg(long, value_name = "REASON")]
    in_spite: Option<String>,
    #[command(flatten)]
    record: RecordArgs,
}

pub(in crate::cli) fn run(common: &Common, args: &StrikeArgs) -> Result<Outcome, Failure> {
    let entry = entry_number(&args.entry)?;
    let reason = request::reason(&args.record, "why it is withdrawn")?;
    let settings = request::settings(common)?;
    let stamp = stamp(args.record.by.as_deref(), settings.as_ref())?;
    let mut book = open_book(common)?;
    let (before, doubts, after) = book
        .write(&stamp, |writer| {
            let before = writer.amounts()?;
            let why = Why { reason: &reason, in_spite: args.in_spite.as_deref() };
            let (_, doubts) = writer.strike(entry, why)?;
            Ok((before, doubts, writer.amounts()?))
        })
        .map_err(|error| failure(&error))?;
    let change = Change {
        entry,
        title: format!("Entry {entry} struck"),
        kind: "strike",
        reason,
        fields: Vec::new(),
        before,
        after,
        doubts,
        head: book.head().map_err(|error| failure(&error))?,
    };
    Ok(change.outcome())
}
