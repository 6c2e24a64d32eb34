//! `history`: who wrote what and when.

use clap::Args;
use jiff::civil::Date;
use serde_json::{Value, json};

use crate::book;
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::request::{code, day, failure, open_book, zone};
use crate::input::{Fault, Faults, Place, did_you_mean};
use crate::record::{Code, Event, Hash, HistoryLine};
use crate::report::document::paragraph;
use crate::report::view::{day as day_of, event_words, history_document};

/// Who wrote what and when, with what was corrected or struck, and what was entered late
///
/// The original of a corrected or struck entry stays visible.
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  meltbook history\n  meltbook history B1 --kind bottle\n  meltbook history --author AB --day 2026-11-25"
)]
pub(in crate::cli) struct HistoryArgs {
    /// Only entries about these codes
    #[arg(value_name = "CODE")]
    codes: Vec<String>,
    /// Only entries of this author
    #[arg(long, value_name = "INITIALS")]
    author: Option<String>,
    /// Only entries written on this day, or about what happened on it
    #[arg(long, value_name = "DATE")]
    day: Option<String>,
    /// Only entries of this kind, such as batch.weighed, or of all kinds of a noun, such as batch
    #[arg(long, value_name = "KIND")]
    kind: Option<String>,
    /// Only entries that were corrected, struck or entered late
    #[arg(long)]
    odd: bool,
    /// One line for each entry, also where many were written at once
    #[arg(long)]
    each: bool,
}

/// The arguments, understood.
struct Filter {
    codes: Vec<Code>,
    author: Option<String>,
    day: Option<Date>,
    kind: Option<String>,
    odd: bool,
}

pub(in crate::cli) fn run(common: &Common, args: &HistoryArgs) -> Result<Outcome, Failure> {
    let filter = filter(args)?;
    let book = open_book(common)?;
    let lines = book::history(&book).map_err(|error| failure(&error))?;
    let head = book.head().map_err(|error| failure(&error))?;
    let kept: Vec<&HistoryLine> = lines.iter().filter(|line| filter.keeps(line)).collect();
    let mut document = history_document(&kept, &head, args.each, &zone());
    if kept.is_empty() {
        document.push(paragraph("No entry is like this."));
    }
    Ok(Outcome::new("history", answer(&kept, &head), document))
}

fn filter(args: &HistoryArgs) -> Result<Filter, Faults> {
    let mut faults = Faults::none();
    let codes = args.codes.iter().filter_map(|text| faults.collect(code("CODE", text))).collect();
    let day = args.day.as_ref().and_then(|text| faults.collect(day("--day", text)));
    let kind = args.kind.as_ref().and_then(|text| faults.collect(kind(text)));
    faults.or(Filter { codes, author: args.author.clone(), day, kind, odd: args.odd })
}

/// A kind, or the noun before its point.
fn kind(text: &str) -> Result<String, Fault> {
    let kinds = Event::KINDS.iter().map(|(kind, _)| *kind);
    let nouns = kinds.clone().filter_map(|kind| kind.split('.').next());
    let known: Vec<&str> = kinds.chain(nouns).collect();
    let wanted = text.trim();
    if known.contains(&wanted) {
        return Ok(wanted.to_owned());
    }
    let place = Place::in_text("--kind", text, 0..text.len());
    let all = Event::KINDS.iter().map(|(kind, _)| *kind).collect::<Vec<_>>().join(", ");
    let hint = did_you_mean(wanted, known, &format!("The kinds are {all}."));
    Err(Fault::new("unknown_kind", format!("no entry is of a kind {wanted:?}"), place).with_hint(hint))
}

impl Filter {
    fn keeps(&self, line: &HistoryLine) -> bool {
        let kind =
            |wanted: &String| line.kind == *wanted || line.kind.split('.').next() == Some(wanted.as_str());
        let on = |wanted: &Date| {
            let days = [line.written(), line.event.happened()];
            days.into_iter().flatten().any(|time| day_of(time, &zone()) == wanted.to_string())
        };
        (self.codes.is_empty() || self.codes.iter().any(|code| line.codes.contains(code)))
            && self.author.as_ref().is_none_or(|author| line.author == author.trim())
            && self.day.as_ref().is_none_or(on)
            && self.kind.as_ref().is_none_or(kind)
            && (!self.odd || !line.changes.is_empty() || line.late_by().is_some())
    }
}

fn answer(lines: &[&HistoryLine], head: &(u64, Hash)) -> Value {
    let entries: Vec<Value> = lines.iter().map(|line| of_line(line)).collect();
    json!({ "head": { "entry": head.0, "hash": head.1.to_string() }, "entries": entries })
}

fn of_line(line: &HistoryLine) -> Value {
    let change = |change: &crate::record::ChangeOf| {
        json!({
            "entry": change.sequence,
            "what": change.what,
            "reason": change.reason,
        })
    };
    json!({
        "entry": line.sequence,
        "time": line.time,
        "author": line.author,
        "kind": line.kind,
        "what": event_words(&line.event),
        "codes": line.codes.iter().map(ToString::to_string).collect::<Vec<_>>(),
        "happened": line.event.happened().map(|time| time.to_string()),
        "late_by_s": line.late_by().map(|late| late.as_secs()),
        "changes": line.changes.iter().map(change).collect::<Vec<_>>(),
        "payload": serde_json::from_str::<Value>(&line.payload).unwrap_or(Value::Null),
        "hash": line.hash.to_string(),
    })
}
