//! The first page: what it is about, what was found, what can hurt.

use super::ReportView;
use crate::caution::Severity;
use crate::record::Code;
use crate::report::document::{Block, Caution, bullets, column, facts, heading, paragraph, strong, text};
use crate::report::document::{Table, Text};
use crate::report::view::cautions::short_alert;
use crate::report::view::comparison::conclusions;
use crate::report::view::mixture::mixture_statements;
use crate::report::view::moment;
use crate::report::view::ranges::code_range;
use crate::report::view::summary::sentence;

pub(super) fn blocks(view: &ReportView<'_>) -> Vec<Block> {
    let mut blocks = vec![facts(overview(view)), heading(1, "Found")];
    for metric in &view.metrics {
        blocks.push(heading(2, metric.summary.what));
        blocks.push(bullets(found(metric)).into());
    }
    if view.metrics.is_empty() {
        blocks.push(paragraph(strong("No readings from which anything could be compared.")));
    }
    blocks.extend(beside(view));
    blocks.extend(cautions(view));
    blocks
}

/// What to know beside the findings, once each.
fn beside(view: &ReportView<'_>) -> Vec<Block> {
    let mut told: Vec<&str> = view.beside.iter().map(|warning| warning.message.as_str()).collect();
    for metric in &view.metrics {
        let warnings =
            metric.comparison.as_ref().map_or(metric.summary.warnings, |comparison| comparison.warnings);
        for warning in warnings.iter().map(|warning| warning.message.as_str()) {
            if !told.contains(&warning) {
                told.push(warning);
            }
        }
    }
    told.into_iter().map(|words| Caution::warn(words).into()).collect()
}

fn overview(view: &ReportView<'_>) -> Vec<(&'static str, Text)> {
    let mut electrolytes: Vec<&str> = view.cells.iter().map(|cell| cell.electrolyte.as_str()).collect();
    electrolytes.sort_unstable();
    electrolytes.dedup();
    let readings: usize = view.cells.iter().map(|cell| cell.readings.len()).sum();
    vec![
        ("About", text(view.scope)),
        ("Electrolytes", text(electrolytes.join("; "))),
        ("Cells", text(format!("{}, with {readings} readings", view.cells.len()))),
        ("Made on", text(moment(view.at, view.zone))),
        (
            "From the book",
            text(format!(
                "entry {}, head {}: the same head means the same records",
                view.head.0, view.head.1
            )),
        ),
    ]
}

fn found(metric: &super::ReportedMetric<'_>) -> Vec<String> {
    match &metric.comparison {
        Some(comparison) => conclusions(comparison),
        None => {
            let group = |group: &crate::report::view::SummarisedGroup<'_>| {
                format!("{}: {}", group.summary.name, sentence(group.summary))
            };
            metric.summary.groups.iter().map(group).collect()
        }
    }
}

/// What stops or warns, once each, the gravest first; then what each batch is as a mixture.
fn cautions(view: &ReportView<'_>) -> Vec<Block> {
    let mut blocks = vec![heading(1, "Before anything of this is opened or repeated")];
    let in_cells = view.meetings.iter().flat_map(|meeting| &meeting.review.alerts);
    let alerts = view.batches.iter().flat_map(|batch| &batch.review.alerts).chain(in_cells);
    let mut grave: Vec<_> = alerts.filter(|alert| Severity::Warn <= alert.severity).collect();
    grave.sort_by_key(|alert| std::cmp::Reverse(alert.severity));
    let mut told: Vec<Caution> = Vec::new();
    for alert in grave {
        let caution = short_alert(alert);
        if !told.contains(&caution) {
            told.push(caution);
        }
    }
    blocks.extend(told.into_iter().map(Block::from));
    blocks.push(mixtures(view).into());
    let deferral = view.batches.first().map(|batch| batch.review.deferral.as_slice()).unwrap_or_default();
    blocks.push(bullets(deferral.iter().map(|sentence| strong(sentence.as_str()))).into());
    blocks
}

/// What each batch is as a mixture; those that are the same share a row.
fn mixtures(view: &ReportView<'_>) -> Table {
    let mut rows: Vec<(Text, Vec<Code>)> = Vec::new();
    for batch in &view.batches {
        let mixture = batch.review.mixture.as_ref();
        let words = mixture
            .map_or_else(|| text("not classified as a mixture: see its cautions below"), mixture_statements);
        let code = batch.standing.life.code.clone();
        match rows.iter_mut().find(|(known, _)| *known == words) {
            Some((_, codes)) => codes.push(code),
            None => rows.push((words, vec![code])),
        }
    }
    let mut table =
        Table::new([column("Batch").key("batch"), column("As a mixture, by the rules").key("mixture")]);
    rows.into_iter().for_each(|(words, codes)| table.push([text(code_range(&codes)), words]));
    table
}
