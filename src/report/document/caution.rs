//! Something to heed, in order of weight.

use super::Text;

/// A note that stands out from the text around it.
#[derive(Debug, Clone, PartialEq)]
pub struct Caution {
    pub(in crate::report) severity: Severity,
    pub(in crate::report) title: Text,
    pub(in crate::report) details: Vec<Text>,
    pub(in crate::report) source: Text,
}

/// How heavy a caution is. Every format shows it as a word and by the weight of a border, so that it can
/// be read in black and white.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// To know.
    Note,
    /// To heed before going on.
    Warn,
    /// Stops the work.
    Block,
}

impl Severity {
    /// The word that every format shows.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "NOTE",
            Self::Warn => "WARN",
            Self::Block => "BLOCK",
        }
    }
}

impl Caution {
    /// A caution of a weight, by its title.
    pub fn new(severity: Severity, title: impl Into<Text>) -> Self {
        Self { severity, title: title.into(), details: Vec::new(), source: Text::default() }
    }

    /// Something to know.
    pub fn note(title: impl Into<Text>) -> Self {
        Self::new(Severity::Note, title)
    }

    /// Something to heed before going on.
    pub fn warn(title: impl Into<Text>) -> Self {
        Self::new(Severity::Warn, title)
    }

    /// Something that stops the work.
    pub fn block(title: impl Into<Text>) -> Self {
        Self::new(Severity::Block, title)
    }

    /// The same with one more line below its title.
    pub fn detail(mut self, detail: impl Into<Text>) -> Self {
        self.details.push(detail.into());
        self
    }

    /// Takes out the lines that say this and nothing else.
    pub fn leave_out(&mut self, detail: &str) {
        self.details.retain(|line| line.to_string() != detail);
    }

    /// The same with where it comes from.
    pub fn source(mut self, source: impl Into<Text>) -> Self {
        self.source = source.into();
        self
    }
}
