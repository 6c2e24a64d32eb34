//! Tables: set in columns where they fit, else row by row as names with their values.

use comfy_table::{
    Cell, CellAlignment, ColumnConstraint, ContentArrangement, ContentLineStyle, LineStyle, TableStyle, Width,
};
use unicode_width::UnicodeWidthStr;

use super::blocks::facts;
use super::columns::{Need, fit};
use super::style::{Ink, Style};
use super::wrap::{longest_word, width_of, wrap};
use crate::report::document::{Column, ColumnKind, Fact, Table, Text, text};
use crate::report::point;

const GAP: usize = 2;
/// Stands for a rule until its place is known; texts are free of it, since it has no meaning in them.
const RULE: char = '\u{10fffd}';

/// The lines of a table with its caption. Columns that are shown only if there is room go first; if that is
/// not enough, the table is set row by row.
pub(super) fn lines(table: &Table, width: usize, style: Style) -> Vec<String> {
    let mut lines = wrap(table.caption_text(), width, style);
    let mut left_out: Vec<String> = Vec::new();
    let mut shown = table.clone();
    loop {
        if let Some(grid) = side_by_side(&shown, width, style) {
            lines.extend(grid);
            break;
        }
        if let Some(bands) = bands(&shown, width, style) {
            lines.extend(bands);
            break;
        }
        let Some((narrower, head)) = shown.narrower() else {
            left_out.clear();
            let columns: Vec<Vec<Text>> =
                (0..table.columns().len()).map(|index| cells(table, index)).collect();
            lines.extend(stacked(table, &columns, width, style));
            break;
        };
        left_out.insert(0, head.to_string());
        shown = narrower;
    }
    if !left_out.is_empty() {
        let note = format!("Left out for lack of room: {}.", left_out.join(", "));
        lines.push(String::new());
        lines.extend(wrap(&text(note), width, style));
    }
    lines
}

/// As many columns beside one another as fit, the others below, the first column again before each; `None` if
/// the table is none for that, or not even two columns fit.
fn bands(table: &Table, width: usize, style: Style) -> Option<Vec<String>> {
    let count = table.columns().len();
    if !table.is_in_bands() {
        return None;
    }
    let mut lines = Vec::new();
    let mut start = 1;
    while start < count {
        let fitting = |end: usize| Some((end, side_by_side(&table.band(start, end), width, style)?));
        let (end, band) = (start + 1..=count).rev().find_map(fitting)?;
        if 1 < start {
            lines.push(String::new());
        }
        lines.extend(band);
        start = end;
    }
    Some(lines)
}

/// The columns beside one another, if they fit.
fn side_by_side(table: &Table, width: usize, style: Style) -> Option<Vec<String>> {
    let columns: Vec<Vec<Text>> = (0..table.columns().len()).map(|index| cells(table, index)).collect();
    let heads: Vec<Vec<Text>> = table.columns().iter().map(head).collect();
    let needs: Vec<Need> = columns.iter().zip(&heads).map(|(cells, head)| need(cells, head)).collect();
    let gaps = GAP * needs.len().saturating_sub(1);
    let widths = fit(&needs, width.checked_sub(gaps)?)?;
    Some(Grid { table, widths }.lines(&heads, &columns, style))
}

/// The cells of one column, the last row's too: boxes drawn, points aligned, numbers unbreakable.
fn cells(table: &Table, index: usize) -> Vec<Text> {
    let plain: Vec<String> = table.cells_of(index).iter().map(|cell| cell.replace(RULE, " ")).collect();
    let whole = |cell: &String| text(cell.replace(' ', "\u{a0}"));
    match table.columns()[index].kind {
        ColumnKind::Left => plain.iter().map(text).collect(),
        ColumnKind::Right => plain.iter().map(whole).collect(),
        ColumnKind::Decimal => point::aligned(&plain).iter().map(whole).collect(),
        ColumnKind::WriteIn { width_mm } => {
            plain.iter().map(|cell| whole(&blank_box(cell, width_mm))).collect()
        }
    }
}

/// A line to write on, about as long as asked for: a character is some 2.5 mm wide in print.
fn blank_box(printed: &str, width_mm: u16) -> String {
    let width = usize::from(width_mm) * 2 / 5;
    format!("{printed}{}", "_".repeat(width.clamp(4, 40).saturating_sub(printed.width())))
}

/// The head and, below it, the unit.
fn head(column: &Column) -> Vec<Text> {
    let parts = [column.header.clone(), column.unit.clone()];
    parts.into_iter().filter(|part| !part.is_blank()).collect()
}

fn need(cells: &[Text], head: &[Text]) -> Need {
    let all = || cells.iter().chain(head);
    Need {
        least: all().map(longest_word).max().unwrap_or(0).max(1),
        natural: all().map(width_of).max().unwrap_or(0).max(1),
    }
}

/// A table whose column widths are known.
struct Grid<'t> {
    table: &'t Table,
    widths: Vec<usize>,
}

impl Grid<'_> {
    fn lines(&self, heads: &[Vec<Text>], columns: &[Vec<Text>], style: Style) -> Vec<String> {
        let mut grid = comfy_table::Table::new();
        grid.load_style(rules()).set_content_arrangement(ContentArrangement::Disabled);
        let head = heads.iter().enumerate().map(|(index, head)| self.cell(index, head));
        let head: Vec<Cell> = head.collect();
        if self.table.has_header() {
            grid.set_header(head);
        }
        for row in 0..self.table.all_rows().count() {
            let cells = columns.iter().enumerate();
            let cells = cells.map(|(index, column)| self.cell(index, column.get(row..=row).unwrap_or(&[])));
            grid.add_row(cells.collect::<Vec<_>>());
        }
        for (index, &width) in self.widths.iter().enumerate() {
            let gap = if index + 1 < self.widths.len() { GAP } else { 0 };
            if let Some(column) = grid.column_mut(index) {
                column.set_padding((0, gap as u16));
                column.set_constraint(ColumnConstraint::Absolute(Width::Fixed((width + gap) as u16)));
            }
        }
        self.drawn(grid.lines().collect(), style)
    }

    /// Texts one below the other, each broken to the width of its column.
    fn cell(&self, index: usize, texts: &[Text]) -> Cell {
        let lines: Vec<String> =
            texts.iter().flat_map(|text| wrap(text, self.widths[index], Style::Plain)).collect();
        let alignment = match self.table.columns()[index].kind {
            ColumnKind::Left | ColumnKind::WriteIn { .. } => CellAlignment::Left,
            ColumnKind::Right | ColumnKind::Decimal => CellAlignment::Right,
        };
        Cell::new(lines.join("\n")).set_alignment(alignment)
    }

    /// Of the rules between rows only the one above the sums is kept.
    fn drawn(&self, lines: Vec<String>, style: Style) -> Vec<String> {
        let is_rule = |line: &String| line.starts_with(RULE);
        let rules = lines.iter().filter(|line| is_rule(line)).count();
        let last = if self.table.total_row().is_some() { rules } else { 0 };
        let mut passed = 0;
        let mut drawn = Vec::new();
        let mut in_head = self.table.has_header();
        for line in lines {
            if is_rule(&line) {
                passed += 1;
                if passed == last {
                    drawn.push(line.replace(RULE, "─"));
                }
            } else if line.starts_with('─') && in_head {
                in_head = false;
                drawn.push(line);
            } else {
                let bold = in_head || (0 < last && passed == last);
                drawn.push(style.draw(if bold { Ink::Bold } else { Ink::Plain }, line.trim_end()));
            }
        }
        drawn
    }
}

fn rules() -> TableStyle {
    TableStyle::new()
        .header_lines(ContentLineStyle::none())
        .header_separator(LineStyle::none().fill('─'))
        .content_lines(ContentLineStyle::none())
        .row_separator(LineStyle::none().fill(RULE))
}

/// Row by row, where the columns do not fit side by side.
fn stacked(table: &Table, columns: &[Vec<Text>], width: usize, style: Style) -> Vec<String> {
    let mut lines = Vec::new();
    for row in 0..table.all_rows().count() {
        if 0 < row {
            lines.push(String::new());
        }
        let fact = |(column, cells): (&Column, &Vec<Text>)| {
            let value = cells.get(row).map(Text::to_string).unwrap_or_default();
            Fact { label: column.full_header(), value: text(value.trim_matches(blank)) }
        };
        let row: Vec<Fact> = table.columns().iter().zip(columns).map(fact).collect();
        lines.extend(facts(&row, width, style));
    }
    lines
}

/// The spaces by which points were aligned.
fn blank(c: char) -> bool {
    matches!(c, ' ' | '\u{a0}')
}
