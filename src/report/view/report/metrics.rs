//! One metric: the electrolytes against one another, then each by itself.

use super::{ReportedMetric, deeper};
use crate::report::document::{Block, bullets, code, heading, paragraph, text};
use crate::report::view::comparison::{comparison_figures, conclusions, with_and_without};
use crate::report::view::summary::{summary_figure, summary_in_short};

pub(super) fn blocks(metric: &ReportedMetric<'_>) -> Vec<Block> {
    let mut blocks = vec![heading(1, capital(metric.summary.what))];
    blocks.push(paragraph(text("Taken of each cell: ").then(code(metric.text.as_str())).then(".")));
    match &metric.comparison {
        Some(comparison) => {
            blocks.push(bullets(conclusions(comparison)).into());
            blocks.extend(deeper(&comparison_figures(comparison), 1));
            blocks.extend(with_and_without(comparison).map(Block::from));
        }
        None => blocks.push(summary_figure(&metric.summary)),
    }
    blocks.push(heading(2, "Each electrolyte by itself, cell by cell"));
    blocks.extend(summary_in_short(&metric.summary));
    blocks
}

fn capital(words: &str) -> String {
    let mut characters = words.chars();
    characters.next().map(|first| first.to_uppercase().chain(characters).collect()).unwrap_or_default()
}
