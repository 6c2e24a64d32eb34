//! `backup`: a copy of the database while others may write.

use std::path::Path;

use clap::Args;
use serde_json::json;

use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{failure, open_book};
use crate::report::document::{Document, facts, paragraph};
use crate::report::view::head_fact;

/// Copy the records into one SQLite file, also while others write
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook backup book-2026-11-25.sqlite")]
pub(in crate::cli) struct BackupArgs {
    /// The file, which must not be there yet
    #[arg(value_name = "FILE")]
    file: String,
}

pub(in crate::cli) fn run(common: &Common, args: &BackupArgs) -> Result<Outcome, Failure> {
    let book = open_book(common)?;
    let head = book.backup(Path::new(&args.file)).map_err(|error| failure(&error))?;
    let answer = json!({ "file": args.file, "entries": head.0, "head": head.1.to_string() });
    let document =
        Document::new("Backed up").with(facts([("File", args.file.as_str())])).with(head_fact(&head)).with(
            paragraph("Settings, recipes, designs and files of the book are not in it; an archive has all."),
        );
    Ok(Outcome::new("backup", answer, document))
}
