//! The history of a book, and what a change to it did.

use jiff::tz::TimeZone;

use super::amount::short;
use super::event_words::event_words;
use super::history_run::{at_once, run_words};
use super::moment::{moment, span};
use crate::record::{ChangeOf, Code, Hash, HistoryLine};
use crate::report::document::{
    Block, Document, Table, Text, column, facts, heading, muted, paragraph, strong, text,
};

/// The entries, and the head of the book. Many of a kind that were written at once share a row unless `each` is
/// asked for; for scripts each has its own.
pub fn history_document(lines: &[&HistoryLine], head: &(u64, Hash), each: bool, zone: &TimeZone) -> Document {
    let singly: Vec<&[&HistoryLine]> = lines.chunks(1).collect();
    let shown = if each { singly.clone() } else { at_once(lines) };
    let folded = shown.len() < lines.len();
    let mut document = Document::new("History")
        .with_data(table(&singly, zone))
        .with(table(&shown, zone))
        .with(head_fact(head))
        .with(paragraph(muted(format!(
            "Late: written more than {} h after it happened. Compare the head with an earlier print: a book whose end was cut off does not have it.",
            crate::record::LATE_AFTER.as_hours()
        ))));
    if folded {
        document.push(paragraph(muted("Entries that were written at once share a line; --each shows all.")));
    }
    document
}

fn table(rows: &[&[&HistoryLine]], zone: &TimeZone) -> Table {
    let mut table = Table::new([
        column("Entry").key("entry").right(),
        column("Written").key("written"),
        column("By").key("by"),
        column("What").key("what"),
        column("Codes").key("codes"),
        column("Hash").key("hash"),
    ]);
    for row in rows {
        let [first, .., last] = row else {
            row.iter().for_each(|line| table.push(single(line, zone)));
            continue;
        };
        table.push([
            text(format!("{}–{}", first.sequence, last.sequence)),
            text(written(first, zone)),
            text(&first.author),
            text(run_words(row, &codes_of(row))),
            text(format!("{} cells", cells_in(row))),
            text(last.hash.short()),
        ]);
    }
    table
}

fn single(line: &HistoryLine, zone: &TimeZone) -> [Text; 6] {
    [
        text(line.sequence.to_string()),
        text(written(line, zone)),
        text(&line.author),
        what(line, zone),
        text(codes_of(&[line])),
        text(line.hash.short()),
    ]
}

/// The head of a book as it is printed.
pub fn head_fact(head: &(u64, Hash)) -> Block {
    facts([("Head", format!("entry {}, {}", head.0, head.1))])
}

fn written(line: &HistoryLine, zone: &TimeZone) -> String {
    line.written().map_or_else(|| line.time.clone(), |time| moment(time, zone))
}

/// How many cells some lines are about.
fn cells_in(lines: &[&HistoryLine]) -> usize {
    let is_cell = |code: &&Code| matches!(code.kind(), crate::record::CodeKind::Cell);
    lines.iter().flat_map(|line| &line.codes).filter(is_cell).collect::<std::collections::BTreeSet<_>>().len()
}

/// The codes of one or more lines, those of cells as runs and last.
fn codes_of(lines: &[&HistoryLine]) -> String {
    let mut all: Vec<&Code> = Vec::new();
    for code in lines.iter().flat_map(|line| &line.codes) {
        if !all.contains(&code) {
            all.push(code);
        }
    }
    let (cells, others): (Vec<&Code>, Vec<&Code>) =
        all.into_iter().partition(|code| matches!(code.kind(), crate::record::CodeKind::Cell));
    let cells: Vec<Code> = cells.into_iter().cloned().collect();
    let mut parts: Vec<String> = others.into_iter().map(ToString::to_string).collect();
    if !cells.is_empty() {
        parts.push(super::ranges::code_range(&cells));
    }
    parts.join(", ")
}

/// The words, then what is odd about it: late, corrected, struck.
fn what(line: &HistoryLine, zone: &TimeZone) -> Text {
    let mut words = text(event_words(&line.event));
    if let (Some(late), Some(happened)) = (line.late_by(), line.event.happened()) {
        words = words
            .then(text("; "))
            .then(strong(format!("late by {}", span(late))))
            .then(text(format!(", happened {}", moment(happened, zone))));
    }
    line.changes.iter().fold(words, |words, change| words.then(text("; ")).then(change_words(change)))
}

fn change_words(change: &ChangeOf) -> Text {
    strong(format!("{} by entry {} ({})", change.what, change.sequence, change.reason))
}

/// What a correction or a strike did.
pub struct ChangeView<'a> {
    /// What was done, as a title.
    pub title: String,
    /// Why.
    pub reason: &'a str,
    /// Field, before, after.
    pub fields: &'a [(String, String, String)],
    /// Code, grams before and after.
    pub amounts: &'a [(String, Option<f64>, Option<f64>)],
    /// Later entries to look at again.
    pub doubtful: &'a [Doubtful<'a>],
    /// The head afterwards.
    pub head: (u64, Hash),
}

/// A later entry to look at again.
pub struct Doubtful<'a> {
    /// Its sequence.
    pub entry: u64,
    /// Its kind.
    pub kind: &'a str,
    /// The codes that it shares with the changed entry.
    pub codes: &'a [Code],
    /// What is against it now.
    pub against: Option<&'a str>,
}

/// Before and after, what was computed again, and what is doubtful now.
pub fn change_document(view: &ChangeView<'_>) -> Document {
    let mut document = Document::new(view.title.as_str()).with(facts([("Because", view.reason)]));
    if !view.fields.is_empty() {
        let mut table = Table::new([
            column("Field").key("field"),
            column("Before").key("before"),
            column("After").key("after"),
        ]);
        view.fields.iter().for_each(|(field, before, after)| table.push([field, before, after]));
        document.push(table);
    }
    if !view.amounts.is_empty() {
        let grams = |amount: &Option<f64>| amount.map_or_else(|| "none".to_owned(), |grams| short(grams, 7));
        let mut table = Table::new([
            column("Code").key("code"),
            column("Left before").unit("g").key("before_g").decimal(),
            column("Left now").unit("g").key("after_g").decimal(),
        ])
        .caption("Computed again");
        for (code, before, after) in view.amounts {
            table.push([code.clone(), grams(before), grams(after)]);
        }
        document.push(table);
    }
    if !view.doubtful.is_empty() {
        document.push(heading(2, "Look at these later entries again"));
        document.push(doubtful_table(view.doubtful));
    }
    document.push(head_fact(&view.head));
    document
}

/// What is against an entry now has a column where there is such an entry.
fn doubtful_table(doubtful: &[Doubtful<'_>]) -> Table {
    let mut columns =
        vec![column("Entry").key("entry").right(), column("Kind").key("kind"), column("About").key("codes")];
    if doubtful.iter().any(|doubt| doubt.against.is_some()) {
        columns.push(column("Against it now").key("against"));
    }
    let width = columns.len();
    let mut table = Table::new(columns);
    for doubt in doubtful {
        let codes = doubt.codes.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
        let against = doubt.against.unwrap_or_default().to_owned();
        let row = [doubt.entry.to_string(), doubt.kind.to_owned(), codes, against];
        table.push(row.into_iter().take(width));
    }
    table
}

/// What `verify` looked at and found.
pub fn verify_document(
    entries: u64,
    files: u64,
    head: &(u64, Hash),
    findings: &[(String, String)],
) -> Document {
    let title = if findings.is_empty() { "Nothing is wrong" } else { "Not as it was written" };
    let mut document = Document::new(title)
        .with(facts([("Entries read", entries.to_string()), ("Files read", files.to_string())]));
    if !findings.is_empty() {
        let mut table = Table::new([column("Where").key("where"), column("What").key("what")]);
        findings.iter().for_each(|(place, what)| table.push([place, what]));
        document.push(table);
    }
    document.push(head_fact(head));
    document
}
