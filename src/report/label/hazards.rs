//! Hazards on a label: what is known, and in words what is not.

use crate::caution::{Mixture, Review, Statement, pictogram, shown_pictograms};

/// What is known of hazards. The default knows nothing, and a label then says so.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LabelHazards {
    /// The graver of the signal words.
    pub signal_word: Option<SignalWord>,
    /// Codes of pictograms, `GHS01` to `GHS09`.
    pub pictograms: Vec<String>,
    /// Hazard statements, the gravest first.
    pub statements: Vec<LabelStatement>,
    /// Names of what no hazard statement is known for. That proves nothing about it.
    pub not_known: Vec<String>,
    /// The statements are those of the components and not of the mixture as a whole.
    pub of_components: bool,
}

/// The two signal words of the GHS (Rev. 11, 1.4.10.5.2).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SignalWord {
    /// The lesser.
    Warning,
    /// The graver.
    Danger,
}

/// A hazard statement.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelStatement {
    /// Its code: `H302`.
    pub code: String,
    /// Its text.
    pub text: String,
}

impl SignalWord {
    /// As it is printed.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Warning => "WARNING",
            Self::Danger => "DANGER",
        }
    }
}

impl LabelHazards {
    /// From a review of everything that is in the bottle, batch or cell: the mixture where it was classified.
    pub fn of(review: &Review) -> Self {
        let classified = as_a_mixture(review);
        let presumed = review.mixture.as_ref().and_then(|mixture| mixture.presumed.as_ref());
        let mut all: Vec<Statement> = match classified {
            Some(mixture) => mixture.statements.clone(),
            None => review.components.iter().flat_map(|component| component.statements.clone()).collect(),
        };
        all.extend(presumed.map(|presumed| Statement {
            code: format!("{} presumed", presumed.statement.code),
            ..presumed.statement.clone()
        }));
        let mut graded: Vec<&Statement> = all.iter().collect();
        graded.sort_by(|a, b| (grade(b), &a.code).cmp(&(grade(a), &b.code)));
        graded.dedup_by(|a, b| a.code == b.code);
        let statement = |statement: &&Statement| LabelStatement {
            code: statement.code.clone(),
            text: statement.text.clone(),
        };
        let unknown = review.components.iter().filter(|component| component.missing.is_some());
        Self {
            signal_word: all.iter().filter_map(grade).max(),
            pictograms: classified
                .map_or_else(|| shown_pictograms(&all), |mixture| mixture.pictograms.clone()),
            statements: graded.iter().map(statement).collect(),
            not_known: unknown
                .map(|component| component.name.clone())
                .chain(review.materials.iter().map(|material| material.name.clone()))
                .collect(),
            of_components: classified.is_none() && 1 < review.components.len() + review.materials.len(),
        }
    }

    /// True if not one statement is known.
    pub fn are_not_known(&self) -> bool {
        self.statements.is_empty() && self.signal_word.is_none() && self.pictograms.is_empty()
    }

    /// What the pictograms show, in words; a code that is none stays as it is.
    pub(super) fn pictogram_names(&self) -> Vec<String> {
        let name = |code: &String| pictogram(code).map_or(code.clone(), |known| known.symbol.to_lowercase());
        self.pictograms.iter().map(name).collect()
    }
}

/// The mixture, if its classes say all that a label must: where one is presumed of a pH that is not measured, or
/// none is reached by what is known, the statements of the components say more.
fn as_a_mixture(review: &Review) -> Option<&Mixture> {
    let mixture = review.mixture.as_ref();
    mixture.filter(|mixture| mixture.presumed.is_none() && !mixture.statements.is_empty())
}

fn grade(statement: &Statement) -> Option<SignalWord> {
    match statement.signal_word.as_deref() {
        Some("Danger") => Some(SignalWord::Danger),
        Some("Warning") => Some(SignalWord::Warning),
        _ => None,
    }
}
