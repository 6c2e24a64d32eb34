//! What differs between two sets of codes.

use super::ranges::code_ranges;
use super::words::total;
use crate::record::graph::{Difference, DifferenceRow, Presence};
use crate::report::document::{Block, Document, Table, column, facts, heading, paragraph};

/// Two sets, by their codes, and what tells them apart upstream.
pub fn difference_document(first: &[&str], second: &[&str], difference: &Difference) -> Document {
    let named = |codes: &[&str]| code_ranges(codes.iter().copied()).join(", ");
    let mut document = Document::new("What differs upstream")
        .with(facts([("First set", named(first)), ("Second set", named(second))]));
    let sections = [
        (Presence::AllOfFirstOnly, "In all of the first set, in none of the second"),
        (Presence::AllOfSecondOnly, "In all of the second set, in none of the first"),
        (Presence::Some, "In only some"),
        (Presence::All, "In all of both, which tells nothing"),
    ];
    for (presence, title) in sections {
        document.extend(section(difference, presence, title));
    }
    document.push(paragraph(
        "What differs may be a cause or stand beside one: sets chosen after looking at their readings prove nothing.",
    ));
    document
}

fn section(difference: &Difference, presence: Presence, title: &str) -> Vec<Block> {
    let rows: Vec<&DifferenceRow> = difference.rows.iter().filter(|row| row.presence == presence).collect();
    if rows.is_empty() {
        return vec![heading(1, title), paragraph("Nothing.")];
    }
    let mut table = Table::new([
        column("Code").key("code"),
        column("Kind").key("kind"),
        column("What it is").key("label"),
        column("In the first").key("in_first").right(),
        column("In the second").key("in_second").right(),
        column("Straight into the first").key("direct_first_g"),
        column("Straight into the second").key("direct_second_g"),
    ]);
    for row in rows {
        table.push([
            row.node.code.clone(),
            row.node.kind.words().to_owned(),
            row.node.label.clone(),
            format!("{} of {}", row.first.codes, difference.first),
            format!("{} of {}", row.second.codes, difference.second),
            total(row.first.direct),
            total(row.second.direct),
        ]);
    }
    vec![heading(1, title), table.into()]
}
