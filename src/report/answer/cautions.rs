//! Cautions in JSON.

use serde_json::{Value, json};

use crate::caution::{Alert, Review};

/// The whole review. `mixture` is null: the mixture as a whole is not classified.
pub fn cautions_answer(review: &Review) -> Value {
    json!({
        "scheme": review.scheme,
        "scheme_title": review.scheme_title,
        "components": review.components,
        "materials": review.materials,
        "mixture": review.mixture,
        "alerts": review.alerts,
        "practice": review.practice,
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
        "alerts": review.alerts.iter().map(alert).collect::<Vec<_>>(),
        "deferral": review.deferral,
    })
}
