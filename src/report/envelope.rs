//! The JSON around every answer and every fault, which scripts rely on.
//!
//! Numbers keep full double precision; what is undefined (not a number, infinite) is null.

use serde::Serialize;

use crate::input::{Fault, Faults, Warning};

const VERSION: &str = env!("CARGO_PKG_VERSION");

/// An answer with its kind and warnings.
#[derive(Debug, Clone, Serialize)]
pub struct Answer<'a, T> {
    meltbook: &'static str,
    kind: &'a str,
    answer: &'a T,
    warnings: &'a [Warning],
}

/// Everything that was wrong with an input.
#[derive(Debug, Clone, Serialize)]
pub struct Refusal<'a> {
    meltbook: &'static str,
    kind: &'static str,
    faults: Vec<FaultLine<'a>>,
}

#[derive(Debug, Clone, Serialize)]
struct FaultLine<'a> {
    code: &'static str,
    message: &'a str,
    #[serde(rename = "where")]
    place: String,
    hint: Option<&'a str>,
}

impl<'a, T: Serialize> Answer<'a, T> {
    /// An answer of a kind, such as `plan`.
    pub fn new(kind: &'a str, answer: &'a T, warnings: &'a [Warning]) -> Self {
        Self { meltbook: VERSION, kind, answer, warnings }
    }
}

impl<'a> Refusal<'a> {
    /// The faults of one input.
    pub fn new(faults: &'a Faults) -> Self {
        Self { meltbook: VERSION, kind: "fault", faults: faults.iter().map(FaultLine::of).collect() }
    }
}

impl<'a> FaultLine<'a> {
    fn of(fault: &'a Fault) -> Self {
        Self {
            code: fault.code,
            message: &fault.message,
            place: fault.place.to_string(),
            hint: fault.hint.as_deref(),
        }
    }
}

/// An answer as indented JSON with a line end.
///
/// # Errors
/// If the answer can't be JSON, such as a map whose keys are no texts.
pub fn answer<T: Serialize>(kind: &str, answer: &T, warnings: &[Warning]) -> serde_json::Result<String> {
    pretty(&Answer::new(kind, answer, warnings))
}

/// Faults as indented JSON with a line end.
///
/// # Errors
/// None that is known: all its parts are texts.
pub fn faults(faults: &Faults) -> serde_json::Result<String> {
    pretty(&Refusal::new(faults))
}

fn pretty(envelope: &impl Serialize) -> serde_json::Result<String> {
    serde_json::to_string_pretty(envelope).map(|json| json + "\n")
}
