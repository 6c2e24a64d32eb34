//! Tables with decimal points one below the other and with boxes to write in.

use maud::{Markup, html};

use crate::report::document::{Column, ColumnKind, SpanKind, Table, Text};
use crate::report::point;

/// A table with its caption.
pub(super) fn table(table: &Table) -> Markup {
    let points: Vec<PointColumn> =
        (0..table.columns().len()).map(|index| PointColumn::of(&table.cells_of(index))).collect();
    let row = |cells: &[Text]| {
        let cells = table.columns().iter().zip(&points).zip(cells);
        html! { tr { @for ((column, point), text) in cells { (cell(column, point, text)) } } }
    };
    let markup = html! {
        table class=(class(table)) {
            @if !table.caption_text().is_blank() { caption { (table.caption_text()) } }
            (widths(table))
            @if table.has_header() && !table.is_continued() { thead { tr { @for column in table.columns() { (head(column)) } } } }
            tbody { @for cells in table.rows() { (row(cells)) } }
            @if let Some(total) = table.total_row() { tbody.total { (row(total)) } }
        }
    };
    // A browser parts a table from its caption, whatever the style says of it, but not what stands in a block.
    if is_short(table) {
        html! { div.whole { (markup) } }
    } else {
        markup
    }
}

/// Up to so many rows a table is not parted between two pages.
const FEW_ROWS: usize = 10;

fn class(table: &Table) -> &'static str {
    let write_in = |column: &Column| matches!(column.kind, ColumnKind::WriteIn { .. });
    match (table.columns().iter().any(write_in), is_fixed(table)) {
        (true, true) => "data write fixed",
        (true, false) => "data write",
        (false, _) => "data",
    }
}

fn is_short(table: &Table) -> bool {
    class(table) == "data" && table.rows().len() <= FEW_ROWS
}

/// True if all columns but one have a width, so that the browser has nothing to guess.
fn is_fixed(table: &Table) -> bool {
    table.columns().iter().filter(|column| column.width_on_paper().is_none()).count() <= 1
}

fn widths(table: &Table) -> Markup {
    let width = |column: &Column| column.width_on_paper().map(|width| format!("width:{width}mm"));
    html! {
        @if is_fixed(table) { colgroup { @for column in table.columns() { col style=[width(column)]; } } }
    }
}

fn head(column: &Column) -> Markup {
    let inner = html! {
        (column.header)
        @if !column.unit.is_blank() { @if !column.header.is_blank() { br; } span.unit { (column.unit) } }
    };
    match column.kind {
        ColumnKind::Left => html! { th scope="col" { (inner) } },
        ColumnKind::Right | ColumnKind::Decimal => html! { th.right scope="col" { (inner) } },
        ColumnKind::WriteIn { width_mm } => {
            html! { th.box-head scope="col" style=(format!("min-width:{width_mm}mm")) { (inner) } }
        }
    }
}

fn cell(column: &Column, point: &PointColumn, text: &Text) -> Markup {
    match column.kind {
        ColumnKind::Left => html! { td class=[breaks(text)] { (text) } },
        ColumnKind::Right => html! { td.right { (text) } },
        ColumnKind::Decimal => html! { td.decimal { (point.cell(text)) } },
        ColumnKind::WriteIn { .. } => html! { td.write-in { (text) } },
    }
}

/// How a text may be broken into lines: a date or a ratio never; long words only where some of them stand beside each other.
fn breaks(text: &Text) -> Option<&'static str> {
    let words = text.to_string();
    let is_number = words.chars().any(|c| c.is_ascii_digit()) && !words.chars().any(char::is_alphabetic);
    match words.chars().count() {
        count if count <= 24 && is_number || count <= 12 && !words.contains(' ') => Some("number"),
        count if 20 < count => Some("words"),
        _ => None,
    }
}

/// The room after the whole part that every number of a column leaves.
///
/// No browser aligns at a character yet, so what follows the whole part gets a box of one width, counted
/// in digits (`ch`); a point is narrower than a digit, so nothing sticks out.
struct PointColumn {
    digits: usize,
}

impl PointColumn {
    fn of(cells: &[String]) -> Self {
        let digits = |cell: &String| point::fraction(cell).chars().count();
        Self { digits: cells.iter().map(digits).max().unwrap_or(0) }
    }

    fn cell(&self, text: &Text) -> Markup {
        let Some(at) = point::whole_part(&text.to_string()).filter(|_| 0 < self.digits) else {
            return html! { (text) };
        };
        let (whole, fraction) = text.split(at);
        // The box is counted in digits of the type that stands in it.
        let large = whole.spans().last().is_some_and(|span| span.kind() == SpanKind::Big);
        let class = if large { "fraction big" } else { "fraction" };
        html! { (whole) span class=(class) style=(format!("min-width:{}ch", self.digits)) { (fraction) } }
    }
}
