//! `due`: what is to be read or looked at today, and what is late.

use std::collections::BTreeMap;

use clap::Args;
use jiff::{Timestamp, ToSpan as _};
use serde_json::{Value, json};

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{failure, now, open_book, review_reading, zone};
use crate::book::{Book, batch, batch_codes, cells, readings, studies};
use crate::record::cell::DueReading;
use crate::record::reading::ReadingKind;
use crate::record::{Code, Due, due_looks, due_readings};
use crate::report::view::due_document;

/// What is due today and what is late: readings of cells by their designs and studies, looks at batches; the latest first
#[derive(Debug, Args)]
#[command(after_help = "Examples:\n  meltbook due\n  meltbook due --days 7")]
pub(super) struct DueArgs {
    /// Look so many days ahead
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true, default_value_t = 0, value_parser = clap::value_parser!(u16).range(0..=3650))]
    days: u16,
}

pub(super) fn run(common: &Common, args: &DueArgs) -> Result<Outcome, Failure> {
    let now = now()?;
    let until = end_of_day(now, args.days);
    let book = open_book(common)?;
    let cells = cells(&book).map_err(|error| failure(&error))?;
    let taken = readings(&book, &[]).map_err(|error| failure(&error))?;
    let beside = study_schedules(&book)?;
    let mut due = due_readings(&cells, &beside, &taken, (now, until));
    let lives = batch_codes(&book)
        .and_then(|codes| codes.iter().map(|code| batch(&book, code)).collect::<Result<Vec<_>, _>>());
    due.extend(due_looks(&lives.map_err(|error| failure(&error))?, (now, until)));
    due.sort_by(|a, b| (a.at, &a.code, &a.what).cmp(&(b.at, &b.code, &b.what)));
    let answer: Vec<Value> = due.iter().map(|due| of_due(due, now)).collect();
    let review = review_reading(due.iter().any(|due| due.what == ReadingKind::ShortCircuit.word()));
    Ok(Outcome::new("due", Value::Array(answer), due_document(&due, &review, now, &zone())))
}

/// What studies ask of their cells beside the cells' designs.
fn study_schedules(book: &Book) -> Result<BTreeMap<Code, Vec<DueReading>>, Failure> {
    let mut beside: BTreeMap<Code, Vec<DueReading>> = BTreeMap::new();
    for study in studies(book).map_err(|error| failure(&error))? {
        for (cell, _) in &study.cells {
            beside.entry(cell.clone()).or_default().extend(study.planned.schedule.iter().cloned());
        }
    }
    Ok(beside)
}

/// The last moment of the day, so many days on, in local time.
fn end_of_day(now: Timestamp, days: u16) -> Timestamp {
    let today = now.to_zoned_datetime(zone());
    let end = today.checked_add(i64::from(days).days()).and_then(|day| day.end_of_day());
    end.map_or(now, |end| end.timestamp())
}

fn of_due(due: &Due, now: Timestamp) -> Value {
    json!({
        "code": due.code.to_string(),
        "what": due.what,
        "due": due.at.to_string(),
        "late_days": now.duration_since(due.at).as_secs_f64() / 86_400.0,
        "missed": due.missed,
    })
}
