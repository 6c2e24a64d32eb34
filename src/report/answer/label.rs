//! A label for scripts.

use serde_json::{Value, json};

use crate::report::label::{LabelContent, LabelError, LabelStock, label_drawing};

/// What a label bears, and what of it has no room on this size.
///
/// # Errors
/// If the code can't be printed or is too long for its QR code.
pub fn label_answer(label: &LabelContent, stock: LabelStock) -> Result<Value, LabelError> {
    let hazards = &label.hazards;
    let statements = hazards.statements.iter().map(|known| json!({ "code": known.code, "text": known.text }));
    Ok(json!({
        "code": label.code,
        "on": stock.name(),
        "name": label.name,
        "against": label.against.as_ref().map(|against| against.in_full()),
        "composition": label.composition,
        "dated": label.dated.as_ref().map(|(what, on)| json!({ "what": what, "on": on })),
        "use_by": label.use_by,
        "hazards": {
            "signal_word": hazards.signal_word.map(|word| word.word()),
            "pictograms": hazards.pictograms,
            "statements": statements.collect::<Vec<_>>(),
            "not_known": hazards.not_known,
            "of_components": hazards.of_components,
        },
        "who": label.who,
        "storage": label.storage,
        "note": label.note,
        "left_off": label_drawing(label, stock)?.left_off,
    }))
}
