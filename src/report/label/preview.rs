//! Labels as a document, to be looked at before paper is spent.

use super::LabelError;
use super::content::LabelContent;
use super::draw::{LabelDrawing, label_drawing};
use super::hazards::{LabelHazards, LabelRule};
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
        document.extend(room(&label_drawing(label, stock)?, stock));
    }
    Ok(document)
}

/// What has no room, and where it is instead.
fn room(drawing: &LabelDrawing, stock: LabelStock) -> Vec<Block> {
    let mut said: Vec<Block> = Vec::new();
    if !drawing.too_small_for.is_empty() {
        said.push(paragraph(strong(too_small(&drawing.too_small_for, stock))));
    }
    said.extend(room_words(drawing, &stock.to_string(), "").into_iter().map(|words| paragraph(muted(words))));
    said
}

/// A sentence on what is on the fold-out, and one on what has no room at all. `of` names the labels.
pub(super) fn room_words(drawing: &LabelDrawing, stock: &str, of: &str) -> Vec<String> {
    let said = [
        (
            format!("On the fold-out, since there is no room for it on the {stock} label{of}"),
            &drawing.on_fold_out,
        ),
        (format!("No room on the {stock} label{of} for"), &drawing.in_the_book),
    ];
    let said = said.into_iter().filter(|(_, what)| !what.is_empty());
    said.map(|(begin, what)| format!("{begin}: {}.", what.join(", "))).collect()
}

/// What a label that is too small must be told.
pub(super) fn too_small(lacks: &[&str], stock: LabelStock) -> String {
    format!(
        "Does not fit a {stock} label: {}. Take a larger label (--on bottle), or stick on the fold-out as the label.",
        lacks.join(", ")
    )
}

fn told(label: &LabelContent) -> Block {
    let mut lines: Vec<(String, Text)> = vec![("What it is".to_owned(), text(&label.name))];
    let mut add = |name: &str, value: Option<Text>| lines.extend(value.map(|value| (name.to_owned(), value)));
    let plain = |value: &Option<String>| value.as_ref().map(text);
    add("Against its use", label.against.as_ref().map(|against| strong(against.in_full())));
    add("Hazards", Some(hazards(&label.hazards)));
    add("What is blocked", blocked(label));
    add("Precautions", precautions(&label.hazards));
    add("Supplements", list(&label.hazards.supplements, " "));
    add("Contains", list(&label.hazards.contains, ", "));
    add("Composition", plain(&label.composition));
    let dated = label.dated.clone().unwrap_or_default();
    add(&dated.0, Some(text(dated.1)).filter(|_| label.dated.is_some()));
    add("use by", plain(&label.use_by).or_else(|| Some(muted("not stated"))));
    add("Who", plain(&label.who));
    add("Storage", plain(&label.storage));
    add("Note", plain(&label.note));
    add("Rule", label.hazards.rule.as_ref().map(|rule| text(rule_words(rule))));
    facts(lines)
}

fn list(texts: &[String], between: &str) -> Option<Text> {
    (!texts.is_empty()).then(|| text(texts.join(between)))
}

fn blocked(label: &LabelContent) -> Option<Text> {
    let titles = label.hazards.blocks().map(|alert| format!("{}: {}", alert.title, alert.message));
    let said: Vec<String> = titles.chain(label.permit.clone()).collect();
    (!said.is_empty()).then(|| strong(said.join(" ")))
}

fn precautions(hazards: &LabelHazards) -> Option<Text> {
    let said = hazards.precautions.iter().map(|said| format!("{} {}", said.code, said.text));
    list(&said.collect::<Vec<_>>(), " ")
}

/// By whose rules, for which package, and what these rules leave off.
fn rule_words(rule: &LabelRule) -> String {
    let mut said = vec![format!("{}; package of {}.", rule.scheme_title, rule.package.from)];
    if let Some((may_go, condition)) = &rule.reduced {
        let may_go = may_go.join(", ");
        said.push(format!("So small a package may leave to a fold-out: {may_go} ({condition})."));
    }
    if !rule.covered.is_empty() {
        said.push(format!("Left out because another covers it: {}.", rule.covered.join(", ")));
    }
    match rule.further_precautions {
        0 => {}
        count => {
            said.push(format!("{count} further precautionary statements are not asked for: see cautions."))
        }
    }
    let asks_sizes = rule.scheme == "clp";
    if let Some(size) = rule.size.as_ref().filter(|_| asks_sizes) {
        let [wide, high] = size.label_mm;
        let possible = if size.if_possible { ", if possible" } else { "" };
        let side = size.pictogram_mm;
        said.push(format!("Least size: label {wide} mm by {high} mm{possible}; pictogram {side} mm."));
    }
    said.push("Pictograms are named in words: where the rule asks for the symbol, stick it on.".to_owned());
    said.join(" ")
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
