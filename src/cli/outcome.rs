//! What a command hands back, before anything is written.

use std::process::ExitCode;

use serde_json::Value;

use crate::input::{Faults, Warning};
use crate::report::Format;
use crate::report::document::Document;
use crate::report::html::PageSize;

/// An answer in all its forms.
pub(super) struct Outcome {
    /// The kind in the JSON envelope.
    pub(super) kind: &'static str,
    /// The answer for scripts.
    pub(super) answer: Value,
    /// The answer for people; its table for scripts is the CSV.
    pub(super) document: Document,
    /// What to know beside it. Views that show them have put them into the document.
    pub(super) warnings: Vec<Warning>,
    /// A text to be written as it is instead of the document, where no format is asked for.
    pub(super) verbatim: Option<String>,
    /// A page for print instead of the document, where HTML is asked for; `--out` alone asks for it.
    pub(super) page: Option<String>,
    /// The paper, should it be printed.
    pub(super) paper: PageSize,
    /// True if the answer is no.
    pub(super) no: bool,
}

/// Why there is no answer.
pub(super) enum Failure {
    /// The input is at fault.
    Input(Faults),
    /// A file can't be read or written.
    Storage(Faults),
}

impl Outcome {
    pub(super) fn new(kind: &'static str, answer: Value, document: Document) -> Self {
        let (warnings, paper) = (Vec::new(), PageSize::A4);
        Self { kind, answer, document, warnings, verbatim: None, page: None, paper, no: false }
    }

    /// The format, if none was asked for.
    pub(super) fn own_format(&self, to_file: bool) -> Format {
        if to_file && self.page.is_some() { Format::Html } else { Format::default() }
    }

    pub(super) fn exit(&self) -> ExitCode {
        ExitCode::from(u8::from(self.no))
    }
}

impl From<Faults> for Failure {
    fn from(faults: Faults) -> Self {
        Self::Input(faults)
    }
}

impl From<crate::input::Fault> for Failure {
    fn from(fault: crate::input::Fault) -> Self {
        Self::Input(fault.into())
    }
}

impl Failure {
    pub(super) fn faults(&self) -> &Faults {
        match self {
            Self::Input(faults) | Self::Storage(faults) => faults,
        }
    }

    pub(super) fn exit(&self) -> ExitCode {
        match self {
            Self::Input(_) => ExitCode::from(2),
            Self::Storage(_) => ExitCode::from(3),
        }
    }
}
