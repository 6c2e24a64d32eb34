//! `report`: what was made and what the cells showed, on one page.

use clap::Args;
use serde_json::{Value, json};

use super::args::Common;
use super::judged::{Asked, Judged, judged};
use super::outcome::{Failure, Outcome};
use super::request::{
    CellSelection, GroupBy, Lots, Observed, Paper, cell_records, failure, here, now, observed_cells,
    open_book, review_batch, scheme_here, settings, standing, usual_metrics, usual_summary_rules, zone,
};
use super::summarised::{Summarised, summarised};
use crate::book::{Book, logs, made_of};
use crate::caution::Review;
use crate::cell::metric::{CellRecord, Metric};
use crate::input::{Faults, Warning};
use crate::record::Code;
use crate::record::cell::Cell;
use crate::record::graph::{NodeKind, TraceGraph};
use crate::report::answer::{comparison_answer, summary_answer, trace_answer};
use crate::report::html;
use crate::report::standing::Standing;
use crate::report::view::{ReportView, ReportedBatch, ReportedMetric, code_range, missing, report_document};
use crate::statistics::comparison::Method;

/// One page that tells it all: what was made, which lot went into which cell, each metric with its plots, the comparison with its
/// caveats, what ended and why, cautions, and what a careful reader would want and is missing
///
/// With --out it is one HTML file that needs nothing else: no script, no network; print it from any browser. It tells of all cells
/// of the book, or of those that are named; of the metrics that are named, or else of the voltage at the last day that all cells were
/// read up to, its slope, the internal resistance and the short-circuit current, as far as they were read.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook report --out report.html
  meltbook report --of E1 --of E2 --metric \"voltage day=14\" --metric \"current day=14\" --out report.html")]
pub(super) struct ReportArgs {
    /// What is taken of each cell, as for compare: \"voltage day=14\"; repeatable
    #[arg(long, value_name = "NAME key=value…")]
    metric: Vec<String>,
    /// The electrolyte that all others are compared with, by its name
    #[arg(long, value_name = "NAME")]
    baseline: Option<String>,
    /// The paper
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    paper: Paper,
    #[command(flatten)]
    selection: CellSelection,
}

/// One metric as it was found.
struct Told {
    metric: Metric,
    observed: Observed,
    judged: Option<Judged>,
}

pub(super) fn run(common: &Common, args: &ReportArgs) -> Result<Outcome, Failure> {
    let mut faults = Faults::none();
    let named: Vec<Metric> =
        args.metric.iter().filter_map(|text| faults.collect(Metric::parse(text))).collect();
    faults.or(())?;
    let book = open_book(common)?;
    let cells = args.selection.cells(&book)?;
    let lots = Lots::of(&book, &cells)?;
    let records = cell_records(common, &book, None, cells.clone(), &lots)?;
    let metrics = if named.is_empty() { usual_metrics(&records) } else { named };
    let told = metrics
        .into_iter()
        .map(|metric| told(common, &book, metric, cells.clone(), args.baseline.as_deref()))
        .collect::<Result<Vec<_>, _>>()?;
    answer(common, args, &book, &records, &told)
}

fn told(
    common: &Common,
    book: &Book,
    metric: Metric,
    cells: Vec<Cell>,
    baseline: Option<&str>,
) -> Result<Told, Failure> {
    let observed = observed_cells(common, book, &metric, cells, GroupBy::Electrolyte)?;
    let several = 1 < observed.groups.iter().filter(|group| !group.values.is_empty()).count();
    let asked = Asked { method: Method::Welch, baseline, confidence: 0.95 };
    let judged = several.then(|| judged(&observed, &asked)).transpose()?;
    Ok(Told { metric, observed, judged })
}

fn answer(
    common: &Common,
    args: &ReportArgs,
    book: &Book,
    records: &[CellRecord],
    told: &[Told],
) -> Result<Outcome, Failure> {
    let at = now()?;
    let codes: Vec<Code> = records.iter().map(|record| record.cell.code.clone()).collect();
    let thread = made_of(book, &codes, &here(at)).map_err(|error| failure(&error))?;
    let batches = batches(common, book, &thread)?;
    let (entry, head) = book.head().map_err(|error| failure(&error))?;
    let logs = logs(book).map_err(|error| failure(&error))?;
    let logged =
        |code: &Code| logs.iter().any(|log| log.imported.cells.iter().any(|cell| cell.cell == *code));
    let summaries = told
        .iter()
        .map(|told| summarised(&told.observed, usual_summary_rules()))
        .collect::<Result<Vec<_>, _>>()?;
    let zone = zone();
    let laboratory = settings(common)?.map(|settings| settings.laboratory).unwrap_or_default();
    let view = ReportView {
        laboratory: &laboratory,
        scope: &format!("the cells {}", code_range(&codes)),
        at,
        zone: &zone,
        head: (entry, head.short()),
        batches: batches.iter().map(|(standing, review)| ReportedBatch { standing, review }).collect(),
        cells: records,
        metrics: told.iter().zip(&summaries).map(|(told, summary)| reported(told, summary)).collect(),
        study: None,
        thread: Some(&thread),
        logged: codes.iter().filter(|code| logged(code)).count(),
    };
    let document = report_document(&view);
    let mut outcome = Outcome::new("report", json_of(&view, told, &summaries), document);
    outcome.page = Some(html::page(&outcome.document, args.paper.size()));
    outcome.paper = args.paper.size();
    outcome.warnings = warnings(told);
    Ok(outcome)
}

fn reported<'v>(told: &'v Told, summary: &'v Summarised<'v>) -> ReportedMetric<'v> {
    ReportedMetric {
        text: told.metric.to_string(),
        summary: summary.view(&told.observed),
        comparison: told.judged.as_ref().map(|judged| judged.view(&told.observed)),
    }
}

/// Everything made that is upstream of the cells, with its cautions: what went into cells last.
fn batches(common: &Common, book: &Book, thread: &TraceGraph) -> Result<Vec<(Standing, Review)>, Failure> {
    let scheme = scheme_here(common)?;
    let made = [NodeKind::Electrolyte, NodeKind::StockSolution, NodeKind::CathodeMix];
    let codes = thread.nodes().iter().filter(|node| made.contains(&node.kind));
    let codes: Vec<Code> = codes.filter_map(|node| node.code.parse().ok()).collect();
    let batch = |code: &Code| {
        let standing = standing(book, code)?;
        let review = review_batch(&standing, scheme);
        Ok((standing, review))
    };
    codes.iter().map(batch).collect()
}

fn warnings(told: &[Told]) -> Vec<Warning> {
    let mut all: Vec<Warning> = Vec::new();
    for warning in told.iter().flat_map(|told| match &told.judged {
        Some(judged) => &judged.warnings,
        None => &told.observed.warnings,
    }) {
        if !all.contains(warning) {
            all.push(warning.clone());
        }
    }
    all
}

fn json_of(view: &ReportView<'_>, told: &[Told], summaries: &[Summarised<'_>]) -> Value {
    let metrics: Vec<Value> = told
        .iter()
        .zip(summaries)
        .map(|(told, summary)| {
            let unit = told.observed.unit.as_deref();
            let groups: Vec<Value> = summary
                .groups
                .iter()
                .map(|(summary, group)| summary_answer(summary, unit, group.missing, group.excluded.len()))
                .collect();
            let judged = told.judged.as_ref().map(|judged| comparison_answer(&judged.view(&told.observed)));
            json!({ "metric": told.metric.to_string(), "summary": groups, "compare": judged })
        })
        .collect();
    json!({
        "laboratory": view.laboratory,
        "entry": view.head.0,
        "head": view.head.1,
        "cells": view.cells.iter().map(|record| record.cell.code.to_string()).collect::<Vec<_>>(),
        "batches": view.batches.iter().map(|batch| batch.standing.life.code.to_string()).collect::<Vec<_>>(),
        "metrics": metrics,
        "missing": missing(view),
        "trace": view.thread.map(trace_answer),
    })
}
