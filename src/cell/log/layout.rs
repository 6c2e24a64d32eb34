//! From what a person says and what the head says to a layout that is complete.

use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::column::{ColumnWish, named, numbers};
use super::error::{LayoutProblem, ProblemKind, problem};
use super::head::LogHead;
use super::moment::Moments;
use super::unit::Holds;
use crate::record::Code;
use crate::record::log::{LogCell, LogColumn, LogLayout, LogTime};

/// What a person says of a log; what is left open is taken from its head.
#[derive(Debug, Clone, Default)]
pub struct LogWish {
    /// The times.
    pub time: Option<ColumnWish>,
    /// Voltages.
    pub voltage: Option<ColumnWish>,
    /// Currents.
    pub current: Option<ColumnWish>,
    /// Which cell.
    pub cell: Option<CellWish>,
    /// What the cell column calls cells that it does not call by their codes.
    pub names: Vec<(String, Code)>,
    /// When a log starts whose times count from its start.
    pub start: Option<Timestamp>,
    /// The zone of times that name none, as [`zone`](super::zone) reads it.
    pub zone: Option<String>,
    /// True if the decimal sign is a comma.
    pub decimal_comma: Option<bool>,
}

/// Which cell the rows are about.
#[derive(Debug, Clone, PartialEq)]
pub enum CellWish {
    /// All about one.
    One(Code),
    /// A column of this name says it.
    Column(String),
}

/// Heads under which dates with times of day stand.
const MOMENT_HEADS: [&str; 10] = [
    "timestamp",
    "datetime",
    "date time",
    "date_time",
    "date",
    "time",
    "zeitstempel",
    "datum",
    "zeit",
    "uhrzeit",
];
/// Heads under which cells stand.
const CELL_HEADS: [&str; 2] = ["cell", "cells"];

/// The layout; all problems come together.
///
/// # Errors
/// What is missing, unknown or ambiguous.
pub fn layout(head: &LogHead, wish: &LogWish) -> Result<LogLayout, Vec<LayoutProblem>> {
    let mut problems = Vec::new();
    let mut keep = |result: Result<Option<LogColumn>, LayoutProblem>| {
        result.map_err(|problem| problems.push(problem)).ok().flatten()
    };
    let voltage = keep(numbers(head, wish.voltage.as_ref(), Holds::Volts, "--voltage"));
    let current = keep(numbers(head, wish.current.as_ref(), Holds::Amperes, "--current"));
    if voltage.is_none() && current.is_none() && problems.is_empty() {
        let columns = head.columns.join(", ");
        let hint = format!("Name it, as in --voltage \"NAME unit=V\". The columns are {columns}.");
        problems.push(problem(ProblemKind::NoValues, "no column of voltages or currents is found", hint));
    }
    let time = time(head, wish).map_err(|problem| problems.push(problem)).ok();
    let cell = cell(head, wish).map_err(|problem| problems.push(problem)).ok();
    let (Some(time), Some(cell), true) = (time, cell, problems.is_empty()) else { return Err(problems) };
    let since = match &time {
        LogTime::Since { column, .. } => Some(column),
        LogTime::Moment { .. } => None,
    };
    let columns: Vec<usize> = [voltage.as_ref(), current.as_ref(), since]
        .into_iter()
        .flatten()
        .map(|column| column.number - 1)
        .collect();
    let decimal_comma = wish.decimal_comma.unwrap_or_else(|| head.has_decimal_comma(&columns));
    Ok(LogLayout {
        head_line: head.line,
        columns: head.columns.len(),
        separator: head.separator,
        decimal_comma,
        time,
        voltage,
        current,
        cell,
    })
}

fn time(head: &LogHead, wish: &LogWish) -> Result<LogTime, LayoutProblem> {
    let place = match &wish.time {
        Some(wish) => Some(named(head, &wish.name)?),
        None => MOMENT_HEADS
            .iter()
            .find_map(|name| head.columns.iter().position(|column| column.trim().to_lowercase() == *name)),
    };
    // Without a unit it is a date with a time of day, if it looks like one.
    let has_unit = wish.time.as_ref().is_some_and(|wish| wish.unit.is_some());
    if let Some(at) = place.filter(|at| !has_unit && looks_like_moment(head, *at)) {
        let Some(zone) = &wish.zone else {
            let hint = "Say it with --zone, as in --zone Europe/Vienna or --zone UTC.";
            return Err(problem(ProblemKind::NoZone, "the zone of the times is not known", hint));
        };
        return Ok(LogTime::Moment { number: at + 1, name: head.columns[at].clone(), zone: zone.clone() });
    }
    let column = numbers(head, wish.time.as_ref(), Holds::Seconds, "--time")?;
    let Some(column) = column else {
        let columns = head.columns.join(", ");
        let hint = format!(
            "Name it: --time \"NAME unit=s\" for a count, --time NAME for dates with times of day such as 2026-11-25 09:30. \
             The columns are {columns}."
        );
        return Err(problem(ProblemKind::NoTime, "no column of times is found", hint));
    };
    let Some(start) = wish.start else {
        let message = format!("the times in {:?} count from a start that is not known", column.name);
        return Err(problem(
            ProblemKind::NoStart,
            message,
            "Say when the log starts, as in --start \"2026-11-25 09:30\".",
        ));
    };
    Ok(LogTime::Since { column, start })
}

fn looks_like_moment(head: &LogHead, at: usize) -> bool {
    let mut moments = Moments::new(TimeZone::UTC);
    head.rows.iter().filter_map(|row| row.get(at)).any(|field| moments.read(field.as_bytes()).is_some())
}

fn cell(head: &LogHead, wish: &LogWish) -> Result<LogCell, LayoutProblem> {
    let of_column = |at: usize| LogCell::Column {
        number: at + 1,
        name: head.columns[at].clone(),
        names: wish.names.clone(),
    };
    match &wish.cell {
        Some(CellWish::One(code)) => Ok(LogCell::One(code.clone())),
        Some(CellWish::Column(name)) => named(head, name).map(of_column),
        None => {
            let fits = |column: &String| CELL_HEADS.contains(&column.trim().to_lowercase().as_str());
            head.columns.iter().position(fits).map(of_column).ok_or_else(|| {
                let hint = "Say it with --cell C3, or name its column with --cell-column.";
                problem(ProblemKind::NoCell, "it is not said which cell was logged", hint)
            })
        }
    }
}
