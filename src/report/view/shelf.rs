//! All bottles of the book: what to keep apart first, then storage classes and waste streams.

use crate::caution::{Apart, OnShelf, Severity, ShelfReview, WasteStream};
use crate::report::document::{
    Block, Caution, Document, Table, Text, bullets, column, facts, heading, paragraph, strong, text,
};

/// The shelf, what must not stand together first.
pub fn shelf_document(review: &ShelfReview) -> Document {
    let mut document = Document::new("Cautions: the shelf").with(facts([
        ("Statements by", review.scheme_title),
        ("Bottles", &*review.bottles.len().to_string()),
    ]));
    document.push(heading(1, "Keep apart"));
    if review.apart.is_empty() {
        document.push(paragraph(
            "No rule of this program keeps two of these bottles apart. That proves nothing.",
        ));
    }
    document.extend(review.apart.iter().map(apart));
    document.push(Block::from(bullets(review.deferral.iter().map(|sentence| strong(sentence.as_str())))));
    if !review.bottles.is_empty() {
        document.push(heading(1, "What stands there"));
        document.push(bottles(&review.bottles));
        document.push(paragraph(
            "Storage classes are those of TRGS 510 (Germany), from memory, as an example of a published scheme: the \
             local rule decides. Where no hazard data was found no class is given.",
        ));
    }
    if !review.waste.is_empty() {
        document.push(heading(1, "Waste streams"));
        document.push(waste_table(&review.waste));
    }
    document
}

fn apart(apart: &Apart) -> Block {
    let severity = match apart.severity {
        Severity::Block => crate::report::document::Severity::Block,
        Severity::Warn => crate::report::document::Severity::Warn,
        Severity::Note => crate::report::document::Severity::Note,
    };
    Caution::new(severity, apart.title.as_str())
        .detail(strong(apart.these.join(", ")).then(" apart from ").then(strong(apart.from.join(", "))))
        .detail(apart.reason.as_str())
        .source(format!("{}; rule {}", apart.source, apart.id))
        .into()
}

fn bottles(bottles: &[OnShelf]) -> Table {
    let table = Table::new([
        column("Bottle"),
        column("Content"),
        column("Storage class"),
        column("Signal word"),
        column("Statements"),
    ]);
    bottles.iter().fold(table, |table, bottle| {
        let class = bottle.storage_class.as_ref();
        let statements: Text = match (&bottle.missing, bottle.h_codes.is_empty()) {
            (Some(_), _) | (None, true) => strong("no statement known, which proves nothing"),
            (None, false) => text(bottle.h_codes.join(" ")),
        };
        table.row([
            text(&bottle.bottle),
            text(&bottle.name),
            text(class.map_or("not known".to_owned(), |class| format!("{}: {}", class.class, class.words))),
            text(bottle.signal_word.clone().unwrap_or_default()),
            statements,
        ])
    })
}

/// Streams with what goes into each.
pub(super) fn waste_table(streams: &[WasteStream]) -> Table {
    let table = Table::new([column("Stream"), column("How"), column("What goes there")]);
    streams.iter().fold(table, |table, stream| {
        table.row([strong(&stream.title), text(&stream.how), text(stream.takes.join(", "))])
    })
}
