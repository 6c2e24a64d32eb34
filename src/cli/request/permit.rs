//! `--procedure` and `--responsible`: what lets the work go on in spite of an alert that blocks.

use clap::Args;

use crate::caution::{Alert, Review};
use crate::input::{Fault, Faults, Place};
use crate::record::batch::Permit;

#[derive(Debug, Args)]
pub(in crate::cli) struct PermitArgs {
    /// The written procedure by which work that an alert blocks is done
    #[arg(long, value_name = "NAME", requires = "responsible")]
    procedure: Option<String>,
    /// The person responsible for that work
    #[arg(long, value_name = "PERSON", requires = "procedure")]
    responsible: Option<String>,
}

impl PermitArgs {
    /// What lets the work go on in spite of alerts that block; a fault for each alert that nothing lets past.
    pub(in crate::cli) fn permit(&self, review: &Review) -> Result<Option<Permit>, Faults> {
        let mut faults = Faults::none();
        for alert in review.without_way_past() {
            let fault = Fault::new("never_done", told(alert), Place::named(alert.id.as_str()));
            faults
                .push(fault.with_hint("There is no way past this: plan another route or other components."));
        }
        let blocked: Vec<&Alert> = review.needing_procedure().collect();
        let text =
            |text: &Option<String>| text.as_ref().map(|t| t.trim().to_owned()).filter(|t| !t.is_empty());
        let named = text(&self.procedure).zip(text(&self.responsible));
        if named.is_none() {
            for alert in &blocked {
                let fault = Fault::new("needs_procedure", told(alert), Place::named(alert.id.as_str()));
                faults.push(fault.with_hint(
                    "Name the written procedure and the person responsible: --procedure \"…\" --responsible \"…\".",
                ));
            }
        }
        let alerts = |blocked: Vec<&Alert>| {
            let mut ids: Vec<String> = blocked.into_iter().map(|alert| alert.id.clone()).collect();
            ids.dedup();
            ids
        };
        let permit = named.filter(|_| !blocked.is_empty());
        let permit = permit.map(|(procedure, person)| Permit { procedure, person, alerts: alerts(blocked) });
        faults.or(permit)
    }
}

/// An alert as a fault: lower case, no full stop, one line.
fn told(alert: &Alert) -> String {
    format!("{}: {}", alert.title, alert.because.join(", "))
}
