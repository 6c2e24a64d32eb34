//! What is due: the readings that designs ask for, less those that were taken.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};

use super::cell::{Cell, DueReading};
use super::code::Code;
use super::life::{BatchLife, BatchStatus};
use super::reading::Reading;
use super::schedule::looks;

/// Something that is to be read or looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct Due {
    /// The cell or batch.
    pub code: Code,
    /// What is to be read, or the occasion of the look.
    pub what: String,
    /// When it is due.
    pub at: Timestamp,
    /// Earlier times of the same that went by and can't be made up for.
    pub missed: usize,
}

/// A reading counts for a time that is due if it comes no earlier than half the time since the one before,
/// and a day at most.
const EARLIEST: SignedDuration = SignedDuration::from_hours(24);

/// A time at which something is to be read, and what counts as having done so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Window {
    /// Days after building.
    pub(super) day: f64,
    /// When it is due.
    pub(super) at: Timestamp,
    /// How much earlier a reading counts already.
    pub(super) lead: SignedDuration,
    /// When the next one's time begins.
    end: Option<Timestamp>,
}

impl Window {
    fn start(&self) -> Timestamp {
        self.at.checked_sub(self.lead).unwrap_or(self.at)
    }

    /// True if a reading at this time counts for it.
    pub(super) fn has(&self, time: Timestamp) -> bool {
        self.start() <= time && self.end.is_none_or(|end| time < end)
    }
}

/// The readings that are due at `until` or before it, for cells that are in use; the latest of each cell
/// and kind. One that a later time has overtaken can't be made up for, and is counted as missed. `beside` is what
/// studies ask of a cell beside its design; a day that both name is read once.
pub fn due_readings(
    cells: &[Cell],
    beside: &BTreeMap<Code, Vec<DueReading>>,
    readings: &[Reading],
    (now, until): (Timestamp, Timestamp),
) -> Vec<Due> {
    let mut taken: BTreeMap<(&Code, &str), Vec<Timestamp>> = BTreeMap::new();
    for reading in readings {
        let key = (&reading.taken.cell, reading.taken.value.kind().word());
        taken.entry(key).or_default().push(reading.taken.at);
    }
    let none = Vec::new();
    let mut list = Vec::new();
    for cell in cells.iter().filter(|cell| cell.retired.is_none()) {
        let design = cell.set.design.schedule.iter();
        let all: Vec<DueReading> =
            design.chain(beside.get(&cell.code).into_iter().flatten()).cloned().collect();
        for (what, windows) in windows(cell.set.built, &all) {
            let taken = taken.get(&(&cell.code, what)).unwrap_or(&none);
            list.extend(open(cell, what, &windows, taken, (now, until)));
        }
    }
    list
}

/// When each kind is due, in order.
pub(super) fn windows(built: Timestamp, schedule: &[DueReading]) -> BTreeMap<&str, Vec<Window>> {
    let mut times: BTreeMap<&str, Vec<(Timestamp, f64)>> = BTreeMap::new();
    for due in schedule {
        let at = SignedDuration::try_from_secs_f64(due.day * 86_400.0)
            .ok()
            .and_then(|after| built.checked_add(after).ok());
        if let Some(at) = at {
            times.entry(due.what.as_str()).or_default().push((at, due.day));
        }
    }
    times.into_iter().map(|(what, times)| (what, windows_of(built, times))).collect()
}

fn windows_of(built: Timestamp, mut times: Vec<(Timestamp, f64)>) -> Vec<Window> {
    times.sort_by_key(|(at, _)| *at);
    times.dedup_by_key(|(at, _)| *at);
    let befores = std::iter::once(built).chain(times.iter().map(|(at, _)| *at));
    let mut windows: Vec<Window> = times
        .iter()
        .zip(befores)
        .map(|(&(at, day), before)| {
            let lead = (at.duration_since(before) / 2).min(EARLIEST);
            Window { day, at, lead, end: None }
        })
        .collect();
    let starts: Vec<Timestamp> = windows.iter().skip(1).map(Window::start).collect();
    windows.iter_mut().zip(starts).for_each(|(window, next)| window.end = Some(next));
    windows
}

fn open(
    cell: &Cell,
    what: &str,
    windows: &[Window],
    taken: &[Timestamp],
    (now, until): (Timestamp, Timestamp),
) -> Option<Due> {
    let passed = windows.iter().take_while(|window| window.at <= until).count();
    let (last, before) = windows[..passed].split_last()?;
    // Any reading since then has overtaken it, even one in the time of the next.
    if taken.iter().any(|time| last.start() <= *time) {
        return None;
    }
    // What can still be read now was not missed.
    let gone = before.iter().filter(|window| window.end.is_some_and(|end| end <= now));
    let missed = gone.filter(|window| !taken.iter().any(|time| window.has(*time))).count();
    Some(Due { code: cell.code.clone(), what: what.to_owned(), at: last.at, missed })
}

/// The looks at batches that are due at `until` or before it: the latest of each batch that is made, was not
/// rejected, and is not used up.
pub fn due_looks(lives: &[BatchLife], (now, until): (Timestamp, Timestamp)) -> Vec<Due> {
    let wanted = |life: &&BatchLife| life.status != BatchStatus::Rejected && 0.0 < life.left_g();
    lives.iter().filter(wanted).filter_map(|life| due_look(life, (now, until))).collect()
}

fn due_look(life: &BatchLife, (now, until): (Timestamp, Timestamp)) -> Option<Due> {
    let finished = life.finished.as_ref()?.what.at;
    let looked: Vec<(String, Timestamp)> =
        life.appearance.iter().map(|look| (look.what.occasion.clone(), look.what.at)).collect();
    let planned = looks(finished, &looked, until);
    let passed: Vec<_> = planned.iter().filter(|look| look.due <= until).collect();
    let (last, before) = passed.split_last()?;
    if last.done.is_some() {
        return None;
    }
    // A look is missed once the next is due.
    let next = passed.iter().skip(1).map(|look| look.due);
    let missed = before.iter().zip(next).filter(|(look, next)| look.done.is_none() && *next <= now).count();
    Some(Due { code: life.code.clone(), what: format!("look: {}", last.occasion), at: last.due, missed })
}
