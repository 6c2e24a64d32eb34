//! What can be on a label.

use super::hazards::LabelHazards;
use crate::record::batch::Permit;

/// What is to be on a label. Everything but code, name and hazards may be missing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LabelContent {
    /// The code: `E7`.
    pub code: String,
    /// What it is: a recipe's name, a component's with its form.
    pub name: String,
    /// What is against using it. The words for it are never left off.
    pub against: Option<Against>,
    /// What is in it, in one line.
    pub composition: Option<String>,
    /// The same in fewer words, for a label that has no room for all of it.
    pub composition_in_short: Option<String>,
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
    /// The written procedure by which it was made in spite of an alert that blocks, and the person responsible.
    pub permit: Option<String>,
    /// The laboratory.
    pub laboratory: Option<String>,
}

/// What is against using a thing, with the reason where there is one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Against {
    /// What it is.
    pub what: AgainstUse,
    /// Why, or since when.
    pub why: Option<String>,
}

/// What can be against using a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AgainstUse {
    /// A batch that was rejected.
    Rejected,
    /// A bottle that was given to the waste.
    DisposedOf,
    /// A cell that has ended.
    Retired,
    /// Its use-by date is over.
    PastItsDate,
    /// A batch that is still being weighed: what is in it may change.
    NotFinished,
}

impl AgainstUse {
    /// All of them.
    pub const ALL: [Self; 5] =
        [Self::Rejected, Self::DisposedOf, Self::Retired, Self::PastItsDate, Self::NotFinished];

    /// As it is printed.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Rejected => "REJECTED",
            Self::DisposedOf => "DISPOSED OF",
            Self::Retired => "RETIRED",
            Self::PastItsDate => "PAST ITS DATE",
            Self::NotFinished => "NOT FINISHED",
        }
    }
}

impl Against {
    /// The words with the reason.
    pub fn in_full(&self) -> String {
        let words = self.what.words();
        self.why.as_ref().map_or_else(|| words.to_owned(), |why| format!("{words}: {why}"))
    }
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

    /// The same with what is in it in fewer words.
    pub fn composition_in_short(mut self, composition: impl Into<String>) -> Self {
        self.composition_in_short = Some(composition.into());
        self
    }

    /// The same with what is against using it.
    pub fn against(mut self, what: AgainstUse, why: Option<String>) -> Self {
        self.against = Some(Against { what, why });
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

    /// The same with the procedures, and the persons responsible, that let it go on in spite of alerts.
    pub fn permits<'p>(mut self, permits: impl IntoIterator<Item = &'p Permit>) -> Self {
        let mut said: Vec<String> = Vec::new();
        for permit in permits {
            let words = format!("{}, {}", permit.procedure, permit.person);
            if !said.contains(&words) {
                said.push(words);
            }
        }
        self.permit = (!said.is_empty()).then(|| format!("only by {}", said.join("; by ")));
        self
    }

    /// The same with the laboratory.
    pub fn laboratory(mut self, laboratory: Option<String>) -> Self {
        self.laboratory = laboratory;
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
