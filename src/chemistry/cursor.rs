//! A place in the text of a formula, moved forward character by character.

use std::ops::Range;

use super::formula_error::{FormulaError, FormulaProblem};

/// The text up to its last character that is no space, and how far it has been read. Places count from
/// the start of the text as given, so that a fault can be shown in it.
pub(super) struct Cursor<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Cursor<'t> {
    /// At the first character that is no space.
    pub(super) fn new(given: &'t str) -> Self {
        let text = given.trim_end();
        Self { text, at: text.len() - text.trim_start().len() }
    }

    pub(super) fn at(&self) -> usize {
        self.at
    }

    /// What has not been read.
    pub(super) fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    /// What has been read since `start`.
    pub(super) fn since(&self, start: usize) -> &'t str {
        self.text.get(start..self.at).unwrap_or_default()
    }

    pub(super) fn is_at_end(&self) -> bool {
        self.rest().is_empty()
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    /// The character after the next.
    pub(super) fn peek_second(&self) -> Option<char> {
        self.rest().chars().nth(1)
    }

    pub(super) fn next(&mut self) -> Option<char> {
        let character = self.peek()?;
        self.at += character.len_utf8();
        Some(character)
    }

    pub(super) fn next_if(&mut self, wanted: impl Fn(char) -> bool) -> Option<char> {
        if self.peek().is_some_and(wanted) { self.next() } else { None }
    }

    /// Reads all characters that are wanted and gives them.
    pub(super) fn take_while(&mut self, wanted: impl Fn(char) -> bool) -> &'t str {
        let start = self.at;
        let rest = self.rest();
        self.at += rest.find(|c| !wanted(c)).unwrap_or(rest.len());
        self.since(start)
    }

    pub(super) fn skip_space(&mut self) {
        self.take_while(char::is_whitespace);
    }

    fn previous(&self) -> Option<char> {
        self.text.get(..self.at)?.chars().next_back()
    }

    pub(super) fn is_after_space(&self) -> bool {
        self.previous().is_some_and(char::is_whitespace)
    }

    /// True if the next character stands between two digits.
    pub(super) fn is_between_digits(&self) -> bool {
        let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
        digit(self.previous()) && digit(self.peek_second())
    }

    /// The place of the next character, or the end.
    pub(super) fn here(&self) -> Range<usize> {
        self.at..self.at + self.peek().map_or(0, char::len_utf8)
    }

    /// A fault from `start` to here.
    pub(super) fn fail_since(&self, start: usize, problem: FormulaProblem) -> FormulaError {
        FormulaError { problem, span: start..self.at, hint: None }
    }

    /// A fault at the next character.
    pub(super) fn fail_here(&self, problem: FormulaProblem) -> FormulaError {
        FormulaError { problem, span: self.here(), hint: None }
    }
}

impl FormulaError {
    /// The same with the way out.
    pub(super) fn with_hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
}
