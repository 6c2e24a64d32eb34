//! Statements that another one covers.

use serde::Serialize;

use super::rules::RULES;
use crate::caution::statement::Statement;

/// A statement that is left out.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Omitted {
    /// Its code.
    pub code: String,
    /// The code that covers it.
    pub covered_by: String,
    /// The source of the rule.
    pub source: String,
}

/// The statements that stay, each once in their order, and those that another covers.
pub(in crate::caution) fn kept_statements(all: &[Statement]) -> (Vec<Statement>, Vec<Omitted>) {
    let codes: Vec<&str> = all.iter().map(|statement| statement.code.as_str()).collect();
    let mut omitted: Vec<Omitted> = Vec::new();
    let mut kept: Vec<Statement> = Vec::new();
    for statement in all {
        match covered(&statement.code, &codes) {
            Some(cover) if !omitted.iter().any(|known| known.code == cover.code) => omitted.push(cover),
            Some(_) => {}
            None if !kept.iter().any(|known| known.code == statement.code) => kept.push(statement.clone()),
            None => {}
        }
    }
    (kept, omitted)
}

/// The code that covers this one, if there is one.
pub(in crate::caution) fn covering_code(code: &str) -> Option<&'static str> {
    let rule = RULES.omission.iter().find(|rule| rule.omit.iter().any(|omit| omit == code));
    rule.map(|rule| rule.keep.as_str())
}

/// The rule by which a code is covered by another of those given.
pub(super) fn covered(code: &str, codes: &[&str]) -> Option<Omitted> {
    let rule = RULES
        .omission
        .iter()
        .find(|rule| codes.contains(&rule.keep.as_str()) && rule.omit.iter().any(|omit| omit == code))?;
    Some(Omitted { code: code.to_owned(), covered_by: rule.keep.clone(), source: rule.source.clone() })
}
