//! What `correct` and `strike` share: what was computed again, and the answer.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::book::Doubt;
use crate::cli::outcome::Outcome;
use crate::input::Warning;
use crate::record::{Code, Hash};
use crate::report::document::Caution;
use crate::report::view::{ChangeView, Doubtful, change_document};

/// A change and all that came of it.
pub(super) struct Change {
    pub(super) entry: u64,
    pub(super) title: String,
    pub(super) kind: &'static str,
    pub(super) reason: String,
    pub(super) fields: Vec<(String, String, String)>,
    pub(super) before: BTreeMap<String, f64>,
    pub(super) after: BTreeMap<String, f64>,
    pub(super) doubts: Vec<Doubt>,
    pub(super) head: (u64, Hash),
}

/// Less than this is the dust of a sum, in grams.
const DUST_G: f64 = 1e-9;

impl Change {
    pub(super) fn outcome(self) -> Outcome {
        let amounts = self.amounts();
        let doubtful = self.doubts.iter().map(|doubt| Doubtful {
            entry: doubt.entry,
            kind: &doubt.kind,
            codes: &doubt.codes,
            against: doubt.against.as_deref(),
        });
        let doubtful: Vec<Doubtful<'_>> = doubtful.collect();
        let view = ChangeView {
            title: self.title.clone(),
            reason: &self.reason,
            fields: &self.fields,
            amounts: &amounts,
            doubtful: &doubtful,
            head: self.head,
        };
        let warnings: Vec<Warning> = amounts.iter().filter_map(less_than_nothing).collect();
        let mut document = change_document(&view);
        document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
        let mut outcome = Outcome::new(self.kind, self.answer(&amounts), document);
        outcome.warnings = warnings;
        outcome
    }

    /// Codes of which another amount is left now.
    fn amounts(&self) -> Vec<(String, Option<f64>, Option<f64>)> {
        let mut codes: Vec<&String> = self.before.keys().chain(self.after.keys()).collect();
        codes.sort_by_key(|code| code.parse::<Code>().ok());
        codes.dedup();
        let both = codes
            .into_iter()
            .map(|code| (code.clone(), self.before.get(code).copied(), self.after.get(code).copied()));
        both.filter(|(_, before, after)| match (before, after) {
            (Some(before), Some(after)) => DUST_G < (before - after).abs(),
            _ => true,
        })
        .collect()
    }

    fn answer(&self, amounts: &[(String, Option<f64>, Option<f64>)]) -> Value {
        let fields: Vec<Value> = self
            .fields
            .iter()
            .map(|(field, before, after)| json!({ "field": field, "before": before, "after": after }))
            .collect();
        let amounts: Vec<Value> = amounts
            .iter()
            .map(|(code, before, after)| json!({ "code": code, "left_before_g": before, "left_g": after }))
            .collect();
        let doubtful: Vec<Value> = self
            .doubts
            .iter()
            .map(|doubt| {
                let codes: Vec<String> = doubt.codes.iter().map(ToString::to_string).collect();
                json!({ "entry": doubt.entry, "kind": doubt.kind, "codes": codes, "against": doubt.against })
            })
            .collect();
        json!({
            "changed": self.entry,
            "reason": self.reason,
            "fields": fields,
            "computed_again": amounts,
            "doubtful": doubtful,
            "entry": self.head.0,
            "head": self.head.1.to_string(),
        })
    }
}

fn less_than_nothing((code, _, after): &(String, Option<f64>, Option<f64>)) -> Option<Warning> {
    let after = after.filter(|after| *after < -DUST_G)?;
    let message =
        format!("by the records {code} now has {after:.4} g left, which can't be: weigh what is left");
    Some(Warning::new("less_than_nothing", message))
}
