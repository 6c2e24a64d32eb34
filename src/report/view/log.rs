//! Logs: one that was taken in, and those of a cell in a table.

use jiff::tz::TimeZone;

use super::amount::short;
use super::moment::moment;
use crate::input::Warning;
use crate::record::log::{Log, LogCell, LogColumn, LogImported, LogLayout, LogTime, LoggedCell, Span};
use crate::record::{Code, Hash};
use crate::report::document::{Caution, Document, Table, Text, bullets, column, facts, paragraph};

/// Rows left out that a screen names.
const LINES: usize = 10;

/// A log that was taken in.
pub fn log_document(
    log: &LogImported,
    warnings: &[Warning],
    head: &(u64, Hash),
    mapping: Option<&str>,
    zone: &TimeZone,
) -> Document {
    let mut table = Table::new(columns());
    for logged in &log.cells {
        table.push(row(logged.cell.to_string(), logged, zone));
    }
    let mut document = Document::new(format!("Taken in: {}", log.name)).with(table);
    let mut lines: Vec<(&str, Text)> = vec![("Rows", log.rows.to_string().into())];
    if 0 < log.skipped {
        lines.push(("Left out", left_out(log).into()));
    }
    lines.push(("File", format!("{} bytes, kept as it came: files/{}", log.bytes, log.file).into()));
    lines.extend(mapping.map(|path| ("Mapping", Text::from(format!("saved in {path}")))));
    lines.push(("Entry", format!("{}, head {}", head.0, head.1.short()).into()));
    document.push(facts(lines));
    document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    document.push(paragraph("How it was read"));
    document.push(bullets(layout_words(&log.layout, zone)));
    document
}

/// The logs of one cell.
pub fn log_table(logs: &[(u64, &LogImported, &LoggedCell)], zone: &TimeZone) -> Table {
    let mut table = Table::new(
        [column("Entry").key("entry").right(), column("File").key("name")]
            .into_iter()
            .chain(columns().into_iter().skip(1)),
    );
    for (entry, log, logged) in logs {
        let cells = row(log.name.clone(), logged, zone);
        table.push(std::iter::once(entry.to_string()).chain(cells));
    }
    table
}

/// Logs, a row for each cell in each.
pub fn log_list(logs: &[Log], shown: impl Fn(&Code) -> bool, zone: &TimeZone) -> Table {
    let entry = [column("Entry").key("entry").right(), column("File").key("name")];
    let mut table = Table::new(entry.into_iter().chain(columns())).caption("Logs");
    for log in logs {
        for logged in log.imported.cells.iter().filter(|logged| shown(&logged.cell)) {
            let row = row(logged.cell.to_string(), logged, zone);
            table.push([log.entry.to_string(), log.imported.name.clone()].into_iter().chain(row));
        }
    }
    table
}

/// The logs that hold a cell, with what they hold of it.
pub fn logs_of<'l>(logs: &'l [Log], cell: &Code) -> Vec<(u64, &'l LogImported, &'l LoggedCell)> {
    let of = |log: &'l Log| Some((log.entry, &log.imported, log.imported.of(cell)?));
    logs.iter().filter_map(of).collect()
}

fn columns() -> [crate::report::document::Column; 6] {
    [
        column("Cell").key("cell"),
        column("Rows").key("rows").right(),
        column("From").key("from"),
        column("To").key("to"),
        column("Voltage").unit("V").key("voltage_v"),
        column("Current").unit("mA").key("current_ma"),
    ]
}

fn row(name: String, logged: &LoggedCell, zone: &TimeZone) -> [String; 6] {
    [
        name,
        logged.rows.to_string(),
        moment(logged.first, zone),
        moment(logged.last, zone),
        logged.volts.map_or(String::new(), |volts| span(&volts, 1.0)),
        logged.amperes.map_or(String::new(), |amperes| span(&amperes, 1000.0)),
    ]
}

/// "1.5 → 0.9 (0.85 to 1.5)": first and last, and between what it all lies.
fn span(span: &Span, scale: f64) -> String {
    let show = |value: f64| short(value * scale, 4);
    format!("{} → {} ({} to {})", show(span.first), show(span.last), show(span.least), show(span.most))
}

fn left_out(log: &LogImported) -> String {
    let lines =
        log.skipped_rows.iter().take(LINES).map(|row| row.line.to_string()).collect::<Vec<_>>().join(", ");
    let more = log.skipped.saturating_sub(LINES as u64);
    let more = if more == 0 { String::new() } else { format!(" and {more} more") };
    let rows = if log.skipped == 1 { "1 row".to_owned() } else { format!("{} rows", log.skipped) };
    let line = if log.skipped == 1 { "line" } else { "lines" };
    format!("{rows}, {line} {lines}{more} of the kept file; why is in the entry")
}

/// How a log is read, a line for each thing that was decided.
pub fn layout_words(layout: &LogLayout, zone: &TimeZone) -> Vec<String> {
    let separator = match layout.separator {
        '\t' => "tab".to_owned(),
        other => format!("{other:?}"),
    };
    let sign = if layout.decimal_comma { "comma" } else { "point" };
    let mut words =
        vec![format!("head in line {}, columns separated by {separator}, decimal {sign}", layout.head_line)];
    words.push(match &layout.time {
        LogTime::Since { column, start } => {
            format!("time: {}, counted from {}", column_words(column), moment(*start, zone))
        }
        LogTime::Moment { number, name, zone } => {
            format!("time: column {number} {name:?}, zone {zone} where a time names none")
        }
    });
    words.extend(layout.voltage.as_ref().map(|column| format!("voltage: {}", column_words(column))));
    words.extend(layout.current.as_ref().map(|column| format!("current: {}", column_words(column))));
    words.push(match &layout.cell {
        LogCell::One(code) => format!("all rows are of {code}"),
        LogCell::Column { number, name, .. } => format!("cell: column {number} {name:?}"),
    });
    words
}

fn column_words(column: &LogColumn) -> String {
    format!("column {} {:?} in {}", column.number, column.name, column.unit)
}
