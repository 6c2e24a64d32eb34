//! What is due.

use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

use super::moment::{moment, span};
use crate::record::Due;
use crate::report::document::{Document, Table, Text, column, muted, paragraph, strong, text};

/// One row for each thing that is due, the latest first.
pub fn due_document(due: &[Due], now: Timestamp, zone: &TimeZone) -> Document {
    let mut document = Document::new("Due");
    if due.is_empty() {
        document.push(paragraph("Nothing is due."));
        return document;
    }
    let mut table = Table::new([
        column("Code").key("code"),
        column("What").key("what"),
        column("Due").key("due"),
        column("Late").key("late"),
        column("Missed before").key("missed").right(),
    ]);
    for one in due {
        table.push([
            text(one.code.to_string()),
            text(one.what.replace('-', " ")),
            text(moment(one.at, zone)),
            lateness(now.duration_since(one.at)),
            text(if one.missed == 0 { String::new() } else { one.missed.to_string() }),
        ]);
    }
    document.push(table);
    document.push(paragraph(muted(
        "Missed before: earlier times of the same that went by without a reading and can't be made up for.",
    )));
    document
}

fn lateness(late: SignedDuration) -> Text {
    if late < SignedDuration::ZERO { text(format!("in {}", span(-late))) } else { strong(span(late)) }
}
