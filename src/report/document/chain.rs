//! The lines of a calculation, so that a person can follow it with a pocket calculator.

use super::Text;

/// A calculation, line by line.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    pub(in crate::report) title: Text,
    pub(in crate::report) steps: Vec<Step>,
}

/// One line: what is computed, how, and what comes out.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    pub(in crate::report) label: Text,
    pub(in crate::report) formula: Text,
    pub(in crate::report) value: Text,
}

impl Chain {
    /// A calculation without lines; the title may be empty.
    pub fn new(title: impl Into<Text>) -> Self {
        Self { title: title.into(), steps: Vec::new() }
    }

    /// The same with one more line. An empty formula is for a value that was given, not computed.
    pub fn step(mut self, label: impl Into<Text>, formula: impl Into<Text>, value: impl Into<Text>) -> Self {
        self.steps.push(Step { label: label.into(), formula: formula.into(), value: value.into() });
        self
    }
}
