//! The names of the formats.

use std::fmt;
use std::str::FromStr;

use crate::input::{Fault, Place, did_you_mean};

/// The form in which an answer is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Format {
    /// For a screen: `table`.
    #[default]
    Terminal,
    /// For scripts: `json`.
    Json,
    /// For spreadsheets: `csv`.
    Csv,
    /// For notes: `markdown`.
    Markdown,
    /// For a browser and for print: `html`.
    Html,
}

/// A name that is no format's.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("unknown format {given:?}")]
pub struct UnknownFormat {
    /// The name given.
    pub given: String,
}

impl Format {
    /// All formats, in the order in which help lists them.
    pub const ALL: [Self; 5] = [Self::Terminal, Self::Json, Self::Csv, Self::Markdown, Self::Html];

    /// Its name on the command line.
    pub fn name(self) -> &'static str {
        match self {
            Self::Terminal => "table",
            Self::Json => "json",
            Self::Csv => "csv",
            Self::Markdown => "markdown",
            Self::Html => "html",
        }
    }
}

impl UnknownFormat {
    /// The nearest name, or all of them, as a sentence.
    pub fn hint(&self) -> String {
        let names = Format::ALL.map(Format::name);
        did_you_mean(&self.given, names, &format!("The formats are {}.", names.join(", ")))
    }

    /// The fault at a place.
    pub fn fault(&self, place: Place) -> Fault {
        Fault::new("unknown_format", self.to_string(), place).with_hint(self.hint())
    }
}

impl fmt::Display for Format {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl FromStr for Format {
    type Err = UnknownFormat;

    fn from_str(text: &str) -> Result<Self, UnknownFormat> {
        let named = |format: &Self| format.name() == text;
        Self::ALL.into_iter().find(named).ok_or_else(|| UnknownFormat { given: text.to_owned() })
    }
}
