//! Rows of a fixture by the names of its columns.

use std::collections::HashMap;

/// One row.
pub struct Row(HashMap<String, String>);

impl Row {
    /// The cell of a column, as it stands.
    pub fn text(&self, key: &str) -> &str {
        &self.0[key]
    }

    /// The number in a column; `inf` is one.
    pub fn number(&self, key: &str) -> f64 {
        self.0[key].parse().unwrap_or_else(|_| panic!("{key}: {:?}", self.0[key]))
    }

    /// The whole number in a column.
    pub fn count(&self, key: &str) -> usize {
        self.0[key].parse().unwrap_or_else(|_| panic!("{key}: {:?}", self.0[key]))
    }
}

/// All rows of a file, which must be so many.
pub fn rows(csv: &str, count: usize) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<Row> = reader.deserialize().map(|row| Row(row.unwrap())).collect();
    assert_eq!(rows.len(), count);
    rows
}
