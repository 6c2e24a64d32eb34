//! What every recording command takes: who, when it happened, and why in spite of a limit.

use clap::Args;
use jiff::civil::{Date, DateTime};
use jiff::{Timestamp, ZonedDateTime};

use super::surroundings::{now, zone};
use crate::cli::outcome::Failure;
use crate::input::{Fault, Faults, Place};
use crate::record::Code;

#[derive(Debug, Clone, Args)]
#[command(next_help_heading = "The entry")]
pub(in crate::cli) struct RecordArgs {
    /// Initials of who records this; before MELTBOOK_AUTHOR and meltbook.toml
    #[arg(long, value_name = "INITIALS")]
    pub(in crate::cli) by: Option<String>,
    /// When it happened, if not now: 2026-11-25, "2026-11-25 14:30" (local) or 2026-11-25T14:30:00Z
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub(in crate::cli) when: Option<String>,
    /// Why, in spite of what is against it, or why something is changed or given up; recorded
    #[arg(long, value_name = "REASON")]
    pub(in crate::cli) because: Option<String>,
}

impl RecordArgs {
    /// When it happened.
    pub(in crate::cli) fn at(&self) -> Result<Timestamp, Failure> {
        match &self.when {
            Some(text) => Ok(past("--when", text, moment("--when", text)?)?),
            None => now(),
        }
    }
}

/// Refuses a time that has not come yet: only what has happened is recorded.
pub(in crate::cli) fn past(origin: &str, text: &str, at: Timestamp) -> Result<Timestamp, Failure> {
    // A day alone stands for its noon, which may be ahead in the morning of that day.
    let (now, today) = (now()?, super::shelf::today()?);
    let is_today = text.trim().parse::<Date>().is_ok_and(|day| day == today && !text.contains(':'));
    if at <= now || is_today {
        return Ok(at.min(now));
    }
    let place = Place::in_text(origin, text, 0..text.len());
    let fault = Fault::new("in_the_future", format!("{text:?} has not come yet"), place);
    Err(fault.with_hint("Record what has happened; check day and year.").into())
}

/// Codes, with a run of them as C1-C12.
pub(in crate::cli) fn codes(origin: &str, texts: &[String]) -> Result<Vec<Code>, Faults> {
    let mut faults = Faults::none();
    let list = codes_collecting(origin, texts, &mut faults);
    faults.or(list)
}

/// The same with faults collected, so that what is wrong with the other codes can be told with them.
pub(in crate::cli) fn codes_collecting(origin: &str, texts: &[String], faults: &mut Faults) -> Vec<Code> {
    let mut list: Vec<Code> = Vec::new();
    for text in texts {
        for code in faults.collect(run_of_codes(origin, text)).unwrap_or_default() {
            if !list.contains(&code) {
                list.push(code);
            }
        }
    }
    list
}

fn run_of_codes(origin: &str, text: &str) -> Result<Vec<Code>, Fault> {
    // Answers print runs with an en dash, and some write them with two points.
    let ends = ["..", "–", "-"].into_iter().find_map(|sign| text.split_once(sign));
    let Some((first, last)) = ends else { return Ok(vec![code(origin, text)?]) };
    let (first, last) = (code(origin, first)?, code(origin, last)?);
    if first.kind() != last.kind() || last.number() < first.number() {
        let place = Place::in_text(origin, text, 0..text.len());
        let fault = Fault::new("bad_run", format!("{text:?} is no run of codes"), place);
        return Err(fault.with_hint("Write the lower one first, both of one kind, as in C1-C12."));
    }
    Ok((first.number()..=last.number()).map(|number| Code::new(first.kind(), number)).collect())
}

/// A moment as people write it. Without a zone it is local time; a day alone is its noon.
pub(in crate::cli) fn moment(origin: &str, text: &str) -> Result<Timestamp, Fault> {
    let trimmed = text.trim();
    let local = |time: DateTime| time.to_zoned_datetime(zone()).ok().map(|zoned| zoned.timestamp());
    let noon = |date: Date| local(date.at(12, 0, 0, 0));
    let parsed = trimmed
        .parse::<Timestamp>()
        .ok()
        .or_else(|| trimmed.parse::<ZonedDateTime>().ok().map(|zoned| zoned.timestamp()))
        .or_else(|| trimmed.parse::<Date>().ok().filter(|_| !trimmed.contains(':')).and_then(noon))
        .or_else(|| trimmed.parse::<DateTime>().ok().and_then(local));
    parsed.ok_or_else(|| {
        let fault = Fault::new(
            "bad_time",
            format!("{text:?} is no time"),
            Place::in_text(origin, text, 0..text.len()),
        );
        fault.with_hint("Write it like 2026-11-25, \"2026-11-25 14:30\" or 2026-11-25T14:30:00Z.")
    })
}

/// A day.
pub(in crate::cli) fn day(origin: &str, text: &str) -> Result<Date, Fault> {
    text.trim().parse().map_err(|_| {
        let fault = Fault::new(
            "bad_date",
            format!("{text:?} is no date"),
            Place::in_text(origin, text, 0..text.len()),
        );
        fault.with_hint("Write it like 2026-11-25.")
    })
}

/// A code.
pub(in crate::cli) fn code(origin: &str, text: &str) -> Result<Code, Fault> {
    text.parse::<Code>().map_err(|error| {
        let place = Place::in_text(origin, text, 0..text.len());
        Fault::new("bad_code", error.to_string(), place).with_hint(crate::record::CodeError::HINT)
    })
}
