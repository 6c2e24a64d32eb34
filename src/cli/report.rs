//! `report`: what was made and what the cells showed, on one page.

use clap::Args;
use serde_json::{Value, json};

use super::args::Common;
use super::judged::{self, Judged};
use super::outcome::{Failure, Outcome};
use super::request::{
    CellSelection, GroupBy, Lots, Observed, Paper, StudyRecords, cell_records, cell_review, code,
    component_table, failure, here, now, observed_cells, open_book, review_batch, scheme_here, settings,
    standing, study_observed, usual_metrics, usual_summary_rules, zone,
};
use super::study::{StudyQuestion, asked, looked, of_asked, shown};
use super::summarised::{Summarised, summarised};
use crate::book::{Book, logs, made_of, studies};
use crate::caution::Review;
use crate::cell::metric::{CellRecord, Metric};
use crate::input::{Faults, Warning};
use crate::record::cell::Cell;
use crate::record::graph::{NodeKind, TraceGraph};
use crate::record::study::Asked;
use crate::record::{Code, read_design};
use crate::report::answer::{comparison_answer, summary_answer, trace_answer};
use crate::report::document::Document;
use crate::report::html;
use crate::report::standing::Standing;
use crate::report::view::{
    Meeting, ReportView, ReportedBatch, ReportedMetric, code_range, missing, report_document,
};
use crate::statistics::comparison::Method;

/// One page that tells it all: what was made, which lot went into which cell, each metric with its plots, the comparison with its
/// caveats, what ended and why, cautions, and what a careful reader would want and is missing
///
/// With --out it is one HTML file that needs nothing else: no script, no network; print it from any browser. It tells of all cells
/// of the book, or of those that are named; of the metrics that are named, or else of the voltage at the last day that all cells were
/// read up to, its slope, the internal resistance and the short-circuit current, as far as they were read. With --study it tells of the
/// cells of a study, by its metric and rules, and names every departure from it.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook report --out report.html
  meltbook report --study Q1 --out q1.html
  meltbook report --of E1 --of E2 --metric \"voltage day=14\" --out report.html")]
pub(super) struct ReportArgs {
    /// What is taken of each cell, as for compare: "voltage day=14"; repeatable
    #[arg(long, value_name = "NAME key=value…")]
    metric: Vec<String>,
    /// The electrolyte that all others are compared with, by its name
    #[arg(long, value_name = "NAME")]
    baseline: Option<String>,
    /// The paper
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    paper: Paper,
    /// Tell of this study. Before its planned end the look is recorded in the book
    #[arg(long, value_name = "CODE", help_heading = "A study", conflicts_with_all = ["cells", "of", "recipe", "design", "built_in"])]
    study: Option<String>,
    /// Initials of who looks, should it be recorded; before MELTBOOK_AUTHOR and meltbook.toml
    #[arg(long, value_name = "INITIALS", requires = "study", help_heading = "A study")]
    author: Option<String>,
    /// Look without recording it, in a book that can't be written; the answer says so
    #[arg(long, requires = "study", help_heading = "A study")]
    unrecorded: bool,
    #[command(flatten)]
    selection: CellSelection,
}

/// A study that the report follows.
struct Followed {
    records: StudyRecords,
    asked: Asked,
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
    let mut book = open_book(common)?;
    let followed = args.study.as_ref().map(|study| followed(args, &book, study)).transpose()?;
    let cells = match &followed {
        Some((_, followed)) => followed.cells(),
        None => args.selection.cells(&book)?,
    };
    let lots = Lots::of(&book, &cells)?;
    let records = cell_records(common, &book, None, cells.clone(), &lots)?;
    let metrics = match &followed {
        _ if !named.is_empty() => named,
        Some((_, followed)) => vec![followed.metric()?],
        None => usual_metrics(&records),
    };
    let question = followed.as_ref().map(|(_, followed)| followed);
    let told = metrics
        .into_iter()
        .map(|metric| told(common, &book, metric, &cells, (question, args.baseline.as_deref())))
        .collect::<Result<Vec<_>, _>>()?;
    // Nothing is shown before the look is recorded.
    if let (Some((question, followed)), Some(first)) = (&followed, told.first()) {
        let departures = followed.records.departures(Some(&followed.asked));
        looked(common, question, &mut book, &followed.records, &first.observed, &departures)?;
    }
    answer(common, args, &book, &records, &told)
}

fn followed<'a>(
    args: &'a ReportArgs,
    book: &Book,
    study: &'a str,
) -> Result<(StudyQuestion<'a>, Followed), Failure> {
    let records = StudyRecords::read(book, &code("--study", study)?)?;
    let question = StudyQuestion {
        command: "report",
        study,
        metric: args.metric.first().map(String::as_str),
        method: None,
        baseline: args.baseline.as_deref(),
        by: args.author.as_deref(),
        unrecorded: args.unrecorded,
    };
    let asked = asked(&question, &records)?;
    Ok((question, Followed { records, asked }))
}

impl Followed {
    fn cells(&self) -> Vec<Cell> {
        let held = self.records.cells.iter().filter(|(_, held)| held.is_some());
        held.map(|(cell, _)| cell.clone()).collect()
    }

    fn metric(&self) -> Result<Metric, Faults> {
        Metric::parse_at(&format!("the metric of {}", self.records.study.planned.code), &self.asked.metric)
    }
}

fn told(
    common: &Common,
    book: &Book,
    metric: Metric,
    cells: &[Cell],
    (followed, baseline): (Option<&Followed>, Option<&str>),
) -> Result<Told, Failure> {
    let observed = match followed {
        Some(followed) => study_observed(common, book, &followed.records, &metric)?,
        None => observed_cells(common, book, &metric, cells.to_vec(), GroupBy::Electrolyte)?,
    };
    let several = 1 < observed.groups.iter().filter(|group| !group.values.is_empty()).count();
    let usual = judged::Asked { method: Method::Welch, baseline, confidence: 0.95 };
    let asked = followed.map_or(usual, |followed| of_asked(&followed.asked));
    let judged = several.then(|| judged::judged(&observed, &asked)).transpose()?;
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
    let (meetings, not_known) = meetings(common, book, records)?;
    let (entry, head) = book.head().map_err(|error| failure(&error))?;
    let logs = logs(book).map_err(|error| failure(&error))?;
    let logged =
        |code: &Code| logs.iter().any(|log| log.imported.cells.iter().any(|cell| cell.cell == *code));
    let summaries = told
        .iter()
        .map(|told| summarised(&told.observed, usual_summary_rules()))
        .collect::<Result<Vec<_>, _>>()?;
    let (studies, mut beside) = studies_of(args, book, &codes)?;
    beside.extend(not_known);
    let zone = zone();
    let laboratory = settings(common)?.map(|settings| settings.laboratory).unwrap_or_default();
    let view = ReportView {
        laboratory: &laboratory,
        scope: &format!("the cells {}", code_range(&codes)),
        at,
        zone: &zone,
        head: (entry, head.short()),
        batches: batches.iter().map(|(standing, review)| ReportedBatch { standing, review }).collect(),
        meetings: &meetings,
        cells: records,
        metrics: told.iter().zip(&summaries).map(|(told, summary)| reported(told, summary)).collect(),
        studies: &studies,
        beside: &beside,
        thread: Some(&thread),
        logged: codes.iter().filter(|code| logged(code)).count(),
    };
    let document = report_document(&view);
    let mut outcome = Outcome::new("report", json_of(&view, told, &summaries), document);
    outcome.page = Some(html::page(&outcome.document, args.paper.size()));
    outcome.paper = args.paper.size();
    outcome.warnings = beside.iter().cloned().chain(warnings(told)).collect();
    Ok(outcome)
}

fn reported<'v>(told: &'v Told, summary: &'v Summarised<'v>) -> ReportedMetric<'v> {
    ReportedMetric {
        text: told.metric.to_string(),
        summary: summary.view(&told.observed),
        comparison: told.judged.as_ref().map(|judged| judged.view(&told.observed)),
    }
}

/// What meets in the cells, once for each set of lots and design; and materials of designs that nothing is known of.
fn meetings(
    common: &Common,
    book: &Book,
    records: &[CellRecord],
) -> Result<(Vec<Meeting>, Vec<Warning>), Failure> {
    let (table, scheme) = (component_table(common)?, scheme_here(common)?);
    let (mut meetings, mut warnings) = (Vec::<Meeting>::new(), Vec::new());
    for cell in records.iter().map(|record| &record.cell) {
        let batches: Vec<Code> = cell.contents.iter().map(|content| content.batch.clone()).collect();
        let design = &cell.set.design;
        let known = meetings.iter_mut().find(|known| known.batches == batches && known.design == design.name);
        if let Some(known) = known {
            known.cells.push(cell.code.clone());
            continue;
        }
        let read = read_design("the recorded design", &design.text)?;
        let found = cell_review(book, &table, &batches, &read, scheme)?;
        for warning in found.warnings {
            if !warnings.contains(&warning) {
                warnings.push(warning);
            }
        }
        let (cells, design) = (vec![cell.code.clone()], design.name.clone());
        meetings.push(Meeting { cells, batches, design, review: found.review });
    }
    Ok((meetings, warnings))
}

/// What each study of these cells says, with its departures; and a word where the report itself is a look before its end.
fn studies_of(
    args: &ReportArgs,
    book: &Book,
    cells: &[Code],
) -> Result<(Vec<Document>, Vec<Warning>), Failure> {
    let all = studies(book).map_err(|error| failure(&error))?;
    let own = all.iter().filter(|study| study.cells.iter().any(|(cell, _)| cells.contains(cell)));
    let (mut documents, mut warnings) = (Vec::new(), Vec::new());
    for study in own {
        let code = &study.planned.code;
        let (records, document) = shown(book, code)?;
        documents.push(document);
        if 0 < records.days_before_end() && args.study.is_none() {
            let message = format!(
                "{code} runs until {}: this is a look at its data before the planned end, and it is not recorded; report \
                 --study {code} records it",
                study.planned.ends
            );
            warnings.push(Warning::new("unrecorded_look", message));
        }
    }
    Ok((documents, warnings))
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
