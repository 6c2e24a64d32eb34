//! Entries of the history that were written at once: a round of readings, the masses of a table.

use crate::record::reading::ReadingKind;
use crate::record::{Event, HistoryLine};

/// Fewer than this many stay apart.
const FEWEST: usize = 3;

/// The lines in their order, those that were written at once together: readings of one kind, or masses of
/// cells, by one author at one time, with nothing said of any of them since.
pub(super) fn at_once<'h, 'l>(lines: &'h [&'l HistoryLine]) -> Vec<&'h [&'l HistoryLine]> {
    let runs = lines.chunk_by(|one, next| goes_on(one, next));
    runs.flat_map(|run| if run.len() < FEWEST { run.chunks(1) } else { run.chunks(run.len()) }).collect()
}

fn goes_on(one: &HistoryLine, next: &HistoryLine) -> bool {
    let plain = |line: &HistoryLine| line.changes.is_empty() && line.late_by().is_none();
    let of = |line: &HistoryLine| round(&line.event);
    next.sequence == one.sequence + 1
        && (&one.time, &one.author) == (&next.time, &next.author)
        && plain(one)
        && plain(next)
        && of(one).is_some_and(|round| of(next) == Some(round))
}

/// What can be written many at a time.
#[derive(PartialEq)]
enum Round {
    Readings(ReadingKind),
    Masses,
}

fn round(event: &Event) -> Option<Round> {
    match event {
        Event::ReadingTaken(taken) => Some(Round::Readings(taken.value.kind())),
        Event::CellWeighed(_) => Some(Round::Masses),
        _ => None,
    }
}

/// What such a run records, about these codes.
pub(super) fn run_words(run: &[&HistoryLine], codes: &str) -> String {
    let count = run.len();
    match run.first().and_then(|line| round(&line.event)) {
        Some(Round::Readings(kind)) => {
            format!("{count} readings, {}, of {codes}", kind.word().replace('-', " "))
        }
        Some(Round::Masses) => format!("{count} masses weighed: {codes}"),
        None => format!("{count} entries: {codes}"),
    }
}
