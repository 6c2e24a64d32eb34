//! `init`: a new book.

use std::path::Path;

use clap::Args;
use serde_json::json;

use super::outcome::{Failure, Outcome};
use super::request::{clock_is_told, failure, now, settings_template, stamp};
use crate::book::Book;
use crate::input::{Fault, Place};
use crate::record::Hash;
use crate::record::change::Begun;
use crate::report::document::{Document, code, facts, paragraph, text};

/// Make a new book: the folder of one laboratory's records
///
/// A person can read and copy it: settings and recipes are text, the records one SQLite file, logs and pictures
/// as they came. Go on in any folder below it.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook init lab-book --laboratory \"Room 12\" --by AB")]
pub(super) struct InitArgs {
    /// The folder, empty or not there yet
    #[arg(value_name = "DIR")]
    folder: String,
    /// The name that stands on sheets and reports [default: the folder's name]
    #[arg(long, value_name = "NAME")]
    laboratory: Option<String>,
    /// Initials under which entries are written; they go into the settings
    #[arg(long, value_name = "INITIALS")]
    by: Option<String>,
}

pub(super) fn run(args: &InitArgs) -> Result<Outcome, Failure> {
    let folder = Path::new(&args.folder);
    let own_name = folder.file_name().map(|name| name.to_string_lossy().into_owned());
    let Some(laboratory) = args.laboratory.clone().or(own_name) else {
        let fault = Fault::new("no_name", "the book has no name", Place::named("--laboratory"));
        return Err(fault.with_hint("Give it one with --laboratory \"…\".").into());
    };
    let stamp = stamp(args.by.as_deref(), None)?;
    let begun = Begun { laboratory: laboratory.clone(), program: env!("CARGO_PKG_VERSION").to_owned() };
    let id = book_id(&laboratory, folder)?;
    let template = settings_template(&laboratory, args.by.as_deref());
    let book = Book::create(folder, &id, &template, &begun, &stamp).map_err(|error| failure(&error))?;
    let (entries, head) = book.head().map_err(|error| failure(&error))?;
    let answer = json!({ "folder": args.folder, "book": id, "entries": entries, "head": head.to_string() });
    let document = Document::new(format!("A new book: {laboratory}"))
        .with(facts([("Folder", args.folder.clone()), ("Book", id), ("Head", head.to_string())]))
        .with(paragraph(
            text("Set the balances in ")
                .then(code("meltbook.toml"))
                .then(", then take in the first bottle with ")
                .then(code("meltbook bottle receive"))
                .then("."),
        ));
    Ok(Outcome::new("init", answer, document))
}

/// A name that no other book has: the hash of what is told of it, and of when and where it began.
fn book_id(laboratory: &str, folder: &Path) -> Result<String, Failure> {
    let place = std::env::current_dir().unwrap_or_default().join(folder);
    let told = format!("{laboratory}\n{}\n{}\n{}", now()?, place.display(), std::process::id());
    let told = if clock_is_told() { format!("{laboratory}\n{}", now()?) } else { told };
    Ok(Hash::of(told.as_bytes()).to_string()[..16].to_owned())
}
