//! `trace --suspect`: who or what is meant, and all that it touched.

use jiff::ZonedDateTime;
use jiff::civil::Date;

use super::explained;
use crate::book::{Book, BookError, days, known_suspects, suspects_named, suspicion};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{failure, open_book, zone};
use crate::input::{Fault, Place, nearest};
use crate::record::graph::{GraphError, NodeCode, Suspect};
use crate::report::Format;
use crate::report::answer::suspect_answer;
use crate::report::document::Document;
use crate::report::view::{day, suspect_document, suspect_table};

pub(super) fn run(common: &Common, text: &str, now: &ZonedDateTime) -> Result<Outcome, Failure> {
    let book = open_book(common)?;
    let suspect = suspect(&book, text)?;
    let found = suspicion(&book, &suspect, now).map_err(|error| nothing(&book, &error))?;
    let document = match common.format {
        Some(Format::Csv) => suspect_table(&found).map(|table| Document::new("Touched").with(table)),
        _ => suspect_document(&found),
    };
    let answer = suspect_answer(&found).map_err(|error| unreadable(&error))?;
    Ok(Outcome::new("trace suspect", answer, document.map_err(|error| unreadable(&error))?))
}

/// Whom or what a text means: `lot:K12` and the like only that, anything else whatever the book knows by it.
fn suspect(book: &Book, text: &str) -> Result<Suspect, Failure> {
    let name = text.trim();
    if let Some(suspect) = name.split_once(':').and_then(|(kind, name)| of_kind(kind, name.trim())) {
        return Ok(suspect);
    }
    let mut meant = suspects_named(book, name).map_err(|error| failure(&error))?;
    meant.extend(name.parse::<NodeCode>().ok().map(Suspect::Code));
    meant.extend(name.parse::<Date>().ok().map(Suspect::Day));
    let place = || Place::in_text("--suspect", text, 0..text.len());
    match meant.as_slice() {
        [one] => Ok(one.clone()),
        [] => {
            let known = known_suspects(book).map_err(|error| failure(&error))?;
            let fault = Fault::new(
                "unknown_suspect",
                format!("the book knows nothing by the name {name:?}"),
                place(),
            );
            Err(fault.with_hint(hint(name, &known)).into())
        }
        several => {
            let ways = several.iter().map(ToString::to_string).collect::<Vec<_>>().join(" or ");
            let fault = Fault::new("ambiguous_suspect", format!("{name:?} is the name of several"), place());
            Err(fault.with_hint(format!("Write {ways}.")).into())
        }
    }
}

fn of_kind(kind: &str, name: &str) -> Option<Suspect> {
    let owned = || name.to_owned();
    match kind {
        "code" => name.parse().ok().map(Suspect::Code),
        "lot" => Some(Suspect::Lot(owned())),
        "instrument" => Some(Suspect::Instrument(owned())),
        "balance" => Some(Suspect::Balance(owned())),
        "day" => name.parse().ok().map(Suspect::Day),
        "author" => Some(Suspect::Author(owned())),
        _ => None,
    }
}

/// The nearest name, or what can be given.
fn hint(name: &str, known: &[Suspect]) -> String {
    let names: Vec<String> = known.iter().map(Suspect::name).collect();
    match nearest(name, names.iter().map(String::as_str)) {
        Some(near) => {
            let kind = known.iter().find(|suspect| suspect.name() == near).map_or("", Suspect::kind);
            format!("Did you mean the {kind} {near:?}?")
        }
        None => "Give a code, a day as 2026-11-03, or a lot, an instrument, a balance or an author that stands in the book."
            .to_owned(),
    }
}

/// What the book says, with what there is instead.
fn nothing(book: &Book, error: &BookError) -> Failure {
    match (error, days(book)) {
        (BookError::NothingTouched(Suspect::Day(_)), Ok(Some((first, last)))) => {
            let (first, last) = (day(first, &zone()), day(last, &zone()));
            let hint = format!("What is recorded happened from {first} to {last}.");
            Fault::new(error.code(), error.to_string(), Place::named("--suspect")).with_hint(hint).into()
        }
        _ => explained(book, error),
    }
}

/// What no book that is whole comes to.
fn unreadable(error: &GraphError) -> Failure {
    let hint = "See what is whole with: meltbook verify.".to_owned();
    failure(&BookError::Refused { what: error.to_string(), hint })
}
