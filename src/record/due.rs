//! What is due: the readings that designs ask for, less those that were taken.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};

use super::cell::Cell;
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

/// The readings that are due at `until` or before it, for cells that are in use; the latest of each cell
/// and kind. One that a later time has overtaken can't be made up for, and is counted as missed.
pub fn due_readings(cells: &[Cell], readings: &[Reading], until: Timestamp) -> Vec<Due> {
    let mut taken: BTreeMap<(&Code, &str), Vec<Timestamp>> = BTreeMap::new();
    for reading in readings {
        let key = (&reading.taken.cell, reading.taken.value.kind().word());
        taken.entry(key).or_default().push(reading.taken.at);
    }
    let none = Vec::new();
    let mut list = Vec::new();
    for cell in cells.iter().filter(|cell| cell.retired.is_none()) {
        for (what, times) in times(cell) {
            let taken = taken.get(&(&cell.code, what)).unwrap_or(&none);
            list.extend(open(cell, what, &times, taken, until));
        }
    }
    list
}

/// When each kind is due, in order.
fn times(cell: &Cell) -> BTreeMap<&str, Vec<Timestamp>> {
    let mut times: BTreeMap<&str, Vec<Timestamp>> = BTreeMap::new();
    for due in &cell.set.design.schedule {
        let at = SignedDuration::try_from_secs_f64(due.day * 86_400.0)
            .ok()
            .and_then(|after| cell.set.built.checked_add(after).ok());
        if let Some(at) = at {
            times.entry(due.what.as_str()).or_default().push(at);
        }
    }
    times.values_mut().for_each(|times| times.sort_unstable());
    times
}

fn open(cell: &Cell, what: &str, times: &[Timestamp], taken: &[Timestamp], until: Timestamp) -> Option<Due> {
    let starts: Vec<Timestamp> = times
        .iter()
        .enumerate()
        .map(|(index, at)| {
            let before = index.checked_sub(1).map_or(cell.set.built, |before| times[before]);
            let lead = (at.duration_since(before) / 2).min(EARLIEST);
            at.checked_sub(lead).unwrap_or(*at)
        })
        .collect();
    let passed = times.iter().take_while(|at| **at <= until).count();
    let last = passed.checked_sub(1)?;
    let done = |index: usize| {
        let end = starts.get(index + 1);
        taken.iter().any(|time| starts[index] <= *time && end.is_none_or(|end| time < end))
    };
    // Any reading since then has overtaken it, even one in the time of the next.
    if taken.iter().any(|time| starts[last] <= *time) {
        return None;
    }
    let missed = (0..last).filter(|index| !done(*index)).count();
    Some(Due { code: cell.code.clone(), what: what.to_owned(), at: times[last], missed })
}

/// The looks at batches that are due at `until` or before it: the latest of each batch that is made, was not
/// rejected, and is not used up.
pub fn due_looks(lives: &[BatchLife], until: Timestamp) -> Vec<Due> {
    let wanted = |life: &&BatchLife| life.status != BatchStatus::Rejected && 0.0 < life.left_g();
    lives.iter().filter(wanted).filter_map(|life| due_look(life, until)).collect()
}

fn due_look(life: &BatchLife, until: Timestamp) -> Option<Due> {
    let finished = life.finished.as_ref()?.what.at;
    let looked: Vec<(String, Timestamp)> =
        life.appearance.iter().map(|look| (look.what.occasion.clone(), look.what.at)).collect();
    let planned = looks(finished, &looked, until);
    let passed: Vec<_> = planned.iter().filter(|look| look.due <= until).collect();
    let (last, before) = passed.split_last()?;
    if last.done.is_some() {
        return None;
    }
    let missed = before.iter().filter(|look| look.done.is_none()).count();
    Some(Due { code: life.code.clone(), what: format!("look: {}", last.occasion), at: last.due, missed })
}
