//! Labelled boxes to be filled in by hand.

use super::Text;

/// Rows of boxes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Boxes {
    pub(in crate::report) rows: Vec<Vec<WriteIn>>,
}

/// One box.
#[derive(Debug, Clone, PartialEq)]
pub struct WriteIn {
    pub(in crate::report) label: Text,
    pub(in crate::report) unit: Text,
    pub(in crate::report) value: Text,
    pub(in crate::report) width: u8,
    pub(in crate::report) lines: u8,
}

/// A row of boxes.
pub fn write_ins(row: impl IntoIterator<Item = WriteIn>) -> Boxes {
    Boxes::default().row(row)
}

impl Boxes {
    /// The same with one more row.
    pub fn row(mut self, row: impl IntoIterator<Item = WriteIn>) -> Self {
        self.rows.push(row.into_iter().collect());
        self
    }
}

impl WriteIn {
    /// An empty box for one line of handwriting.
    pub fn new(label: impl Into<Text>) -> Self {
        Self { label: label.into(), unit: Text::default(), value: Text::default(), width: 1, lines: 1 }
    }

    /// The same with a unit printed at its end.
    pub fn unit(mut self, unit: impl Into<Text>) -> Self {
        self.unit = unit.into();
        self
    }

    /// The same with its width relative to the others of its row, from 1.
    pub fn width(mut self, width: u8) -> Self {
        self.width = width.max(1);
        self
    }

    /// The same with room for so many lines, from 1.
    pub fn lines(mut self, lines: u8) -> Self {
        self.lines = lines.max(1);
        self
    }

    /// The same with something printed in it already.
    pub fn value(mut self, value: impl Into<Text>) -> Self {
        self.value = value.into();
        self
    }
}
