//! Tables as CSV (RFC 4180): plain cells, one header line, CRLF.

use csv::{Error, Terminator, WriterBuilder};

use super::document::{Column, Document, Table, Text};

/// The table for scripts of a document, which is the first unless it has another; `None` if it has none.
///
/// # Errors
/// The writer's own, which writing to memory does not cause.
pub fn first_table(document: &Document) -> Result<Option<String>, Error> {
    document.data().map(render).transpose()
}

/// One table. A write-in cell is empty unless something is printed in it; the row of sums is left out.
///
/// # Errors
/// The writer's own, which writing to memory does not cause.
pub fn render(table: &Table) -> Result<String, Error> {
    let mut bytes = Vec::new();
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(&mut bytes);
    if !table.columns().is_empty() {
        writer.write_record(table.columns().iter().map(key))?;
    }
    for row in table.rows() {
        writer.write_record(row.iter().map(Text::to_string))?;
    }
    writer.flush()?;
    drop(writer);
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn key(column: &Column) -> String {
    column.key.clone().unwrap_or_else(|| column.full_header().to_string())
}
