//! Classes of a combination as a mixture, and alerts for its components.

use crate::caution::{Alert, Context, Mixture, Scheme, Severity, Subject, review};
use crate::component::{Component, HazardBasis};
use crate::compose::candidates::{AlertLevel, Combination, Graded, SignalLevel};
use crate::report::view::CandidateHazards;

/// What the rules say of a combination that nobody heats or closes in.
pub(super) fn hazards(combination: &Combination, scheme: Scheme) -> (CandidateHazards, Vec<Alert>) {
    let components: Vec<_> = combination.parts.iter().map(|(component, _)| component.clone()).collect();
    let composition = combination.composition();
    let subject = Subject { components: &components, materials: &[], composition: composition.as_ref() };
    let review = review(&subject, &Context { scheme, in_short: true, ..Context::default() });
    let unknown = components.iter().filter(|own| is_unknown(own)).map(|own| own.name.clone());
    let mut missing: Vec<String> = unknown.collect();
    let mixture = review.mixture;
    if mixture.is_none() {
        let without = components.iter().filter(|own| own.molar_mass().is_none());
        missing.extend(without.map(|own| format!("the molar mass of {}", own.name)));
    }
    let worst = mixture.as_ref().map(signal);
    let hazards = CandidateHazards {
        signal: Graded { worst, complete: mixture.is_some() && missing.is_empty() },
        classes: mixture.as_ref().map(|own| own.classes.clone()).unwrap_or_default(),
        h_codes: mixture.as_ref().map(|own| own.h_codes.clone()).unwrap_or_default(),
        presumed: mixture.and_then(|own| own.presumed).map(|own| own.classes.join(", ")),
        missing,
    };
    (hazards, review.alerts)
}

/// No source of its hazards was seen; water has none to be seen.
fn is_unknown(component: &Component) -> bool {
    component.hazard.basis == HazardBasis::NoneFound && !component.is_water()
}

/// The graver word of what is worked out and what is presumed until a pH is measured.
fn signal(mixture: &Mixture) -> SignalLevel {
    let presumed = mixture.presumed.as_ref().and_then(|own| own.statement.signal_word.as_deref());
    let words = mixture.signal_word.as_deref().into_iter().chain(presumed);
    words.map(level).max().unwrap_or(SignalLevel::None)
}

fn level(word: &str) -> SignalLevel {
    match word.to_lowercase().as_str() {
        "danger" => SignalLevel::Danger,
        "warning" => SignalLevel::Warning,
        _ => SignalLevel::None,
    }
}

/// The gravest of them.
pub(super) fn alert_level(alerts: &[Alert]) -> AlertLevel {
    let level = |alert: &Alert| match alert.severity {
        Severity::Note => AlertLevel::Note,
        Severity::Warn => AlertLevel::Warn,
        Severity::Block => AlertLevel::Block,
    };
    alerts.iter().map(level).max().unwrap_or(AlertLevel::None)
}
