//! One metric: each electrolyte by itself, then against one another.

use super::{ReportedMetric, deeper};
use crate::report::document::{Block, Document, bullets, code, heading, paragraph, text};
use crate::report::view::comparison::comparison_document;
use crate::report::view::summary::summary_document;

pub(super) fn blocks(metric: &ReportedMetric<'_>) -> Vec<Block> {
    let mut blocks = vec![heading(1, metric.summary.what)];
    blocks.push(paragraph(text("Metric ").then(code(metric.text.as_str())).then(".")));
    blocks.push(bullets(metric.summary.rule.iter().map(String::as_str)).into());
    if let Some(comparison) = &metric.comparison {
        blocks.extend(part("Compared", &comparison_document(comparison)));
    }
    blocks.extend(part("Each electrolyte by itself", &summary_document(&metric.summary)));
    blocks
}

fn part(title: &str, document: &Document) -> Vec<Block> {
    let mut blocks = vec![heading(2, title)];
    blocks.extend(deeper(document.blocks(), 2));
    blocks
}
