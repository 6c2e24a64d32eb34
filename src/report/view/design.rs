//! Cell designs.

use super::amount::short;
use super::cell::capital;
use crate::record::CellDesign;
use crate::report::document::{Document, Table, column, facts, heading};

/// One row for each design: its name for --design, what it is called, closure, how many readings.
pub fn design_list(designs: &[(String, CellDesign)]) -> Document {
    let mut table = Table::new([
        column("Design").key("design"),
        column("Name").key("name"),
        column("Closure").key("closure"),
        column("Readings").key("readings").right(),
    ]);
    for (name, design) in designs {
        let closure = if design.sealed { "sealed" } else { "vented" };
        table.push([name.as_str(), design.name.as_str(), closure, &design.schedule.len().to_string()]);
    }
    Document::new("Cell designs").with(table)
}

/// A design field by field, and when what is read.
pub fn design_document(design: &CellDesign) -> Document {
    let mut schedule = Table::new([column("Day").key("day").decimal(), column("What is read").key("what")])
        .caption("Days count from building");
    for due in &design.schedule {
        schedule.push([short(due.day, 4), due.what.replace('-', " ")]);
    }
    let fields = design.fields().into_iter().map(|(name, value)| (capital(&name), value));
    let mut document = Document::new(design.name.as_str()).with(facts(fields));
    if !design.schedule.is_empty() {
        document.push(heading(2, "Reading schedule"));
        document.push(schedule);
    }
    document
}
