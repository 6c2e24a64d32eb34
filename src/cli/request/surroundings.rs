//! Where the person is: the book around them, its settings, the clock. Read once for each call.

use std::cell::Cell;
use std::path::{Path, PathBuf};

use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::settings::{Settings, read_settings};
use super::source::read_text;
use crate::book::{Book, BookError, Stamp};
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::input::{Fault, Place};

/// The name of the settings in a book's folder.
pub(in crate::cli) const SETTINGS: &str = "meltbook.toml";

/// The folder of the book that a call means: `--book`, else MELTBOOK_BOOK, else the nearest folder above
/// that holds settings. `None` where there is none; computing needs none.
pub(in crate::cli) fn book_folder(common: &Common) -> Option<PathBuf> {
    let named = common.book.clone().or_else(|| environment("MELTBOOK_BOOK"));
    if let Some(named) = named {
        return Some(PathBuf::from(named));
    }
    let here = std::env::current_dir().ok()?;
    here.ancestors().find(|folder| folder.join(SETTINGS).is_file()).map(Path::to_owned)
}

/// The settings of the book around, if there is one.
pub(in crate::cli) fn settings(common: &Common) -> Result<Option<Settings>, Failure> {
    let Some(folder) = book_folder(common) else { return Ok(None) };
    let path = folder.join(SETTINGS);
    if !path.is_file() {
        return Err(failure(&BookError::NoBook(folder)));
    }
    let path = path.display().to_string();
    Ok(Some(read_settings(&path, &read_text(&path)?)?))
}

/// Opens the book around.
pub(in crate::cli) fn open_book(common: &Common) -> Result<Book, Failure> {
    let Some(folder) = book_folder(common) else {
        let fault = Fault::new("no_book", "there is no book here or above", Place::named("--book"));
        return Err(fault.with_hint("Make one with: meltbook init DIR, or name one with --book DIR.").into());
    };
    Book::open(&folder).map_err(|error| failure(&error))
}

/// Who writes, and when: initials from `--by`, MELTBOOK_AUTHOR or the settings, never from a guess.
pub(in crate::cli) fn stamp(by: Option<&str>, settings: Option<&Settings>) -> Result<Stamp, Failure> {
    let author = by
        .map(str::to_owned)
        .or_else(|| environment("MELTBOOK_AUTHOR"))
        .or_else(|| settings.and_then(|settings| settings.author.clone()))
        .map(|author| author.trim().to_owned())
        .filter(|author| !author.is_empty());
    let Some(author) = author else {
        let fault =
            Fault::new("no_author", "nobody is named as the author of this entry", Place::named("--by"));
        let hint = "Give initials with --by AB, or set author = \"AB\" in meltbook.toml.";
        return Err(fault.with_hint(hint).into());
    };
    Ok(Stamp { author, time: format!("{:.3}", now()?) })
}

thread_local! {
    /// Where a story puts the clock while one of its lines is played.
    static TOLD: Cell<Option<Timestamp>> = const { Cell::new(None) };
}

/// Does `work` with the clock at this time and in UTC, so that it comes out the same on every machine.
pub(in crate::cli) fn at_time<T>(at: Timestamp, work: impl FnOnce() -> T) -> T {
    let before = TOLD.replace(Some(at));
    let done = work();
    TOLD.set(before);
    done
}

/// The time now, or what a story or MELTBOOK_NOW says.
pub(in crate::cli) fn now() -> Result<Timestamp, Failure> {
    if let Some(told) = TOLD.get() {
        return Ok(told);
    }
    let Some(text) = environment("MELTBOOK_NOW") else { return Ok(Timestamp::now()) };
    text.parse().map_err(|_| {
        let place = Place::in_text("MELTBOOK_NOW", text.as_str(), 0..text.len());
        let fault = Fault::new("bad_time", format!("{text:?} is no time"), place);
        Failure::from(fault.with_hint("Write it like 2026-11-25T09:30:00Z."))
    })
}

/// The zone in which times are read and shown.
pub(in crate::cli) fn zone() -> TimeZone {
    if TOLD.get().is_some() { TimeZone::UTC } else { TimeZone::system() }
}

/// True if the clock was told what to say, so that what is made can be made again.
pub(in crate::cli) fn clock_is_told() -> bool {
    TOLD.get().is_some() || environment("MELTBOOK_NOW").is_some()
}

/// What the book says, as a fault of this call.
pub(in crate::cli) fn failure(error: &BookError) -> Failure {
    let fault = Fault::new(error.code(), error.to_string(), Place::named("the book")).with_hint(error.hint());
    if error.is_input() { Failure::Input(fault.into()) } else { Failure::Storage(fault.into()) }
}

fn environment(name: &str) -> Option<String> {
    std::env::var(name).ok().filter(|value| !value.trim().is_empty())
}
