//! A fault says where, what was given, the rule and the way out. It is a value: how it looks on a
//! screen or in JSON is decided elsewhere.

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

use crate::quantity::{MassFraction, Quantity as _, QuantityError, QuantityProblem};

/// One thing that is wrong with what a person gave.
#[derive(Debug, Clone, PartialEq)]
pub struct Fault {
    /// A stable name for scripts, in snake_case.
    pub code: &'static str,
    /// What is wrong: lower case, no full stop.
    pub message: String,
    /// Where it stands.
    pub place: Place,
    /// The way out, as a sentence.
    pub hint: Option<String>,
}

/// Where a fault stands: a flag, an argument, or a file, with the text and the part of it if known.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Place {
    /// The flag, argument or path, as the person would name it.
    pub origin: String,
    /// The text in question.
    pub excerpt: Option<Excerpt>,
}

/// A text and the part of it that is meant.
#[derive(Debug, Clone, PartialEq)]
pub struct Excerpt {
    /// The whole text.
    pub text: Arc<str>,
    /// Byte range of the part, inside the text and on character boundaries.
    pub span: Range<usize>,
}

/// One or more faults of one input, in the order in which they stand there.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Faults(Vec<Fault>);

impl Fault {
    /// A fault without a hint.
    pub fn new(code: &'static str, message: impl Into<String>, place: Place) -> Self {
        Self { code, message: message.into(), place, hint: None }
    }

    /// The same with the way out.
    pub fn with_hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The fault that a quantity's text has at this place.
    pub fn of_quantity(error: &QuantityError, place: Place) -> Self {
        Self::new("bad_quantity", error.to_string(), place).with_hint(format!(
            "Write it like {:?}.{}",
            error.example,
            over_a_whole(error)
        ))
    }
}

impl Place {
    /// A place with no text to show.
    pub fn named(origin: impl Into<String>) -> Self {
        Self { origin: origin.into(), excerpt: None }
    }

    /// A part of a text. A span that does not fit the text is widened to the whole text.
    pub fn in_text(origin: impl Into<String>, text: impl Into<Arc<str>>, span: Range<usize>) -> Self {
        let text = text.into();
        let span = if text.get(span.clone()).is_some() { span } else { 0..text.len() };
        Self { origin: origin.into(), excerpt: Some(Excerpt { text, span }) }
    }
}

impl Excerpt {
    /// Line and column of the start, both from 1, the column counted in characters.
    pub fn line_and_column(&self) -> (usize, usize) {
        let before = &self.text[..self.span.start];
        let line_start = before.rfind('\n').map_or(0, |at| at + 1);
        (before.matches('\n').count() + 1, before[line_start..].chars().count() + 1)
    }
}

/// `recipes/x.toml:7:12` for a file of several lines, `--mass "50"` for a flag.
impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.excerpt {
            Some(excerpt) if excerpt.text.contains('\n') => {
                let (line, column) = excerpt.line_and_column();
                write!(f, "{}:{line}:{column}", self.origin)
            }
            Some(excerpt) => write!(f, "{} {:?}", self.origin, excerpt.text),
            None => f.write_str(&self.origin),
        }
    }
}

impl Faults {
    /// No fault.
    pub fn none() -> Self {
        Self::default()
    }

    /// Adds one.
    pub fn push(&mut self, fault: Fault) {
        self.0.push(fault);
    }

    /// Adds those of another.
    pub fn extend(&mut self, other: Faults) {
        self.0.extend(other.0);
    }

    /// Keeps the value, or collects the faults and gives `None`.
    pub fn collect<T>(&mut self, result: Result<T, impl Into<Faults>>) -> Option<T> {
        result.map_err(|faults| self.extend(faults.into())).ok()
    }

    /// Keeps those that fit.
    pub fn keep(&mut self, fits: impl FnMut(&Fault) -> bool) {
        self.0.retain(fits);
    }

    /// Puts faults of one text into the order in which they stand there.
    pub fn sort_by_place(&mut self) {
        self.0.sort_by_key(|fault| fault.place.excerpt.as_ref().map(|excerpt| excerpt.span.start));
    }

    /// True if there is none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The value if there is no fault.
    pub fn or<T>(self, value: T) -> Result<T, Faults> {
        if self.is_empty() { Ok(value) } else { Err(self) }
    }

    /// Each fault in order.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.0.iter()
    }
}

impl From<Fault> for Faults {
    fn from(fault: Fault) -> Self {
        Self(vec![fault])
    }
}

impl<'f> IntoIterator for &'f Faults {
    type Item = &'f Fault;
    type IntoIter = std::slice::Iter<'f, Fault>;
    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

/// Why a mass fraction may lie above 100 % at all.
fn over_a_whole(error: &QuantityError) -> &'static str {
    match error.problem {
        QuantityProblem::OutOfRange { high, .. } if error.noun == MassFraction::NOUN && 100.0 < high => {
            " A part of a whole is at most 100 %; only an assay that counts as a hydrate may come to more."
        }
        _ => "",
    }
}
