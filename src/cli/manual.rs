//! `manual` and `completions`: pages for `man` and what a shell completes, made from the program's own definitions.

use std::path::Path;

use clap::{Args, Command, CommandFactory as _};
use clap_complete::Shell;
use clap_mangen::Man;
use serde_json::json;

use super::args::Arguments;
use super::completion::with_values;
use super::outcome::{Failure, Outcome};
use super::request::{made_folder, write_new};
use crate::input::{Fault, Place};
use crate::report::document::{Document, bullets, code, paragraph, text};

/// Write a page for man of every command into a folder
///
/// The pages are in section 1: meltbook.1, meltbook-plan.1 and so on. Read one with man ./meltbook.1, or put them where
/// your system looks for them.
#[derive(Debug, Args)]
#[command(after_help = "Example:\n  meltbook manual man1")]
pub(super) struct ManualArgs {
    /// The folder; it is made if it is not there. Pages that are there already are not replaced
    #[arg(value_name = "DIR")]
    folder: String,
}

/// Print what lets a shell complete commands and flags
///
/// For bash, zsh, fish, elvish or powershell; the words of a value are offered where it has some, files where one is asked
/// for. Write it into the folder from which your shell reads completions.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook completions bash
  meltbook completions zsh --out _meltbook")]
pub(super) struct CompletionsArgs {
    /// The shell
    #[arg(value_name = "SHELL", value_enum)]
    shell: Shell,
}

pub(super) fn manual(args: &ManualArgs) -> Result<Outcome, Failure> {
    let mut command = Arguments::command();
    command.build();
    let mut pages = Vec::new();
    collect(&command, command.get_name(), &mut pages)?;
    made_folder("DIR", &args.folder)?;
    let path = |name: &str| Path::new(&args.folder).join(name).display().to_string();
    if let Some((name, _)) = pages.iter().find(|(name, _)| Path::new(&path(name)).exists()) {
        let place = Place::named(path(name));
        let fault = Fault::new("file_exists", format!("{} is there already", path(name)), place);
        return Err(fault.with_hint("Choose another folder, or take the old pages away.").into());
    }
    for (name, page) in &pages {
        write_new(&path(name), page)?;
    }
    let names: Vec<&str> = pages.iter().map(|(name, _)| name.as_str()).collect();
    let first = path("meltbook.1");
    let document = Document::new(format!("{} pages for man", pages.len()))
        .with(paragraph(text("Read the first with ").then(code(format!("man {first}"))).then(".")))
        .with(bullets(names.clone()));
    Ok(Outcome::new("manual", json!({ "folder": args.folder, "pages": names }), document))
}

pub(super) fn completions(args: &CompletionsArgs) -> Outcome {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut with_values(Arguments::command()), "meltbook", &mut script);
    let script = String::from_utf8_lossy(&script).into_owned();
    let answer = json!({ "shell": args.shell.to_string(), "script": script });
    let document = Document::new(format!("Completions for {}", args.shell)).with(paragraph(script.as_str()));
    let mut outcome = Outcome::new("completions", answer, document);
    outcome.verbatim = Some(script);
    outcome
}

/// The page of a command and those of the commands below it, by file name.
fn collect(command: &Command, name: &str, pages: &mut Vec<(String, String)>) -> Result<(), Fault> {
    let mut page = Vec::new();
    let named = command.clone().name(name.to_owned()).display_name(name.to_owned());
    Man::new(named).render(&mut page).map_err(|error| {
        Fault::new(
            "not_writable",
            format!("the page of {name} can't be made: {error}"),
            Place::named("manual"),
        )
    })?;
    // What stands behind the help of a command is its examples.
    let page = String::from_utf8_lossy(&page).replace("\n.SH EXTRA\nExamples:\n", "\n.SH EXAMPLES\n");
    let page = page.replace("\n.SH EXTRA\nExample:\n", "\n.SH EXAMPLES\n");
    pages.push((format!("{name}.1"), page));
    let below = command.get_subcommands().filter(|below| below.get_name() != "help" && !below.is_hide_set());
    below
        .map(|below| collect(below, &format!("{name}-{}", below.get_name()), pages))
        .collect::<Result<Vec<()>, Fault>>()
        .map(|_| ())
}
