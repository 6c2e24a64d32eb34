//! A class that the mixture reaches, or comes to nothing by what is known, with its sum.

use serde::Serialize;

use super::class::Class;
use super::sum::Sum;

/// A class of the mixture with what made it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// The class: "Acute Tox. 4 (oral)".
    pub class: String,
    /// Its H code.
    pub code: String,
    /// The rule that was applied, in words.
    pub rule: String,
    /// The sum against the limit.
    pub sum: Sum,
    /// What the class depends on, in words.
    pub condition: Option<String>,
    /// Chapter of the standard.
    pub chapter: String,
    /// The source of the limit.
    pub source: String,
    /// The class as the rules compare it.
    #[serde(skip)]
    pub(super) of: Option<Class>,
}

/// What one family of rules has found.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Findings {
    /// Classes that are reached.
    pub(super) reached: Vec<Finding>,
    /// The nearest limit of a class that is not reached by what is known.
    pub(super) not_reached: Vec<Finding>,
}

impl Finding {
    /// A class of the rules with its sum.
    pub(super) fn new(class: Class, rule: &str, sum: Sum, chapter: &str, source: &str) -> Self {
        Self {
            class: class.to_string(),
            code: class.code().to_owned(),
            rule: rule.to_owned(),
            sum,
            condition: None,
            chapter: chapter.to_owned(),
            source: source.to_owned(),
            of: Some(class),
        }
    }
}

impl Findings {
    /// Of several ways to classes of one kind, the gravest first: the first that is reached counts. If none is, the
    /// last of those that have anything to add up is kept as not reached.
    pub(super) fn first_of(ways: impl IntoIterator<Item = Finding>) -> Self {
        let mut findings = Self::default();
        for way in ways {
            if way.sum.is_reached() {
                return Self { reached: vec![way], not_reached: Vec::new() };
            }
            if !way.sum.parts.is_empty() {
                findings.not_reached = vec![way];
            }
        }
        findings
    }

    /// Both together.
    pub(super) fn and(mut self, other: Self) -> Self {
        self.reached.extend(other.reached);
        self.not_reached.extend(other.not_reached);
        self
    }
}
