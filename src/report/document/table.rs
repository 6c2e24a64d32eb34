//! Tables: columns that know how their cells are aligned, or that are boxes to be filled in by hand.

use super::Text;

/// Rows and columns. Every row has as many cells as there are columns.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    caption: Text,
    columns: Vec<Column>,
    rows: Vec<Vec<Text>>,
    total: Option<Vec<Text>>,
    continued: bool,
    in_bands: bool,
}

/// A column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    pub(in crate::report) header: Text,
    pub(in crate::report) unit: Text,
    pub(in crate::report) key: Option<String>,
    pub(in crate::report) kind: ColumnKind,
    pub(in crate::report) width_mm: Option<u16>,
    pub(in crate::report) if_room: bool,
}

/// What the cells of a column are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ColumnKind {
    /// Text; it may wrap.
    #[default]
    Left,
    /// Whole numbers or codes that end at the same place; never broken.
    Right,
    /// Numbers with their decimal points one below the other; never broken.
    Decimal,
    /// Boxes to be filled in by hand. A cell that has text already is printed in its box.
    WriteIn {
        /// Least width on paper, in millimetres.
        width_mm: u16,
    },
}

/// A column of text. See [`Column`] for the other kinds.
pub fn column(header: impl Into<Text>) -> Column {
    Column {
        header: header.into(),
        unit: Text::default(),
        key: None,
        kind: ColumnKind::Left,
        width_mm: None,
        if_room: false,
    }
}

impl Column {
    /// The same with the unit of all its cells, shown once in the head.
    pub fn unit(mut self, unit: impl Into<Text>) -> Self {
        self.unit = unit.into();
        self
    }

    /// The same with its name in CSV, such as `weigh_g`. Without it that is the head with its unit.
    pub fn key(mut self, key: impl Into<String>) -> Self {
        self.key = Some(key.into());
        self
    }

    /// Cells that end at the same place.
    pub fn right(mut self) -> Self {
        self.kind = ColumnKind::Right;
        self
    }

    /// Numbers with their decimal points one below the other.
    pub fn decimal(mut self) -> Self {
        self.kind = ColumnKind::Decimal;
        self
    }

    /// Boxes to be filled in by hand, at least so many millimetres wide.
    pub fn write_in(mut self, width_mm: u16) -> Self {
        self.kind = ColumnKind::WriteIn { width_mm };
        self
    }

    /// The same as a column that a narrow screen leaves out, the last such first. Every other format shows it.
    pub fn if_room(mut self) -> Self {
        self.if_room = true;
        self
    }

    /// The same with its width on paper in millimetres. Where all columns but one have a width, or are
    /// boxes, tables with the same columns line up below each other.
    pub fn wide(mut self, width_mm: u16) -> Self {
        self.width_mm = Some(width_mm);
        self
    }

    /// Its width on paper, if one is set.
    pub(in crate::report) fn width_on_paper(&self) -> Option<u16> {
        match self.kind {
            ColumnKind::WriteIn { width_mm } => Some(self.width_mm.unwrap_or(width_mm)),
            ColumnKind::Left | ColumnKind::Right | ColumnKind::Decimal => self.width_mm,
        }
    }

    /// Head and unit in one line: "Weigh (g)".
    pub(in crate::report) fn full_header(&self) -> Text {
        if self.unit.is_blank() {
            return self.header.clone();
        }
        self.header.clone().then(" (").then(&self.unit).then(")")
    }
}

impl Table {
    /// A table without rows.
    pub fn new(columns: impl IntoIterator<Item = Column>) -> Self {
        Self { columns: columns.into_iter().collect(), ..Self::default() }
    }

    /// The same with a line above it that says what it shows.
    pub fn caption(mut self, caption: impl Into<Text>) -> Self {
        self.caption = caption.into();
        self
    }

    /// The same with one more row.
    pub fn row<T: Into<Text>>(mut self, cells: impl IntoIterator<Item = T>) -> Self {
        self.push(cells);
        self
    }

    /// Adds a row. Missing cells are empty; cells too many get columns without a head, so that nothing
    /// that was given is lost.
    pub fn push<T: Into<Text>>(&mut self, cells: impl IntoIterator<Item = T>) {
        let cells = self.fitted(cells);
        self.rows.push(cells);
    }

    /// The same with a last row for sums. CSV leaves it out, since it is not one of the things listed.
    pub fn total<T: Into<Text>>(mut self, cells: impl IntoIterator<Item = T>) -> Self {
        self.total = Some(self.fitted(cells));
        self
    }

    /// The same as the continuation of a table with the same columns right above it: on paper its head is
    /// not repeated.
    pub fn continued(mut self) -> Self {
        self.continued = true;
        self
    }

    /// The same as a table of like columns: where they don't fit side by side, a screen shows some of them and
    /// the others below, the first column again before each. Paper and files show it whole.
    pub fn in_bands(mut self) -> Self {
        self.in_bands = true;
        self
    }

    /// True if a screen may set it in bands.
    pub(in crate::report) fn is_in_bands(&self) -> bool {
        self.in_bands
    }

    /// The first column and those from `start` up to `end`, without the caption.
    pub(in crate::report) fn band(&self, start: usize, end: usize) -> Self {
        fn cut<T: Clone>(all: &[T], start: usize, end: usize) -> Vec<T> {
            all.iter().take(1).chain(all.get(start..end).unwrap_or_default()).cloned().collect()
        }
        Self {
            caption: Text::default(),
            columns: cut(&self.columns, start, end),
            rows: self.rows.iter().map(|row| cut(row, start, end)).collect(),
            total: self.total.as_ref().map(|row| cut(row, start, end)),
            continued: self.continued,
            in_bands: false,
        }
    }

    /// True if it goes on from the table above it.
    pub(in crate::report) fn is_continued(&self) -> bool {
        self.continued
    }

    /// The line above it.
    pub fn caption_text(&self) -> &Text {
        &self.caption
    }

    /// Its columns in order.
    pub fn columns(&self) -> &[Column] {
        &self.columns
    }

    /// Its rows in order, without the last row for sums.
    pub fn rows(&self) -> &[Vec<Text>] {
        &self.rows
    }

    /// The last row, for sums.
    pub fn total_row(&self) -> Option<&[Text]> {
        self.total.as_deref()
    }

    /// The same without the last column that is shown only if there is room; `None` if there is none left.
    pub(in crate::report) fn narrower(&self) -> Option<(Self, Text)> {
        let at = self.columns.iter().rposition(|column| column.if_room)?;
        let mut narrower = self.clone();
        let column = narrower.columns.remove(at);
        for row in narrower.rows.iter_mut().chain(narrower.total.as_mut()) {
            row.remove(at);
        }
        Some((narrower, column.full_header()))
    }

    /// True if any column has a head.
    pub(in crate::report) fn has_header(&self) -> bool {
        self.columns.iter().any(|column| !column.header.is_blank() || !column.unit.is_blank())
    }

    /// Rows and last row, in order.
    pub(in crate::report) fn all_rows(&self) -> impl Iterator<Item = &[Text]> {
        self.rows.iter().map(Vec::as_slice).chain(self.total_row())
    }

    /// The plain cells of one column, the last row's too.
    pub(in crate::report) fn cells_of(&self, index: usize) -> Vec<String> {
        self.all_rows().map(|row| row.get(index).map(Text::to_string).unwrap_or_default()).collect()
    }

    fn fitted<T: Into<Text>>(&mut self, cells: impl IntoIterator<Item = T>) -> Vec<Text> {
        let mut cells: Vec<Text> = cells.into_iter().map(Into::into).collect();
        let width = self.columns.len().max(cells.len());
        cells.resize(width, Text::default());
        // Only a row that is wider than all before it changes them: tables may have many rows.
        if self.columns.len() < width {
            self.columns.resize_with(width, || column(""));
            for row in self.rows.iter_mut().chain(self.total.as_mut()) {
                row.resize(width, Text::default());
            }
        }
        cells
    }
}
