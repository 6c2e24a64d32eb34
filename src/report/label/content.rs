//! What can be on a label.

use super::hazards::LabelHazards;

/// What is to be on a label. Everything but code, name and hazards may be missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LabelContent {
    /// The code: `E7`.
    pub code: String,
    /// What it is: a recipe's name, a component's with its form.
    pub name: String,
    /// What is in it, in one line.
    pub composition: Option<String>,
    /// What was done on a date, and the date: "made", "received", "built".
    pub dated: Option<(String, String)>,
    /// Until when it may be used.
    pub use_by: Option<String>,
    /// What is known of its hazards. Without anything that is said in words.
    pub hazards: LabelHazards,
    /// Whose initials it bears.
    pub who: Option<String>,
    /// How it is kept.
    pub storage: Option<String>,
    /// Anything else.
    pub note: Option<String>,
}

impl LabelContent {
    /// A label that says that hazards are not known.
    pub fn new(code: impl Into<String>, name: impl Into<String>) -> Self {
        Self { code: code.into(), name: name.into(), ..Self::default() }
    }

    /// The same with what is in it.
    pub fn composition(mut self, composition: impl Into<String>) -> Self {
        self.composition = Some(composition.into());
        self
    }

    /// The same with what was done on a date: `made("received", "2025-11-02")`.
    pub fn made(mut self, what: impl Into<String>, date: impl Into<String>) -> Self {
        self.dated = Some((what.into(), date.into()));
        self
    }

    /// The same with the last date on which it may be used.
    pub fn use_by(mut self, date: impl Into<String>) -> Self {
        self.use_by = Some(date.into());
        self
    }

    /// The same with what is known of its hazards.
    pub fn hazards(mut self, hazards: LabelHazards) -> Self {
        self.hazards = hazards;
        self
    }

    /// The same with initials.
    pub fn who(mut self, who: impl Into<String>) -> Self {
        self.who = Some(who.into());
        self
    }

    /// The same with how it is kept.
    pub fn storage(mut self, storage: impl Into<String>) -> Self {
        self.storage = Some(storage.into());
        self
    }

    /// The same with anything else.
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.note = Some(note.into());
        self
    }
}
