//! `--procedure` and `--responsible`: what lets the work go on in spite of an alert that blocks.

use clap::Args;

use crate::caution::Review;
use crate::input::{Fault, Place};
use crate::record::batch::Permit;

#[derive(Debug, Args)]
#[command(next_help_heading = "Where an alert blocks")]
pub(in crate::cli) struct PermitArgs {
    /// The written procedure, by the name under which it can be found
    #[arg(long, value_name = "NAME")]
    procedure: Option<String>,
    /// The person responsible
    #[arg(long, value_name = "NAME")]
    responsible: Option<String>,
}

impl PermitArgs {
    /// The permit for what blocks, if anything does. What is never done has none.
    pub(in crate::cli) fn permit(&self, review: &Review) -> Result<Option<Permit>, Fault> {
        if let Some(alert) = review.without_way_past().next() {
            let message = format!("{}: {}", alert.title, alert.reason);
            let fault = Fault::new("never_done", lower(&message), Place::named("the cautions"));
            return Err(fault.with_hint(alert.message.clone()));
        }
        let alerts: Vec<_> = review.needing_procedure().collect();
        if alerts.is_empty() {
            return Ok(None);
        }
        let given = |text: &Option<String>| {
            text.as_deref().map(str::trim).filter(|text| !text.is_empty()).map(str::to_owned)
        };
        match (given(&self.procedure), given(&self.responsible)) {
            (Some(procedure), Some(person)) => {
                let alerts = alerts.iter().map(|alert| alert.id.clone()).collect();
                Ok(Some(Permit { procedure, person, alerts }))
            }
            _ => {
                let titles = alerts.iter().map(|alert| alert.title.as_str()).collect::<Vec<_>>().join("; ");
                let message = format!("an alert blocks this: {titles}");
                let fault = Fault::new("needs_procedure", message, Place::named("the cautions"));
                Err(fault.with_hint(
                    "Name the written procedure and the person responsible with --procedure and --responsible; both are recorded and printed.",
                ))
            }
        }
    }
}

/// A message begins in lower case and has no full stop.
fn lower(message: &str) -> String {
    let mut characters = message.trim_end_matches('.').chars();
    characters.next().map(|first| first.to_lowercase().chain(characters).collect()).unwrap_or_default()
}
