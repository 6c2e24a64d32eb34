//! How high the rows and boxes of a form can be so that it still fits on one page: as high as there is room, for
//! hands in gloves, and not below what can be written in.
//!
//! Heights are estimated from the style in `print.css` for a wide typeface; where a narrower one is used, some
//! room stays free. All lengths are in millimetres.

use super::PageSize;
use crate::report::document::{
    Block, Boxes, Caution, ColumnKind, Document, Fact, List, ListKind, Severity, Span, SpanKind, Table, Text,
};

/// Height of what a person writes in, in millimetres, and sizes of type.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Writing {
    /// Free height of a box below its label.
    line: f64,
    /// Height of a row of a table with boxes.
    row: f64,
    /// Size of targets, in points.
    target: f64,
    /// Size of what stands below them, in points.
    second: f64,
}

/// Margins of a form, above and below.
const MARGINS: f64 = 19.0;
const SIDE_MARGINS: f64 = 20.0;
/// What estimates may be short by.
const SLACK: f64 = 2.0;
/// Free height of boxes, and the least height of rows beside which they are taken, the best first.
const CHOICES: [(f64, f64); 4] = [(9.0, 13.0), (7.2, 10.2), (6.2, 9.4), (5.2, 8.0)];
const TIGHT: (f64, f64) = CHOICES[3];
/// For a form that fits on no page anyway.
const COMFORTABLE: (f64, f64) = CHOICES[1];
const MOST_ROW: f64 = 17.0;
/// Free room on both sides of a cell's text.
const PADDING: f64 = 2.8;
const MILLIMETRES_PER_POINT: f64 = 25.4 / 72.0;

impl Writing {
    /// The heights, and the sizes of type that go with them, as variables of the style.
    pub(super) fn css(self) -> String {
        format!(
            ".form {{ --line: {:.1}mm; --row: {:.1}mm; --target: {:.1}pt; --second: {:.1}pt; }}\n",
            self.line, self.row, self.target, self.second
        )
    }
}

/// The heights for a form.
pub(super) fn writing(document: &Document, size: PageSize) -> Writing {
    let (width, height) = size.size_mm();
    let page = Page { width: width - SIDE_MARGINS };
    let room = height - MARGINS - SLACK - page.title(document);
    let rows = written_rows(document.blocks());
    let row_for = |line: f64| {
        let rest: f64 = document.blocks().iter().map(|block| page.block(block, line)).sum();
        (room - rest) / rows.max(1) as f64
    };
    let mut fitting = CHOICES.into_iter().map(|(line, least)| (line, row_for(line), least));
    let fitted = fitting.find(|(_, row, least)| least <= row).map(|(line, row, _)| (line, row));
    let (line, row) = fitted.or_else(|| nearly(row_for(TIGHT.0))).unwrap_or(COMFORTABLE);
    let row = row.min(MOST_ROW);
    // Target and window stand below each other in a row, and leave some of it free.
    let target = (0.53 * row / MILLIMETRES_PER_POINT).min(largest_type(document, SpanKind::Big, 0.7));
    let second = (0.62 * target).max(8.5).min(largest_type(document, SpanKind::Second, 0.63));
    Writing { line, row, target: target.clamp(11.5, 24.0), second: second.clamp(7.5, 12.0) }
}

/// What estimates say does not fit by little may do so, set as tight as can be.
fn nearly(row: f64) -> Option<(f64, f64)> {
    (0.75 * TIGHT.1 <= row).then_some(TIGHT)
}

/// The largest type, in points, in which every span of a kind fits into its column in one line, if the column
/// has a width and each character takes so many ems.
fn largest_type(document: &Document, kind: SpanKind, em: f64) -> f64 {
    let mut largest = f64::INFINITY;
    for table in document.tables().into_iter().filter(|table| is_written(table)) {
        for (place, column) in table.columns().iter().enumerate() {
            let Some(width) = column.width_on_paper() else { continue };
            let spans = table.all_rows().filter_map(|row| row.get(place)).flat_map(Text::spans);
            let length =
                |span: &Span| span.as_str().trim().chars().count() as f64 * em * MILLIMETRES_PER_POINT;
            let longest = spans.filter(|span| span.kind() == kind).map(length).fold(0.0, f64::max);
            largest = largest.min((f64::from(width) - PADDING) / longest);
        }
    }
    largest
}

fn written_rows(blocks: &[Block]) -> usize {
    let rows = |block: &Block| match block {
        Block::Table(table) if is_written(table) => table.rows().len(),
        Block::Together(inner) => written_rows(inner),
        _ => 0,
    };
    blocks.iter().map(rows).sum()
}

fn is_written(table: &Table) -> bool {
    table.columns().iter().any(|column| matches!(column.kind, ColumnKind::WriteIn { .. }))
}

/// A page by the width between its margins.
struct Page {
    width: f64,
}

impl Page {
    fn title(&self, document: &Document) -> f64 {
        self.lines(document.title(), 13.5, self.width) * 5.8 + 3.0
    }

    /// Height of a block without the rows that are written in.
    fn block(&self, block: &Block, line: f64) -> f64 {
        match block {
            Block::Heading { .. } => 6.6,
            Block::Paragraph(text) => self.text(text, self.width) + 0.8,
            Block::List(list) => self.list(list),
            Block::Facts(facts) => facts.iter().map(|fact| self.fact(fact)).sum::<f64>() + 1.2,
            Block::Table(table) => self.table(table),
            Block::Caution(caution) => self.caution(caution),
            Block::Boxes(boxes) => self::boxes(boxes, line),
            Block::Together(inner) => inner.iter().map(|block| self.block(block, line)).sum(),
            Block::Chain(_) | Block::Tree(_) | Block::Figure(_) | Block::Chart(_) | Block::PageBreak => 0.0,
        }
    }

    /// Lines that a text takes in type of so many points.
    fn lines(&self, text: &Text, points: f64, width: f64) -> f64 {
        let bold = |kind| matches!(kind, SpanKind::Strong | SpanKind::Big);
        let length =
            |(text, bold): (&str, bool)| text.chars().count() as f64 * if bold { 0.63 } else { 0.56 };
        let ems: f64 = text.spans().iter().map(|span| length((span.as_str(), bold(span.kind())))).sum();
        (ems * points * MILLIMETRES_PER_POINT / width).ceil().max(1.0)
    }

    fn text(&self, text: &Text, width: f64) -> f64 {
        let small = text.spans().iter().all(|span| span.kind() == SpanKind::Muted);
        let (points, height) = if small { (7.0, 2.85) } else { (8.5, 3.66) };
        self.lines(text, points, width) * height
    }

    fn fact(&self, fact: &Fact) -> f64 {
        // The names stand in a column of their own.
        self.text(&fact.value, self.width - 24.0).max(3.66) + 0.4
    }

    fn caution(&self, caution: &Caution) -> f64 {
        let width = self.width - 6.0;
        let (border, bold) = match caution.severity {
            Severity::Block => (2.2, 1.12),
            Severity::Warn => (1.1, 1.12),
            Severity::Note => (0.4, 1.0),
        };
        // The word before the title takes some of its first line.
        let title = self.text(&caution.title, (width - 8.0) / bold);
        let details: f64 = caution.details.iter().map(|detail| self.text(detail, width)).sum();
        title + details + border + 2.2
    }

    fn list(&self, list: &List) -> f64 {
        let (columns, indent) = match list.kind {
            ListKind::Checklist => (2.0, 9.5),
            ListKind::Bullets | ListKind::Numbered => (1.0, 6.0),
        };
        let width = self.width / columns - indent;
        let heights: Vec<f64> = list.items.iter().map(|item| self.text(item, width).max(5.0) + 0.8).collect();
        let tallest = heights.iter().copied().fold(0.0, f64::max);
        let spare = if 1.0 < columns && 1 < heights.len() { tallest / 2.0 } else { 0.0 };
        let columns = columns.min(heights.len().max(1) as f64);
        heights.iter().sum::<f64>() / columns + spare + 1.5
    }

    fn table(&self, table: &Table) -> f64 {
        let caption = if table.caption_text().is_blank() { 0.0 } else { 4.6 };
        let head = if table.has_header() && !table.is_continued() { 11.6 } else { 0.0 };
        let rows = if is_written(table) { 0.3 } else { 5.2 };
        caption + head + rows * table.all_rows().count() as f64 + 2.5
    }
}

fn boxes(boxes: &Boxes, line: f64) -> f64 {
    // Height of the label, then what is free.
    (3.0 + line) * boxes.rows.len() as f64 + 1.6
}
