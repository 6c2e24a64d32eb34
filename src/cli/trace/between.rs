//! `trace --between`: what two sets of codes differ in.

use std::collections::BTreeSet;

use jiff::ZonedDateTime;

use super::explained;
use crate::book::{BookError, made_of, profiles};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{codes, failure, open_book};
use crate::input::{Fault, Faults, Place};
use crate::record::Code;
use crate::record::graph::Contrast;
use crate::report::Format;
use crate::report::answer::difference_answer;
use crate::report::document::Document;
use crate::report::view::{difference_document, difference_table};

pub(super) fn run(
    common: &Common,
    first: &str,
    second: &str,
    now: &ZonedDateTime,
) -> Result<Outcome, Failure> {
    let (first, second) = sets(first, second)?;
    let book = open_book(common)?;
    let all: Vec<Code> = first.iter().chain(&second).collect::<BTreeSet<_>>().into_iter().cloned().collect();
    let graph = made_of(&book, &all, now).map_err(|error| explained(&book, &error))?;
    let profiles = |set: &[Code]| profiles(&book, set, &graph, now).map_err(|error| failure(&error));
    let contrast = Contrast::between(&profiles(&first)?, &profiles(&second)?);
    let names = |set: &[Code]| set.iter().map(ToString::to_string).collect::<Vec<_>>();
    let (first, second) = (names(&first), names(&second));
    let (first, second): (Vec<&str>, Vec<&str>) =
        (first.iter().map(String::as_str).collect(), second.iter().map(String::as_str).collect());
    let difference = graph.between(first.iter().copied(), second.iter().copied()).map_err(|error| {
        let hint = "See what is whole with: meltbook verify.".to_owned();
        failure(&BookError::Refused { what: error.to_string(), hint })
    })?;
    let document = match common.format {
        Some(Format::Csv) => Document::new("What differs").with(difference_table(&difference, &contrast)),
        _ => difference_document(&first, &second, &difference, &contrast),
    };
    Ok(Outcome::new("trace between", difference_answer(&difference, &contrast), document))
}

/// Both sets; all faults of both together.
fn sets(first: &str, second: &str) -> Result<(Vec<Code>, Vec<Code>), Faults> {
    let mut faults = Faults::none();
    let one = faults.collect(set(first)).unwrap_or_default();
    let other = faults.collect(set(second)).unwrap_or_default();
    let sorted = |set: &[Code]| set.iter().cloned().collect::<BTreeSet<_>>();
    if faults.is_empty() && sorted(&one) == sorted(&other) {
        let fault = Fault::new("same_set", "both sets are the same", Place::named("--between"));
        faults.push(fault.with_hint("Give two sets that differ, as in --between C1-C6 C7-C12."));
    }
    faults.or((one, other))
}

/// Codes and runs of codes with spaces or commas between them.
fn set(text: &str) -> Result<Vec<Code>, Faults> {
    let words = text.split(|c: char| c.is_whitespace() || c == ',').filter(|word| !word.is_empty());
    let words: Vec<String> = words.map(str::to_owned).collect();
    if words.is_empty() {
        let place = Place::in_text("--between", text, 0..text.len());
        let fault = Fault::new("empty_set", "a set without a code", place);
        return Err(fault.with_hint("Write the codes with spaces between them, a run as C1-C6.").into());
    }
    codes("--between", &words)
}
