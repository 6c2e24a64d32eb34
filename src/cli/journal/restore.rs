//! `restore`: a book made of an archive.

use std::path::Path;

use clap::Args;
use serde_json::json;

use crate::book::Book;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::failure;
use crate::report::document::{Document, facts};
use crate::report::view::head_fact;

/// Make a book of an archive; every entry is checked
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook restore book-2026-11 book-again")]
pub(in crate::cli) struct RestoreArgs {
    /// The folder that meltbook archive wrote
    #[arg(value_name = "ARCHIVE")]
    archive: String,
    /// The folder of the new book, empty or not there yet
    #[arg(value_name = "DIR")]
    folder: String,
}

pub(in crate::cli) fn run(args: &RestoreArgs) -> Result<Outcome, Failure> {
    let book =
        Book::restore(Path::new(&args.archive), Path::new(&args.folder)).map_err(|error| failure(&error))?;
    let head = book.head().map_err(|error| failure(&error))?;
    let answer = json!({
        "folder": args.folder,
        "book": book.id(),
        "entries": head.0,
        "head": head.1.to_string(),
    });
    let document = Document::new("Restored")
        .with(facts([("Folder", args.folder.as_str()), ("Book", book.id())]))
        .with(head_fact(&head));
    Ok(Outcome::new("restore", answer, document))
}
