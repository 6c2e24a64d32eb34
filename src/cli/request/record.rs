//! What every recording command takes: who, when it happened, and why in spite of a limit.

use clap::Args;
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ZonedDateTime};

use super::surroundings::now;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Place};
use crate::record::Code;

#[derive(Debug, Args)]
#[command(next_help_heading = "The entry")]
pub(in crate::cli) struct RecordArgs {
    /// Initials of who records this; before MELTBOOK_AUTHOR and meltbook.toml
    #[arg(long, value_name = "INITIALS")]
    pub(in crate::cli) by: Option<String>,
    /// When it happened, if not now: 2026-11-25, "2026-11-25 14:30" (local) or 2026-11-25T14:30:00Z
    #[arg(long, value_name = "TIME")]
    pub(in crate::cli) when: Option<String>,
    /// Why, in spite of what is against it, or why something is changed or given up; recorded
    #[arg(long, value_name = "REASON")]
    pub(in crate::cli) because: Option<String>,
}

impl RecordArgs {
    /// When it happened.
    pub(in crate::cli) fn at(&self) -> Result<Timestamp, Failure> {
        match &self.when {
            Some(text) => Ok(moment("--when", text)?),
            None => now(),
        }
    }
}

/// A moment as people write it. Without a zone it is local time; a day alone is its noon.
pub(in crate::cli) fn moment(origin: &str, text: &str) -> Result<Timestamp, Fault> {
    let trimmed = text.trim();
    let local =
        |time: DateTime| time.to_zoned_datetime(TimeZone::system()).ok().map(|zoned| zoned.timestamp());
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
