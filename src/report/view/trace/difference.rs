//! What differs between two sets of codes.

use super::words::total;
use crate::record::graph::{Contrast, Difference, DifferenceRow, Doses, FeatureRow, Presence, Share};
use crate::report::document::{
    Block, Document, Table, Text, column, facts, heading, muted, paragraph, strong, text,
};
use crate::report::view::amount::short;
use crate::report::view::ranges::code_ranges;

/// More rows than these of one section are no longer looked through on a screen.
const MOST_ROWS: usize = 40;

/// Two sets, by their codes, and what tells them apart: what they were made of, and what they have.
pub fn difference_document(
    first: &[&str],
    second: &[&str],
    difference: &Difference,
    contrast: &Contrast,
) -> Document {
    let named = |codes: &[&str]| code_ranges(codes.iter().copied()).join(", ");
    let mut document = Document::new("What differs")
        .with(facts([("First set", named(first)), ("Second set", named(second))]));
    let sections = [
        (Presence::AllOfFirstOnly, "In all of the first set, in none of the second"),
        (Presence::AllOfSecondOnly, "In all of the second set, in none of the first"),
        (Presence::Some, "In only some"),
        (Presence::All, "In all of both, which tells nothing"),
    ];
    for (presence, title) in sections {
        document.push(heading(1, title));
        document.extend(section(difference, contrast, presence));
    }
    if !contrast.doses.is_empty() {
        document.push(heading(1, "Doses"));
        document.push(doses(contrast));
    }
    document.push(paragraph(
        "What differs may be a cause or stand beside one: sets chosen after looking at their readings prove nothing.",
    ));
    document
}

/// All of it in one table, for CSV.
pub fn difference_table(difference: &Difference, contrast: &Contrast) -> Table {
    let mut table = Table::new([
        column("What").key("what"),
        column("Which").key("which"),
        column("What it is").key("label"),
        column("Presence").key("presence"),
        column("In the first").key("in_first"),
        column("Of the first").key("of_first"),
        column("In the second").key("in_second"),
        column("Of the second").key("of_second"),
        column("Into the first").key("into_first_g"),
        column("Into the second").key("into_second_g"),
    ]);
    let (of_first, of_second) = (difference.first.to_string(), difference.second.to_string());
    let direct = |share: &Share| {
        if share.direct.weighed == 0 { String::new() } else { share.direct.grams.to_string() }
    };
    for row in &difference.rows {
        table.push([
            row.node.kind.words().to_owned(),
            row.node.code.clone(),
            row.node.label.clone(),
            row.presence.key().to_owned(),
            row.first.codes.to_string(),
            of_first.clone(),
            row.second.codes.to_string(),
            of_second.clone(),
            direct(&row.first),
            direct(&row.second),
        ]);
    }
    for row in &contrast.features {
        table.push([
            row.feature.what.words().to_owned(),
            row.feature.value.clone(),
            String::new(),
            row.presence.key().to_owned(),
            row.first.to_string(),
            of_first.clone(),
            row.second.to_string(),
            of_second.clone(),
            String::new(),
            String::new(),
        ]);
    }
    table
}

fn section(difference: &Difference, contrast: &Contrast, presence: Presence) -> Vec<Block> {
    let features = contrast.features.iter().filter(|row| row.presence == presence);
    let made_of = difference.rows.iter().filter(|row| row.presence == presence);
    let rows: Vec<[Text; 6]> = features
        .map(|row| feature_row(row, difference))
        .chain(made_of.map(|row| made_of_row(row, difference)))
        .collect();
    if rows.is_empty() {
        return vec![paragraph("Nothing.")];
    }
    let mut table = Table::new([
        column("What").key("what"),
        column("Which").key("which"),
        column("In the first").key("in_first").right(),
        column("In the second").key("in_second").right(),
        column("Into the first").key("into_first_g"),
        column("Into the second").key("into_second_g"),
    ]);
    let more = rows.len().saturating_sub(MOST_ROWS);
    rows.into_iter().take(MOST_ROWS).for_each(|row| table.push(row));
    let mut blocks: Vec<Block> = vec![table.into()];
    if 0 < more {
        blocks.push(paragraph(muted(format!("{more} more: --format csv and json have all of them."))));
    }
    blocks
}

fn feature_row(row: &FeatureRow, difference: &Difference) -> [Text; 6] {
    [
        text(row.feature.what.words()),
        strong(&row.feature.value),
        text(format!("{} of {}", row.first, difference.first)),
        text(format!("{} of {}", row.second, difference.second)),
        Text::default(),
        Text::default(),
    ]
}

fn made_of_row(row: &DifferenceRow, difference: &Difference) -> [Text; 6] {
    [
        text(row.node.kind.words()),
        strong(&row.node.code).then(format!(" {}", row.node.label)),
        text(format!("{} of {}", row.first.codes, difference.first)),
        text(format!("{} of {}", row.second.codes, difference.second)),
        text(total(row.first.direct)),
        text(total(row.second.direct)),
    ]
}

fn doses(contrast: &Contrast) -> Table {
    let mut table = Table::new([
        column("In each cell").key("what"),
        column("In the first").key("first"),
        column("In the second").key("second"),
    ]);
    for row in &contrast.doses {
        table.push([row.kind.words().to_owned(), dose(row.first), dose(row.second)]);
    }
    table
}

/// "1.18–1.21 g, mean 1.2 g, 6 cells".
fn dose(doses: Option<Doses>) -> String {
    let Some(doses) = doses else { return "none".to_owned() };
    let (least, most) = (short(doses.least, 5), short(doses.most, 5));
    let cells = if doses.cells == 1 { "1 cell".to_owned() } else { format!("{} cells", doses.cells) };
    match least == most {
        true => format!("{most}\u{a0}g, {cells}"),
        false => format!("{least}–{most}\u{a0}g, mean {}\u{a0}g, {cells}", short(doses.mean, 5)),
    }
}
