//! A label for scripts.

use serde_json::{Value, json};

use crate::report::label::{
    LabelAlert, LabelContent, LabelError, LabelRule, LabelStatement, LabelStock, label_drawing,
};

/// What a label bears, and what of it has no room on this size.
///
/// # Errors
/// If the code can't be printed or is too long for its QR code.
pub fn label_answer(label: &LabelContent, stock: LabelStock) -> Result<Value, LabelError> {
    let hazards = &label.hazards;
    let statements = hazards.statements.iter().map(statement);
    let drawing = label_drawing(label, stock)?;
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
            "precautions": hazards.precautions.iter().map(statement).collect::<Vec<_>>(),
            "supplements": hazards.supplements,
            "contains": hazards.contains,
            "alerts": hazards.alerts.iter().map(alert).collect::<Vec<_>>(),
            "not_known": hazards.not_known,
            "of_components": hazards.of_components,
        },
        "who": label.who,
        "storage": label.storage,
        "note": label.note,
        "permit": label.permit,
        "rule": hazards.rule.as_ref().map(rule),
        "left_off": drawing.left_off,
        "fold_out": drawing.needs_fold_out,
        "too_small_for": drawing.too_small_for,
    }))
}

fn statement(known: &LabelStatement) -> Value {
    json!({ "code": known.code, "text": known.text, "may_be_on_fold_out": known.spared })
}

fn alert(alert: &LabelAlert) -> Value {
    json!({
        "severity": alert.severity,
        "way_past": alert.way_past,
        "title": alert.title,
        "message": alert.message,
    })
}

fn rule(rule: &LabelRule) -> Value {
    json!({
        "scheme": rule.scheme,
        "capacity_ml": rule.package.capacity_ml,
        "capacity_from": rule.package.from,
        "reduced": rule.reduced.as_ref().map(|(may_go, when)| json!({ "on_fold_out": may_go, "when": when })),
        "size": rule.size,
        "covered": rule.covered,
        "further_precautions": rule.further_precautions,
        "sources": rule.sources,
    })
}
