//! Points one below the other, and names with their values.

use super::{Block, Text};

/// Points one below the other.
#[derive(Debug, Clone, PartialEq)]
pub struct List {
    pub(in crate::report) kind: ListKind,
    pub(in crate::report) items: Vec<Text>,
}

/// How the points of a list are marked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ListKind {
    /// In no order.
    Bullets,
    /// One after the other.
    Numbered,
    /// Each with a square to tick when it is done.
    Checklist,
}

/// A name with its value.
#[derive(Debug, Clone, PartialEq)]
pub struct Fact {
    pub(in crate::report) label: Text,
    pub(in crate::report) value: Text,
}

/// Points in no order.
pub fn bullets<T: Into<Text>>(items: impl IntoIterator<Item = T>) -> List {
    list(ListKind::Bullets, items)
}

/// Points in their order.
pub fn numbered<T: Into<Text>>(items: impl IntoIterator<Item = T>) -> List {
    list(ListKind::Numbered, items)
}

/// Points with a square to tick.
pub fn checklist<T: Into<Text>>(items: impl IntoIterator<Item = T>) -> List {
    list(ListKind::Checklist, items)
}

/// Names with their values.
pub fn facts<L: Into<Text>, V: Into<Text>>(pairs: impl IntoIterator<Item = (L, V)>) -> Block {
    let fact = |(label, value): (L, V)| Fact { label: label.into(), value: value.into() };
    Block::Facts(pairs.into_iter().map(fact).collect())
}

fn list<T: Into<Text>>(kind: ListKind, items: impl IntoIterator<Item = T>) -> List {
    List { kind, items: items.into_iter().map(Into::into).collect() }
}

impl List {
    /// What stands before each point in a text without formatting, by its number from 1.
    pub(in crate::report) fn mark(&self, number: usize) -> String {
        match self.kind {
            ListKind::Bullets => "- ".to_owned(),
            ListKind::Numbered => format!("{number}. "),
            ListKind::Checklist => "[ ] ".to_owned(),
        }
    }
}
