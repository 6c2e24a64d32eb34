//! A log by its path: its head read, its layout complete, ready to stream.

use std::fs::File;
use std::io::Read as _;
use std::path::Path;

use clap::Args;
use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::log_mapping::{Mapping, column_wish, decimal, read_mapping, separator, zone_named};
use super::record::{code, moment};
use super::source::{open_file, read_text};
use crate::cell::log::{CellWish, LayoutProblem, LogHead, layout};
use crate::cli::outcome::Failure;
use crate::input::{Fault, Faults, Place};
use crate::record::log::LogLayout;
use crate::record::{Code, CodeKind};

/// What a person says of the columns of a log.
#[derive(Debug, Args)]
pub(in crate::cli) struct LogOptions {
    /// The cell that was logged: its code in the book; a log in no book may name it in any way
    #[arg(long, value_name = "CELL", help_heading = "A log", conflicts_with = "cell_column")]
    pub(in crate::cli) cell: Option<String>,
    /// The column that says which cell a row is about [default: cell]
    #[arg(long, value_name = "COLUMN", help_heading = "A log")]
    cell_column: Option<String>,
    /// The column of times, by its head or as #1; with its unit if the head has none: "t unit=s"
    #[arg(long, value_name = "COLUMN", help_heading = "A log")]
    time: Option<String>,
    /// The column of voltages
    #[arg(long, value_name = "COLUMN", help_heading = "A log")]
    voltage: Option<String>,
    /// The column of currents
    #[arg(long, value_name = "COLUMN", help_heading = "A log")]
    current: Option<String>,
    /// When the log starts, if its times count from there
    #[arg(long, value_name = "TIME", help_heading = "A log")]
    pub(in crate::cli) start: Option<String>,
    /// The zone of times that name none: Europe/Vienna, UTC, +01:00 [default: that of this computer]
    #[arg(long, value_name = "ZONE", help_heading = "A log", allow_hyphen_values = true)]
    zone: Option<String>,
    /// The decimal sign: comma or point [default: as the first rows have it]
    #[arg(long, value_name = "SIGN", help_heading = "A log")]
    decimal: Option<String>,
    /// What stands between the columns: comma, semicolon or tab [default: as the head has it]
    #[arg(long, value_name = "SIGN", help_heading = "A log")]
    separator: Option<String>,
    /// The line of the head, from 1 [default: the first with as many columns as the line below it]
    #[arg(long, value_name = "LINE", help_heading = "A log")]
    head_line: Option<u64>,
    /// A saved mapping (TOML) of the columns; flags come before it
    #[arg(long, value_name = "FILE", help_heading = "A log")]
    mapping: Option<String>,
}

/// A log that can be read.
pub(in crate::cli) struct LogSource {
    pub(in crate::cli) path: String,
    pub(in crate::cli) bytes: u64,
    pub(in crate::cli) layout: LogLayout,
}

/// So much of a file is looked at to find its head.
const BEGINNING: u64 = 1 << 16;

/// Reads the head of a log and works out its layout; all faults come together. Outside a book it need not be said
/// which cell was logged and when: then it is C0, from 1970 on.
pub(in crate::cli) fn log_source(
    path: &str,
    options: &LogOptions,
    recorded: bool,
) -> Result<LogSource, Failure> {
    let mut mapping = mapping(options, recorded)?;
    if !recorded {
        mapping.wish.start = mapping.wish.start.or(Some(Timestamp::UNIX_EPOCH));
    }
    let (file, bytes) = open_file(path)?;
    let mut beginning = Vec::new();
    file.take(BEGINNING).read_to_end(&mut beginning).map_err(|error| unreadable(path, &error))?;
    let head = LogHead::read(&beginning, mapping.head_line, mapping.separator).map_err(|error| {
        let fault = Fault::new("no_head", error.to_string(), Place::named(path));
        fault.with_hint("Check the file; name the line of its head with --head-line, and --separator.")
    })?;
    let has_cell = mapping.wish.cell.is_some()
        || head.columns.iter().any(|column| column.trim().eq_ignore_ascii_case("cell"));
    if !recorded && !has_cell {
        mapping.wish.cell = Some(CellWish::One(Code::new(CodeKind::Cell, 0)));
    }
    let layout = layout(&head, &mapping.wish).map_err(|problems| refusal(path, &head, &problems))?;
    Ok(LogSource { path: path.to_owned(), bytes, layout })
}

/// Opens it again from the beginning.
pub(in crate::cli) fn open_log(path: &Path) -> Result<File, Failure> {
    File::open(path).map_err(|error| unreadable(&path.display().to_string(), &error))
}

/// A file that can't be read on.
pub(in crate::cli) fn unreadable(path: &str, error: &std::io::Error) -> Failure {
    let fault = Fault::new("not_readable", format!("{path} can't be read: {error}"), Place::named(path));
    Failure::Storage(fault.with_hint("Check that it is a file and may be read.").into())
}

fn refusal(path: &str, head: &LogHead, problems: &[LayoutProblem]) -> Faults {
    let mut faults = Faults::none();
    // Dates across are no columns of a log.
    let dates =
        head.columns.iter().skip(1).all(|column| moment("", crate::input::name_and_unit(column).0).is_ok());
    if dates && 1 < head.columns.len() {
        let fault = Fault::new("bench_table", "it is a bench table: dates stand across", Place::named(path));
        faults.push(fault.with_hint("Say what it holds, as in --what open-circuit."));
        return faults;
    }
    for problem in problems {
        let fault = Fault::new(problem.code(), problem.message.as_str(), Place::named(path));
        faults.push(fault.with_hint(problem.hint.as_str()));
    }
    faults
}

/// When a log starts: a day alone would put all its rows half a day off.
fn start(text: &str) -> Result<Timestamp, Fault> {
    if text.trim().parse::<jiff::civil::Date>().is_ok() && !text.contains(':') {
        let place = Place::in_text("--start", text, 0..text.len());
        let fault = Fault::new("no_time_of_day", format!("{text:?} has no time of day"), place);
        return Err(
            fault.with_hint(format!("Say when its first row was, as in --start \"{} 09:30\".", text.trim()))
        );
    }
    moment("--start", text)
}

/// The cell of a log. Outside a book it may be called anything: then it is C0 here, and its name is shown.
fn logged_cell(text: &str, recorded: bool) -> Result<Code, Fault> {
    match code("--cell", text) {
        Err(_) if !recorded && !text.trim().is_empty() => Ok(Code::new(CodeKind::Cell, 0)),
        read => read,
    }
}

/// The flags over the saved mapping.
fn mapping(options: &LogOptions, recorded: bool) -> Result<Mapping, Failure> {
    let mut mapping = match &options.mapping {
        Some(path) => read_mapping(path, &read_text(path)?)?,
        None => Mapping::default(),
    };
    let mut faults = Faults::none();
    let wish = &mut mapping.wish;
    let columns = [
        ("--time", &options.time, &mut wish.time),
        ("--voltage", &options.voltage, &mut wish.voltage),
        ("--current", &options.current, &mut wish.current),
    ];
    for (flag, text, place) in columns {
        if let Some(text) = text {
            *place = faults.collect(column_wish(flag, text));
        }
    }
    if let Some(name) = &options.cell_column {
        wish.cell = Some(CellWish::Column(name.clone()));
    }
    if let Some(text) = &options.cell {
        wish.cell = faults.collect(logged_cell(text, recorded)).map(CellWish::One);
    }
    wish.start = options.start.as_ref().and_then(|text| faults.collect(start(text)));
    let place = |flag: &str, text: &str| Place::in_text(flag, text, 0..text.len());
    if let Some(text) = &options.zone {
        wish.zone = faults.collect(zone_named(text, place("--zone", text)));
    }
    if wish.zone.is_none() {
        wish.zone = TimeZone::system().iana_name().map(str::to_owned);
    }
    if let Some(text) = &options.decimal {
        wish.decimal_comma = faults.collect(decimal(text, place("--decimal", text)));
    }
    if let Some(text) = &options.separator {
        mapping.separator = faults.collect(separator(text, place("--separator", text)));
    }
    mapping.head_line = options.head_line.or(mapping.head_line);
    Ok(faults.or(mapping)?)
}
