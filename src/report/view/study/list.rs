//! The studies of a book.

use jiff::tz::TimeZone;

use crate::record::study::Study;
use crate::report::document::{Document, Table, column, paragraph};
use crate::report::view::moment::day;

/// One row for each study.
pub fn study_list(studies: &[Study], zone: &TimeZone) -> Document {
    let document = Document::new("Studies");
    if studies.is_empty() {
        return document.with(paragraph("None yet. Write one down with: meltbook study plan."));
    }
    let mut table = Table::new([
        column("Study").key("study"),
        column("Written").key("written"),
        column("Question").key("question"),
        column("Metric").key("metric"),
        column("Electrolytes").key("electrolytes"),
        column("Cells").key("cells").right(),
        column("Planned end").key("ends"),
        column("Looks before").key("looks").right(),
    ]);
    for study in studies {
        let planned = &study.planned;
        let names: Vec<&str> = planned.electrolytes.iter().map(|studied| studied.name.as_str()).collect();
        let all = planned.per_electrolyte as usize * names.len();
        table.push([
            planned.code.to_string(),
            day(study.written, zone),
            planned.question.clone(),
            planned.metric.clone(),
            names.join(", "),
            format!("{} of {all}", study.cells.len()),
            planned.ends.to_string(),
            study.looks.len().to_string(),
        ]);
    }
    document.with(table)
}
