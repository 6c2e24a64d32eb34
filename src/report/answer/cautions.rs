//! Cautions in JSON.

use serde_json::{Value, json};

use crate::caution::{Alert, Mixture, Review, ShelfReview};

/// The whole review. `mixture` is null without a composition, and for one substance alone.
pub fn cautions_answer(review: &Review) -> Value {
    json!({
        "scheme": review.scheme,
        "scheme_title": review.scheme_title,
        "components": review.components,
        "materials": review.materials,
        "mixture": review.mixture.as_ref().map(whole_mixture),
        "alerts": review.alerts,
        "waste": review.waste,
        "practice": review.practice,
        "deferral": review.deferral,
    })
}

/// The whole shelf.
pub fn shelf_answer(review: &ShelfReview) -> Value {
    json!({
        "scheme": review.scheme,
        "scheme_title": review.scheme_title,
        "apart": review.apart,
        "bottles": review.bottles,
        "waste": review.waste,
        "deferral": review.deferral,
    })
}

/// What of it stands beside a plan.
pub fn cautions_beside(review: &Review) -> Value {
    let components = review.components.iter();
    let components =
        components.map(|c| json!({ "component": c.component, "h_codes": c.h_codes, "basis": c.basis }));
    let alert = |alert: &Alert| {
        json!({
            "id": alert.id,
            "severity": alert.severity,
            "message": alert.message,
            "way_past": alert.way_past,
            "source": alert.source,
        })
    };
    json!({
        "scheme": review.scheme,
        "components": components.collect::<Vec<_>>(),
        "mixture": review.mixture.as_ref().map(mixture_beside),
        "alerts": review.alerts.iter().map(alert).collect::<Vec<_>>(),
        "deferral": review.deferral,
    })
}

/// The mixture with its precautionary statements.
fn whole_mixture(mixture: &Mixture) -> Value {
    let mut value = json!(mixture);
    value["precautions"] = json!(mixture.precautions());
    value
}

fn mixture_beside(mixture: &Mixture) -> Value {
    json!({
        "classes": mixture.classes,
        "h_codes": mixture.h_codes,
        "euh_codes": mixture.euh_codes,
        "pictograms": mixture.pictograms,
        "signal_word": mixture.signal_word,
        "ate_oral_mg_per_kg": mixture.ate_oral_mg_per_kg,
        "unknown_pct": mixture.unknown_pct,
        "presumed": mixture.presumed,
        "unknown_statements": mixture.unknown_statements,
    })
}
