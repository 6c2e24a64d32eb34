//! The only place that writes to the screen or to a file on request.

use std::fs::OpenOptions;
use std::io::{ErrorKind as IoError, IsTerminal as _, Write};
use std::process::ExitCode;

use clap::error::{ContextKind, ContextValue, ErrorKind};

use super::args::Common;
use super::outcome::{Failure, Outcome};
use crate::input::{Fault, Faults, Place};
use crate::recipe::is_shorthand;
use crate::report::terminal::Style;
use crate::report::{Format, csv, envelope, fault, html, markdown, terminal};

/// Flags whose value is a list with commas.
const LISTS: [&str; 1] = ["--part"];
/// Columns where the output is no screen.
const PAGE_COLUMNS: usize = 100;

/// Writes an answer.
pub(super) fn outcome(common: &Common, outcome: &Outcome) -> Result<(), Failure> {
    let to_screen = common.out.is_none();
    let format = common.format.unwrap_or_else(|| outcome.own_format(!to_screen));
    let text = rendered(outcome, format, to_screen)?;
    match &common.out {
        Some(path) => write_file(path, &text, common.force),
        None => write_screen(&text),
    }
}

fn rendered(outcome: &Outcome, format: Format, to_screen: bool) -> Result<String, Failure> {
    let unwritable = |error: &dyn std::fmt::Display| {
        Failure::Storage(Fault::new("not_writable", error.to_string(), Place::named("the answer")).into())
    };
    if let (Format::Terminal, Some(text)) = (format, &outcome.verbatim) {
        return Ok(text.clone());
    }
    if let (Format::Html, Some(page)) = (format, &outcome.page) {
        return Ok(page.clone());
    }
    match format {
        Format::Terminal if to_screen => Ok(terminal::render(&outcome.document, columns(), screen_style())),
        Format::Terminal => Ok(terminal::render(&outcome.document, PAGE_COLUMNS, Style::Plain)),
        Format::Markdown => Ok(markdown::render(&outcome.document)),
        Format::Html => Ok(html::page(&outcome.document, outcome.paper)),
        Format::Json => envelope::answer(outcome.kind, &outcome.answer, &outcome.warnings)
            .map_err(|error| unwritable(&error)),
        Format::Csv => match csv::first_table(&outcome.document).map_err(|error| unwritable(&error))? {
            Some(table) => Ok(table),
            None => {
                let fault = Fault::new("no_table", "this answer has no table", Place::named("--format csv"));
                Err(fault.with_hint("Use table, json, markdown or html.").into())
            }
        },
    }
}

/// Writes faults to standard error.
pub(super) fn failure(format: Format, failure: &Failure) -> ExitCode {
    let faults = failure.faults();
    let text = match format {
        Format::Json => envelope::faults(faults).unwrap_or_else(|error| error.to_string()),
        _ => fault::render(faults, columns(), fault_style()),
    };
    // If even standard error is closed there is nowhere left to say so; the exit code still does.
    let _ = std::io::stderr().write_all(text.as_bytes());
    failure.exit()
}

/// Writes what the argument parser has to say about wrong arguments.
pub(super) fn usage(given: &[String], error: &clap::Error) -> ExitCode {
    let json = given.windows(2).any(|pair| pair[0] == "--format" && pair[1] == "json")
        || given.iter().any(|word| word == "--format=json");
    if let Some(fault) = without_commas(given, error).or_else(|| unquoted(given, error)) {
        let format = if json { Format::Json } else { Format::Terminal };
        return failure(format, &Failure::from(fault));
    }
    let message = error.to_string();
    let text =
        if json { envelope::faults(&usage_fault(&message).into()).unwrap_or_default() } else { message };
    let _ = std::io::stderr().write_all(text.as_bytes());
    ExitCode::from(2)
}

/// What stands by itself because a list was written with spaces.
fn without_commas(given: &[String], error: &clap::Error) -> Option<Fault> {
    let stray = stray(error)?;
    let at = given.iter().position(|word| word == stray)?;
    let flag = given[..at].iter().rposition(|word| word.starts_with("--"))?;
    let listed = LISTS.contains(&given[flag].as_str());
    let words: Vec<&str> =
        given[flag + 1..].iter().map(String::as_str).take_while(|word| !word.starts_with("--")).collect();
    // A file may stand behind a list.
    let words: Vec<&str> = words.into_iter().filter(|word| !word.contains(['.', '/', '\\'])).collect();
    if !listed || words.len() < 2 {
        return None;
    }
    // Commas that were typed with spaces behind them are not doubled.
    let words: Vec<&str> =
        words.into_iter().flat_map(|word| word.split(',')).filter(|word| !word.is_empty()).collect();
    let message = format!("{stray:?} stands by itself behind {} {}", given[flag], words[0]);
    let hint = format!("A list is one argument with commas: write {} {}.", given[flag], words.join(","));
    Some(Fault::new("no_commas", message, place_of(given, at)).with_hint(hint))
}

/// The word that the parser has no place for.
fn stray(error: &clap::Error) -> Option<&String> {
    match error.get(ContextKind::InvalidArg) {
        Some(ContextValue::String(stray)) if error.kind() == ErrorKind::UnknownArgument => Some(stray),
        _ => None,
    }
}

/// A word of the command line in it.
fn place_of(given: &[String], at: usize) -> Place {
    let line = given.iter().skip(1).map(String::as_str).collect::<Vec<_>>().join(" ");
    let start = given.iter().take(at).skip(1).map(|word| word.len() + 1).sum::<usize>();
    Place::in_text("meltbook", line, start..start + given[at].len())
}

/// What stands by itself because a recipe, or a value with its unit, was not put in quotes.
fn unquoted(given: &[String], error: &clap::Error) -> Option<Fault> {
    let stray = stray(error)?;
    let at = given.iter().position(|word| word == stray)?;
    let before = given.get(at.checked_sub(1)?)?;
    let number = before.ends_with(|c: char| c.is_ascii_digit()) && before.parse::<f64>().is_ok();
    // The word itself must be what a recipe goes on with.
    let goes_on = !number && !before.starts_with('-') && is_shorthand(&format!("RECIPE {stray}"));
    let hint = if goes_on {
        format!("A recipe is one argument: put it in quotes, as in \"{before} {stray}\".")
    } else if number && stray.starts_with(char::is_alphabetic) {
        format!(
            "A value and its unit are one argument: write \"{before} {stray}\" in quotes, or {before}{stray}."
        )
    } else {
        return None;
    };
    let message = format!("{stray:?} stands by itself behind {before:?}");
    Some(Fault::new("unquoted", message, place_of(given, at)).with_hint(hint))
}

/// The parser's message as a fault: its first paragraph, and what it suggests.
fn usage_fault(message: &str) -> Fault {
    let paragraph = message.lines().take_while(|line| !line.trim().is_empty()).map(str::trim);
    let rule = paragraph.collect::<Vec<_>>().join(" ").trim_start_matches("error: ").to_owned();
    let tip = message.lines().find_map(|line| line.trim().strip_prefix("tip: "));
    let hint = match tip.map(|tip| (tip, tip.split_once(": "))) {
        Some((_, Some((_, names)))) => format!("Did you mean {names}?"),
        _ => "See the arguments with --help.".to_owned(),
    };
    Fault::new("bad_arguments", rule, Place::named("the command line")).with_hint(hint)
}

/// Writes help: asked for, to standard output; because nothing was given, to standard error.
pub(super) fn help(text: &clap::builder::StyledStr, asked_for_nothing: bool) -> ExitCode {
    let text = text.to_string();
    if asked_for_nothing {
        let _ = std::io::stderr().write_all(text.as_bytes());
        return ExitCode::from(2);
    }
    match write_screen(&text) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.exit(),
    }
}

fn write_screen(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        // A reader that has seen enough ("| head") is no fault.
        Err(error) if error.kind() != IoError::BrokenPipe => {
            let fault = Fault::new("not_writable", error.to_string(), Place::named("standard output"));
            Err(Failure::Storage(fault.with_hint("Make room, or write to a file with --out.").into()))
        }
        _ => Ok(()),
    }
}

fn write_file(path: &str, text: &str, force: bool) -> Result<(), Failure> {
    let mut options = OpenOptions::new();
    options.write(true);
    if force {
        options.create(true).truncate(true)
    } else {
        options.create_new(true)
    };
    let written = options
        .open(path)
        .and_then(|mut file| file.write_all(text.as_bytes()).and_then(|()| file.sync_all()));
    written.map_err(|error| {
        let place = Place::named(format!("--out {path}"));
        if error.kind() == IoError::AlreadyExists {
            let fault = Fault::new("file_exists", format!("{path} is there already"), place);
            return Failure::Input(
                fault.with_hint("Choose another name, or add --force to replace it.").into(),
            );
        }
        let fault = Fault::new("not_writable", format!("{path} can't be written: {error}"), place);
        Failure::Storage(Faults::from(
            fault.with_hint("Choose a folder that is there and may be written to."),
        ))
    })
}

fn columns() -> usize {
    let screen = terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    let told = || std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
    screen.or_else(told).unwrap_or(PAGE_COLUMNS)
}

fn screen_style() -> Style {
    styled(std::io::stdout().is_terminal())
}

fn fault_style() -> Style {
    styled(std::io::stderr().is_terminal())
}

/// Colour only on a screen, and not where the person has asked for none (no-color.org).
fn styled(is_terminal: bool) -> Style {
    let unwanted = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    let dumb = std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    if is_terminal && !unwanted && !dumb { Style::Ansi } else { Style::Plain }
}
