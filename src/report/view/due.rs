//! What is due.

use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

use super::cautions::alerts_in_short;
use super::moment::{moment, span};
use super::ranges::code_range;
use crate::caution::Review;
use crate::record::{Code, Due};
use crate::report::document::{Document, Table, Text, column, muted, paragraph, strong, text};

/// What is due, the latest first; cells of which the same is due at the same time share a row, but for scripts.
/// `review` says what to mind while it is done.
pub fn due_document(due: &[Due], review: &Review, now: Timestamp, zone: &TimeZone) -> Document {
    let mut document = Document::new("Due");
    document.extend(alerts_in_short(review));
    if due.is_empty() {
        return document.with(paragraph("Nothing is due."));
    }
    let each: Vec<Vec<&Due>> = due.iter().map(|one| vec![one]).collect();
    document.with_data(table(&each, now, zone)).with(table(&alike(due), now, zone)).with(paragraph(muted(
        "Missed before: earlier times of the same that went by without a reading and can't be made up for.",
    )))
}

/// What is due of several codes alike, each in the place of its first.
fn alike(due: &[Due]) -> Vec<Vec<&Due>> {
    let mut groups: Vec<Vec<&Due>> = Vec::new();
    for one in due {
        let same = |group: &&mut Vec<&Due>| {
            group
                .first()
                .is_some_and(|first| (first.at, &first.what, first.missed) == (one.at, &one.what, one.missed))
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.push(one),
            None => groups.push(vec![one]),
        }
    }
    groups
}

fn table(groups: &[Vec<&Due>], now: Timestamp, zone: &TimeZone) -> Table {
    let mut table = Table::new([
        column("Code").key("code"),
        column("What").key("what"),
        column("Due").key("due"),
        column("Late").key("late"),
        column("Missed before").key("missed").right(),
    ]);
    for group in groups {
        let Some(first) = group.first() else { continue };
        let codes: Vec<Code> = group.iter().map(|one| one.code.clone()).collect();
        table.push([
            text(code_range(&codes)),
            text(first.what.replace('-', " ")),
            text(moment(first.at, zone)),
            lateness(now.duration_since(first.at)),
            text(if first.missed == 0 { String::new() } else { first.missed.to_string() }),
        ]);
    }
    table
}

fn lateness(late: SignedDuration) -> Text {
    if late < SignedDuration::ZERO { text(format!("in {}", span(-late))) } else { strong(span(late)) }
}
