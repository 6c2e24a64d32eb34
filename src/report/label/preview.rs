//! Labels as a document, to be looked at before paper is spent.

use super::LabelError;
use super::content::LabelContent;
use super::draw::label_drawing;
use super::hazards::LabelHazards;
use super::stock::LabelStock;
use crate::report::document::{Block, Document, Text, big, facts, heading, muted, paragraph, strong, text};

/// Everything that labels are to say, and what of it has no room on such a label.
///
/// # Errors
/// If one code can't be printed or is too long for its QR code.
pub fn label_document(labels: &[LabelContent], stock: LabelStock) -> Result<Document, LabelError> {
    let (wide, high) = stock.size_mm();
    let mut document = Document::new(format!("Labels for {stock}s, {wide} mm by {high} mm"));
    for label in labels {
        document.push(heading(1, big(&label.code)));
        document.push(told(label));
        let left_off = label_drawing(label, stock)?.left_off;
        if !left_off.is_empty() {
            let words = format!("No room on a {stock} label for: {}.", left_off.join(", "));
            document.push(paragraph(muted(words)));
        }
    }
    Ok(document)
}

fn told(label: &LabelContent) -> Block {
    let mut lines: Vec<(String, Text)> = vec![("What it is".to_owned(), text(&label.name))];
    let mut add = |name: &str, value: Option<Text>| lines.extend(value.map(|value| (name.to_owned(), value)));
    let plain = |value: &Option<String>| value.as_ref().map(text);
    add("Against its use", label.against.as_ref().map(|against| strong(against.in_full())));
    add("Hazards", Some(hazards(&label.hazards)));
    add("Composition", plain(&label.composition));
    let dated = label.dated.clone().unwrap_or_default();
    add(&dated.0, Some(text(dated.1)).filter(|_| label.dated.is_some()));
    add("use by", plain(&label.use_by).or_else(|| Some(muted("not stated"))));
    add("Who", plain(&label.who));
    add("Storage", plain(&label.storage));
    add("Note", plain(&label.note));
    facts(lines)
}

fn hazards(hazards: &LabelHazards) -> Text {
    if hazards.are_not_known() {
        return strong("HAZARDS NOT KNOWN").then(": read the supplier's safety data sheet");
    }
    let word = hazards.signal_word.map_or("HAZARDS", |signal| signal.word());
    let mut parts = hazards.pictogram_names();
    parts.extend(hazards.statements.iter().map(|statement| format!("{} {}", statement.code, statement.text)));
    let whose = if hazards.of_components { " (of the components)" } else { "" };
    let mut words = strong(word).then(whose).then(": ").then(parts.join("; "));
    if !hazards.not_known.is_empty() {
        let names = hazards.not_known.join(", ");
        words = words.then(format!("; no statement known for {names}, which proves nothing"));
    }
    words.then("; read the supplier's safety data sheet")
}
