//! The sample book that was just made: what is in it, what is invented, and what to look at first.

use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::history::head_fact;
use super::moment::day;
use crate::record::Hash;
use crate::report::document::{Document, Table, code, column, facts, heading, paragraph, text};

/// What the sample book holds.
pub struct SampleBook {
    /// Its folder, as typed.
    pub folder: String,
    /// The seed of its readings.
    pub seed: u64,
    /// When its story ends.
    pub ends: Timestamp,
    /// Bottles.
    pub bottles: usize,
    /// Batches.
    pub batches: usize,
    /// Cells.
    pub cells: usize,
    /// Readings.
    pub readings: usize,
    /// The last entry.
    pub head: (u64, Hash),
}

/// Commands to begin with, and what each shows.
const FIRST: [(&str, &str); 5] = [
    ("meltbook batch list --all", "what was made, released and rejected"),
    ("meltbook batch show E8", "a wet lot and a dry one poured together"),
    ("meltbook reading list C1-C6 --what open-circuit", "six weeks of one batch's cells"),
    ("meltbook cell list --all", "all cells, the failed ones with their cause"),
    ("meltbook history --odd", "what was corrected, struck or entered late"),
];

/// What is in it, what is invented, and what to look at first.
pub fn sample_book(book: &SampleBook, zone: &TimeZone) -> Document {
    let holds = format!(
        "{} bottles, {} batches, {} cells, {} readings",
        book.bottles, book.batches, book.cells, book.readings
    );
    let ends = day(book.ends, zone);
    let mut first = Table::new([column("Command").key("command"), column("Shows").key("shows")]);
    FIRST.iter().for_each(|(command, shows)| first.push([code(*command), text(*shows)]));
    Document::new("A sample book")
        .with(facts([
            ("Folder", book.folder.clone()),
            ("Holds", holds),
            ("Ends", format!("{ends}; what comes due later counts as late from then on")),
            ("Seed", book.seed.to_string()),
        ]))
        .with(head_fact(&book.head))
        .with(paragraph(
            text("Everything in it is invented: laboratory, people, suppliers, every mass, property and reading. Take no number from it. The model behind the readings is explained in ")
                .then(code("tables/truth.toml"))
                .then("."),
        ))
        .with(heading(2, "To look at first"))
        .with(paragraph(text("In the folder (").then(code(format!("cd {}", book.folder))).then("):")))
        .with(first)
}
