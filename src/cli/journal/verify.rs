//! `verify`: is everything as it was written?

use clap::Args;
use serde_json::json;

use crate::book::Book;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{failure, open_book};
use crate::input::{Fault, Place};
use crate::report::view::verify_document;

/// Check the chain of entries, replay them, compare every table and file; exit 1 if anything is found
///
/// A chain alone can't show that its end was cut off: give a head that was printed earlier with --head.
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  meltbook verify\n  meltbook verify --head 3f9ac1d2")]
pub(in crate::cli) struct VerifyArgs {
    /// A head hash from an earlier print, or its first digits, which this book must have
    #[arg(long, value_name = "HASH")]
    head: Option<String>,
}

/// Fewer digits than the short form on prints are no proof of anything.
const FEWEST_DIGITS: usize = 8;

pub(in crate::cli) fn run(common: &Common, args: &VerifyArgs) -> Result<Outcome, Failure> {
    let wanted = args.head.as_deref().map(digits).transpose()?;
    let book = open_book(common)?;
    let found = book.verify().map_err(|error| failure(&error))?;
    let mut findings: Vec<(String, String)> =
        found.findings.iter().map(|finding| (finding.place.clone(), finding.what.clone())).collect();
    if let Some(wanted) = wanted {
        findings.extend(missing_head(&book, &wanted)?);
    }
    let list: Vec<_> = findings.iter().map(|(place, what)| json!({ "place": place, "what": what })).collect();
    let answer = json!({
        "entries": found.entries,
        "files": found.files,
        "head": found.head.to_string(),
        "findings": list,
    });
    let document = verify_document(found.entries, found.files, &(found.entries, found.head), &findings);
    let mut outcome = Outcome::new("verify", answer, document);
    outcome.no = !findings.is_empty();
    Ok(outcome)
}

fn digits(text: &str) -> Result<String, Fault> {
    let trimmed = text.trim();
    let fits =
        (FEWEST_DIGITS..=64).contains(&trimmed.len()) && trimmed.bytes().all(|b| b.is_ascii_hexdigit());
    if fits {
        return Ok(trimmed.to_ascii_lowercase());
    }
    let place = Place::in_text("--head", text, 0..text.len());
    let message = format!("{text:?} is no head: 8 to 64 hexadecimal digits are needed");
    Err(Fault::new("bad_hash", message, place).with_hint("Copy it from a print or from: meltbook history."))
}

fn missing_head(book: &Book, wanted: &str) -> Result<Option<(String, String)>, Failure> {
    let entry = book.entry_of_hash(wanted).map_err(|error| failure(&error))?;
    Ok(entry.is_none().then(|| {
        let what = format!(
            "no entry has the hash {wanted}: entries at the end were cut off, or it is of another book"
        );
        ("head".to_owned(), what)
    }))
}
