//! `archive`: a book as plain text that rebuilds it.

use std::path::Path;

use clap::Args;
use serde_json::json;

use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{failure, open_book};
use crate::report::document::{Document, code, facts, paragraph, text};
use crate::report::view::head_fact;

/// Write the whole book into a new folder as plain text: journal, settings, recipes, designs, files
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook archive book-2026-12")]
pub(in crate::cli) struct ArchiveArgs {
    /// The folder, which must not be there yet
    #[arg(value_name = "DIR")]
    folder: String,
}

pub(in crate::cli) fn run(common: &Common, args: &ArchiveArgs) -> Result<Outcome, Failure> {
    let book = open_book(common)?;
    let head = book.archive(Path::new(&args.folder)).map_err(|error| failure(&error))?;
    let answer = json!({ "folder": args.folder, "entries": head.0, "head": head.1.to_string() });
    let document = Document::new("Archived")
        .with(facts([("Folder", args.folder.as_str())]))
        .with(head_fact(&head))
        .with(paragraph(text("Make a book of it again with ").then(code("meltbook restore")).then(".")));
    Ok(Outcome::new("archive", answer, document))
}
