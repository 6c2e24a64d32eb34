//! Batches: the projection and its limits.

use rusqlite::{Connection, OptionalExtension as _, params};
use serde::Serialize;

use super::bottle;
use super::error::BookError;
use super::projection::{left, movement};
use crate::record::batch::{Added, Blended, Finished, Released, Started, WaterMeasured, Weighed};
use crate::record::bottle::Bottle;
use crate::record::life::{BatchStatus, Reason};
use crate::record::{Code, Event};

pub(super) const TABLE: &str = "
CREATE TABLE batch (
    code TEXT PRIMARY KEY REFERENCES code (code),
    name TEXT NOT NULL,
    status TEXT NOT NULL,
    started TEXT,
    blended TEXT
) STRICT, WITHOUT ROWID;
CREATE TABLE batch_record (
    sequence INTEGER PRIMARY KEY,
    batch TEXT NOT NULL REFERENCES batch (code),
    what TEXT NOT NULL,
    at TEXT NOT NULL,
    record TEXT NOT NULL
) STRICT;
CREATE INDEX batch_record_batch ON batch_record (batch, what);
";

/// Names of the tables, children before parents.
pub(super) const TABLES: [&str; 2] = ["batch_record", "batch"];

/// Masses are compared with this room for the dust of sums, in grams.
const DUST_G: f64 = 1e-9;
/// A gain in making beyond this fraction of what went in needs a reason (a decision of this project: a damp
/// room adds less, a slip of the pen more).
const GAIN: f64 = 0.01;

/// Refuses what a batch can't take.
pub(super) fn check(connection: &Connection, event: &Event) -> Result<(), BookError> {
    match event {
        Event::BatchStarted(event) => check_started(connection, event),
        Event::BatchWeighed(event) => check_weighed(connection, event),
        Event::BatchAdded(event) => check_added(connection, event),
        Event::BatchBlended(event) => check_blended(connection, event),
        Event::BatchFinished(event) => check_finished(connection, event),
        Event::BatchWater(event) => check_water(connection, event),
        Event::BatchAppearance(event) => status(connection, &event.batch).map(|_| ()),
        Event::BatchMeasured(event) => status(connection, &event.batch).map(|_| ()),
        Event::BatchReleased(event) => check_released(connection, event),
        Event::BatchRejected(event) => {
            let now = status(connection, &event.batch)?;
            refuse(now == BatchStatus::Rejected, || {
                (format!("{} was rejected already", event.batch), "Nothing is left to do.")
            })
        }
        Event::BatchWasted(event) => {
            status(connection, &event.batch)?;
            refuse_past(connection, &event.batch, event.mass.value.get(), "goes to waste")
        }
        Event::BatchLeftWeighed(event) => status(connection, &event.batch).map(|_| ()),
        _ => Ok(()),
    }
}

/// How far a batch has come.
pub(super) fn status(connection: &Connection, code: &Code) -> Result<BatchStatus, BookError> {
    if !code.kind().is_batch() {
        let is = code.kind().words();
        return Err(BookError::WrongKind { code: code.clone(), is, wanted: "batch" });
    }
    let mut select = connection.prepare_cached("SELECT status FROM batch WHERE code = ?1")?;
    let word: Option<String> = select.query_row([code.to_string()], |row| row.get(0)).optional()?;
    let status = word.and_then(|word| BatchStatus::from_word(&word));
    status.ok_or_else(|| BookError::UnknownCode(code.clone()))
}

fn check_started(connection: &Connection, event: &Started) -> Result<(), BookError> {
    let day = day(&event.at);
    for code in event.plan.lines.iter().filter_map(|line| line.bottle.as_ref()) {
        let bottle = bottle::required(connection, code)?;
        need_reason(event.because.as_deref(), || against(&bottle, &day))?;
    }
    Ok(())
}

fn check_weighed(connection: &Connection, event: &Weighed) -> Result<(), BookError> {
    let now = status(connection, &event.batch)?;
    let because = event.because.as_deref();
    refuse(now != BatchStatus::Started && !event.later, || {
        let what = format!("{} is {} already", event.batch, now.word());
        (what, "What goes in after making is recorded with: meltbook batch add.")
    })?;
    need_reason(because, || rejected(&event.batch, now))?;
    let Some(from) = &event.from else { return Ok(()) };
    let bottle = bottle::required(connection, from)?;
    refuse(bottle.component != event.component.as_str(), || {
        (
            format!("{from} holds {}, not {}", bottle.component, event.component),
            "Check the code on the label.",
        )
    })?;
    need_reason(because, || against(&bottle, &day(&event.at)))?;
    need_reason(because, || past(from, bottle.left_g, event.mass.value.get()))
}

fn check_added(connection: &Connection, event: &Added) -> Result<(), BookError> {
    let now = status(connection, &event.batch)?;
    refuse(event.batch == event.from, || {
        (format!("{} can't be put into itself", event.batch), "Check the two codes.")
    })?;
    let because = event.because.as_deref();
    need_reason(because, || rejected(&event.batch, now))?;
    check_source(connection, &event.from, event.mass.value.get(), because)
}

fn check_blended(connection: &Connection, event: &Blended) -> Result<(), BookError> {
    refuse(event.from.is_empty(), || ("a blend of nothing".to_owned(), "Name what goes in."))?;
    // Two portions of one batch draw on the same stock.
    for (at, part) in event.from.iter().enumerate() {
        let portions = event.from.iter().take(at + 1).filter(|other| other.batch == part.batch);
        let mass: f64 = portions.map(|portion| portion.mass.value.get()).sum();
        check_source(connection, &part.batch, mass, event.because.as_deref())?;
    }
    Ok(())
}

/// A batch that some is taken of.
fn check_source(
    connection: &Connection,
    from: &Code,
    grams: f64,
    because: Option<&str>,
) -> Result<(), BookError> {
    let now = status(connection, from)?;
    need_reason(because, || rejected(from, now))?;
    let there = left(connection, from)?;
    need_reason(because, || past(from, there, grams))
}

fn check_finished(connection: &Connection, event: &Finished) -> Result<(), BookError> {
    let now = status(connection, &event.batch)?;
    refuse(now != BatchStatus::Started, || {
        let what = format!("{} is {} already", event.batch, now.word());
        (what, "If its record is wrong, correct it with: meltbook correct.")
    })?;
    let there = left(connection, &event.batch)?;
    refuse(there <= DUST_G, || {
        (format!("nothing is in {}", event.batch), "Record what was weighed with: meltbook batch weigh.")
    })?;
    need_reason(event.because.as_deref(), || {
        let mass = event.mass.as_ref()?.value.get();
        let gained = there * (1.0 + GAIN) < mass;
        gained.then(|| format!("{mass} g is more than the {there:.4} g that went into {}", event.batch))
    })
}

fn check_water(connection: &Connection, event: &WaterMeasured) -> Result<(), BookError> {
    status(connection, &event.batch)?;
    refuse_past(connection, &event.batch, event.taken().get(), "is titrated")
}

fn check_released(connection: &Connection, event: &Released) -> Result<(), BookError> {
    let now = status(connection, &event.batch)?;
    refuse(now == BatchStatus::Started, || {
        let what = format!("{} is not finished", event.batch);
        (what, "Record the end of making it with: meltbook batch finish.")
    })?;
    refuse(now == BatchStatus::Released, || {
        (format!("{} is released already", event.batch), "Nothing is left to do.")
    })?;
    need_reason(event.because.as_deref(), || rejected(&event.batch, now))
}

/// What is against weighing out of a bottle on a day.
fn against(bottle: &Bottle, day: &str) -> Option<String> {
    let code = &bottle.code;
    if let Some(disposed) = &bottle.disposed {
        return Some(format!("{code} was disposed of on {}", disposed.get(..10).unwrap_or(disposed)));
    }
    if bottle.left_g <= DUST_G {
        return Some(format!("{code} is empty"));
    }
    // Days in ISO 8601 sort like text.
    let expires = bottle.expires.as_deref().filter(|expires| *expires < day);
    expires.map(|expires| format!("{code} is past its date, {expires}"))
}

fn past(code: &Code, there: f64, grams: f64) -> Option<String> {
    (there + DUST_G < grams)
        .then(|| format!("{code} holds {:.4} g, and {grams} g is to be taken", there + 0.0))
}

fn rejected(code: &Code, status: BatchStatus) -> Option<String> {
    (status == BatchStatus::Rejected).then(|| format!("{code} was rejected"))
}

fn refuse_past(connection: &Connection, code: &Code, grams: f64, done: &str) -> Result<(), BookError> {
    let there = left(connection, code)?;
    refuse(there + DUST_G < grams, || {
        let what = format!("{there:.4} g is left of {code}, and {grams} g {done}");
        (what, "Weigh what is left and record it with: meltbook batch left.")
    })
}

/// The day of a moment, UTC.
fn day(at: &jiff::Timestamp) -> String {
    at.to_string().chars().take(10).collect()
}

fn need_reason(because: Option<&str>, against: impl FnOnce() -> Option<String>) -> Result<(), BookError> {
    if because.is_some_and(|because| !because.trim().is_empty()) {
        return Ok(());
    }
    against().map_or(Ok(()), |what| Err(BookError::NeedsReason { what }))
}

fn refuse(is: bool, why: impl FnOnce() -> (String, &'static str)) -> Result<(), BookError> {
    if !is {
        return Ok(());
    }
    let (what, hint) = why();
    Err(BookError::Refused { what, hint: hint.to_owned() })
}

/// Puts an event into the tables; one of another noun changes nothing here.
pub(super) fn apply(connection: &Connection, sequence: u64, event: &Event) -> Result<(), BookError> {
    let tables = Tables { connection, sequence };
    match event {
        Event::BatchStarted(event) => {
            tables.begin(&event.code, &event.plan.recipe, BatchStatus::Started, Some(event.as_ref()), None)
        }
        Event::BatchBlended(event) => {
            tables.begin(&event.code, &event.name, BatchStatus::Finished, None, Some(event))?;
            for part in &event.from {
                tables.take(&part.batch, part.mass.value.get(), "blended")?;
                tables.put_in(&event.code, part.mass.value.get())?;
            }
            Ok(())
        }
        Event::BatchWeighed(event) => {
            tables.note(&event.batch, "put in", &event.at, event)?;
            if let Some(from) = &event.from {
                tables.take(from, event.mass.value.get(), "weighed out")?;
            }
            tables.put_in(&event.batch, event.mass.value.get())?;
            tables.judgement_is_void(&event.batch)
        }
        Event::BatchAdded(event) => {
            tables.note(&event.batch, "batch put in", &event.at, event)?;
            tables.take(&event.from, event.mass.value.get(), "put into another batch")?;
            tables.put_in(&event.batch, event.mass.value.get())?;
            tables.judgement_is_void(&event.batch)
        }
        Event::BatchFinished(event) => {
            tables.note(&event.batch, "finished", &event.at, event)?;
            if let Some(mass) = &event.mass {
                let loss = mass.value.get() - left(connection, &event.batch)?;
                tables.change(&event.batch, loss, Reason::Loss)?;
            }
            tables.set(&event.batch, BatchStatus::Finished)
        }
        Event::BatchWater(event) => {
            tables.note(&event.batch, "water", &event.at, event)?;
            let taken = event.taken().get();
            if 0.0 < taken { tables.change(&event.batch, -taken, Reason::Sample) } else { Ok(()) }
        }
        Event::BatchAppearance(event) => tables.note(&event.batch, "appearance", &event.at, event),
        Event::BatchMeasured(event) => tables.note(&event.batch, "property", &event.at, event),
        Event::BatchReleased(event) => {
            tables.note(&event.batch, "released", &event.at, event)?;
            tables.set(&event.batch, BatchStatus::Released)
        }
        Event::BatchRejected(event) => {
            tables.note(&event.batch, "rejected", &event.at, event)?;
            tables.set(&event.batch, BatchStatus::Rejected)
        }
        Event::BatchWasted(event) => {
            tables.note(&event.batch, "wasted", &event.at, event)?;
            tables.change(&event.batch, -event.mass.value.get(), Reason::Waste)
        }
        Event::BatchLeftWeighed(event) => {
            tables.note(&event.batch, "left", &event.at, event)?;
            let difference = event.left.value.get() - left(connection, &event.batch)?;
            tables.change(&event.batch, difference, Reason::WeighedBack)
        }
        _ => Ok(()),
    }
}

/// The tables, for one entry.
struct Tables<'c> {
    connection: &'c Connection,
    sequence: u64,
}

impl Tables<'_> {
    fn begin(
        &self,
        code: &Code,
        name: &str,
        status: BatchStatus,
        started: Option<&Started>,
        blended: Option<&Blended>,
    ) -> Result<(), BookError> {
        let started = started.map(serde_json::to_string).transpose()?;
        let blended = blended.map(serde_json::to_string).transpose()?;
        let mut insert = self.connection.prepare_cached(
            "INSERT INTO batch (code, name, status, started, blended) VALUES (?1, ?2, ?3, ?4, ?5)",
        )?;
        insert.execute(params![code.to_string(), name, status.word(), started, blended])?;
        Ok(())
    }

    fn note(
        &self,
        batch: &Code,
        what: &str,
        at: &jiff::Timestamp,
        record: &impl Serialize,
    ) -> Result<(), BookError> {
        let mut insert = self.connection.prepare_cached(
            "INSERT INTO batch_record (sequence, batch, what, at, record) VALUES (?1, ?2, ?3, ?4, ?5)",
        )?;
        let record = serde_json::to_string(record)?;
        insert.execute(params![self.sequence, batch.to_string(), what, at.to_string(), record])?;
        Ok(())
    }

    fn take(&self, from: &Code, grams: f64, reason: &str) -> Result<(), BookError> {
        movement(self.connection, self.sequence, from, -grams, reason)
    }

    fn put_in(&self, batch: &Code, grams: f64) -> Result<(), BookError> {
        self.change(batch, grams, Reason::PutIn)
    }

    fn change(&self, batch: &Code, grams: f64, reason: Reason) -> Result<(), BookError> {
        movement(self.connection, self.sequence, batch, grams, reason.words())
    }

    fn set(&self, batch: &Code, status: BatchStatus) -> Result<(), BookError> {
        let mut update = self.connection.prepare_cached("UPDATE batch SET status = ?2 WHERE code = ?1")?;
        update.execute(params![batch.to_string(), status.word()])?;
        Ok(())
    }

    /// A release was of what the batch was before something else went in.
    fn judgement_is_void(&self, batch: &Code) -> Result<(), BookError> {
        if status(self.connection, batch)? == BatchStatus::Released {
            self.set(batch, BatchStatus::Finished)?;
        }
        Ok(())
    }
}
