//! What an alert stops: the reason once, with the combinations that it stops.

use super::model::{Candidate, CandidatesView};
use crate::caution::{Alert, Severity};
use crate::compose::candidates::Place;
use crate::report::document::{Caution, Document, heading, strong};

/// How many combinations are named of each reason.
const NAMED: usize = 5;

pub(super) fn push(view: &CandidatesView, document: &mut Document) {
    let refused: Vec<&Candidate> =
        view.candidates.iter().filter(|own| own.standing.place() == Place::Refused).collect();
    if refused.is_empty() {
        return;
    }
    document.push(heading(1, "Not proposed"));
    let mut reasons: Vec<(&Alert, Vec<String>)> = Vec::new();
    for own in refused {
        for alert in own.alerts.iter().filter(|alert| alert.severity == Severity::Block) {
            let name = own.combination.shorthand();
            match reasons.iter_mut().find(|(known, _)| known.id == alert.id && known.title == alert.title) {
                Some((_, names)) => names.push(name),
                None => reasons.push((alert, vec![name])),
            }
        }
    }
    document.extend(reasons.iter().map(|(alert, names)| reason(alert, names)));
}

fn reason(alert: &Alert, names: &[String]) -> Caution {
    let named = names[..names.len().min(NAMED)].join(", ");
    let rest = match names.len().saturating_sub(NAMED) {
        0 => String::new(),
        rest => format!(" and {rest} more"),
    };
    Caution::block(alert.title.as_str())
        .detail(strong(format!("{named}{rest}")))
        .detail(format!("{}. {}", alert.reason.trim_end_matches('.'), alert.message))
        .detail(format!("Way past: {}.", alert.way_past.words()))
        .source(format!("{}; rule {}", alert.source, alert.id))
}
