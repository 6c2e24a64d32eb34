//! What `reading import` answers.

use serde_json::{Value, json};

use crate::cli::outcome::Outcome;
use crate::cli::request::zone;
use crate::input::Warning;
use crate::record::Hash;
use crate::record::log::{LogImported, LoggedCell, Overlap, SkippedRow, Span};
use crate::report::view::{log_document, moment};

/// A log that was taken in.
pub(super) struct Taken<'t> {
    pub(super) log: &'t LogImported,
    pub(super) overlaps: &'t [Overlap],
    pub(super) head: &'t (u64, Hash),
    pub(super) mapping: Option<&'t str>,
}

pub(super) fn answer(taken: &Taken<'_>) -> Outcome {
    let mut warnings: Vec<Warning> = taken.overlaps.iter().map(overlap).collect();
    warnings.extend(taken.log.cells.iter().filter_map(below_zero));
    let document = log_document(taken.log, &warnings, taken.head, taken.mapping, &zone());
    let mut answer = log_answer(taken.log);
    answer["overlaps"] = taken
        .overlaps
        .iter()
        .map(|overlap| {
            json!({
                "cell": overlap.cell.to_string(),
                "entry": overlap.entry,
                "from": overlap.from.to_string(),
                "to": overlap.to.to_string(),
            })
        })
        .collect();
    answer["entry"] = taken.head.0.into();
    answer["head"] = taken.head.1.to_string().into();
    let mut outcome = Outcome::new("reading import", answer, document);
    outcome.warnings = warnings;
    outcome
}

/// A voltage below zero: reversed leads, or a cell driven past its end.
fn below_zero(logged: &LoggedCell) -> Option<Warning> {
    let least = logged.volts?.least;
    (least < 0.0).then(|| {
        let message = format!(
            "the log of {} goes down to {least} V: leads the wrong way round, or a cell that was driven past its end",
            logged.cell
        );
        Warning::new("voltage_below_zero", message)
    })
}

fn overlap(overlap: &Overlap) -> Warning {
    let (from, to) = (moment(overlap.from, &zone()), moment(overlap.to, &zone()));
    let message = format!(
        "this log of {} and that of entry {} both hold the time from {from} to {to}: figures of the cell take each log \
         by itself",
        overlap.cell, overlap.entry
    );
    Warning::new("overlap", message)
}

/// A log for scripts.
pub(in crate::cli) fn log_answer(log: &LogImported) -> Value {
    let skipped = |row: &SkippedRow| json!({ "line": row.line, "why": row.why });
    json!({
        "file": log.file.to_string(),
        "name": log.name,
        "bytes": log.bytes,
        "layout": log.layout,
        "cells": log.cells.iter().map(cell).collect::<Vec<_>>(),
        "rows": log.rows,
        "skipped": log.skipped,
        "skipped_rows": log.skipped_rows.iter().map(skipped).collect::<Vec<_>>(),
        "instrument": log.instrument,
        "note": log.note,
        "because": log.because,
        "at": log.at.to_string(),
    })
}

fn cell(logged: &LoggedCell) -> Value {
    json!({
        "cell": logged.cell.to_string(),
        "rows": logged.rows,
        "first": logged.first.to_string(),
        "last": logged.last.to_string(),
        "mean_interval_s": logged.mean_interval_s(),
        "voltage_v": logged.volts.map(span),
        "current_a": logged.amperes.map(span),
    })
}

fn span(span: Span) -> Value {
    json!({ "first": span.first, "last": span.last, "least": span.least, "most": span.most })
}
