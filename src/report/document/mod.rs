//! The document model: headings, text, tables, cautions and boxes to write in, with no look of their own.
//!
//! Views build a [`Document`] from these and never touch a format; a format knows nothing of chemistry.

mod boxes;
mod caution;
mod chain;
mod chart;
mod list;
mod table;
mod text;
mod tree;

pub use boxes::{Boxes, WriteIn, write_ins};
pub use caution::{Caution, Severity};
pub use chain::{Chain, Step};
pub use chart::{Axis, Chart, Mark, Series, Shape, Stroke};
pub use list::{Fact, List, ListKind, bullets, checklist, facts, numbered};
pub use table::{Column, ColumnKind, Table, column};
pub use text::{Span, SpanKind, Text, big, code, muted, second, strong, text};
pub use tree::{Tree, tree};

/// A titled sequence of blocks.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    pub(super) title: Text,
    pub(super) footer: Text,
    pub(super) blocks: Vec<Block>,
    form: bool,
    data: Option<Table>,
}

/// One part of a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A heading below the title; level 1 is the highest.
    Heading {
        /// 1 to 4.
        level: u8,
        /// What it says.
        text: Text,
    },
    /// Running text.
    Paragraph(Text),
    /// Points one below the other.
    List(List),
    /// Names with their values.
    Facts(Vec<Fact>),
    /// Rows and columns.
    Table(Table),
    /// Something to heed.
    Caution(Caution),
    /// Labelled boxes to be filled in by hand.
    Boxes(Boxes),
    /// The lines of a calculation.
    Chain(Chain),
    /// Things that stand under one another.
    Tree(Tree),
    /// A drawing.
    Figure(Figure),
    /// A chart.
    Chart(Chart),
    /// Blocks that stay on one page if they fit on one.
    Together(Vec<Block>),
    /// What follows starts on a new page.
    PageBreak,
}

/// A drawing made by this program.
#[derive(Debug, Clone, PartialEq)]
pub struct Figure {
    pub(super) svg: String,
    pub(super) description: Text,
    pub(super) caption: Text,
    pub(super) characters: Vec<String>,
    pub(super) lying: bool,
}

impl Document {
    /// An empty document.
    pub fn new(title: impl Into<Text>) -> Self {
        Self { title: title.into(), footer: Text::default(), blocks: Vec::new(), form: false, data: None }
    }

    /// The same with a line at the foot of every printed page, such as the lot code, so that a loose page
    /// can be told from others. The page number is printed beside it in any case.
    pub fn footer(mut self, footer: impl Into<Text>) -> Self {
        self.footer = footer.into();
        self
    }

    /// The same as a form to be filled in by hand: on paper it is set close, with wide columns, so that as
    /// much as can be fits on one page.
    pub fn as_form(mut self) -> Self {
        self.form = true;
        self
    }

    /// The same with a table for scripts, where people are shown less than each row: CSV is that one then.
    pub fn with_data(mut self, table: Table) -> Self {
        self.data = Some(table);
        self
    }

    /// The table for scripts: the one that was set, else the first that there is.
    pub fn data(&self) -> Option<&Table> {
        self.data.as_ref().or_else(|| self.tables().into_iter().next())
    }

    /// True if it is a form to be filled in by hand.
    pub fn is_form(&self) -> bool {
        self.form
    }

    /// The same with one more block.
    pub fn with(mut self, block: impl Into<Block>) -> Self {
        self.push(block);
        self
    }

    /// Adds a block.
    pub fn push(&mut self, block: impl Into<Block>) {
        self.blocks.push(block.into());
    }

    /// Adds blocks.
    pub fn extend<B: Into<Block>>(&mut self, blocks: impl IntoIterator<Item = B>) {
        self.blocks.extend(blocks.into_iter().map(Into::into));
    }

    /// What it is called.
    pub fn title(&self) -> &Text {
        &self.title
    }

    /// Its blocks in order.
    pub fn blocks(&self) -> &[Block] {
        &self.blocks
    }

    /// Every table in order, also those kept together with other blocks.
    pub fn tables(&self) -> Vec<&Table> {
        let mut tables = Vec::new();
        collect_tables(&self.blocks, &mut tables);
        tables
    }
}

fn collect_tables<'d>(blocks: &'d [Block], tables: &mut Vec<&'d Table>) {
    for block in blocks {
        match block {
            Block::Table(table) => tables.push(table),
            Block::Together(inner) => collect_tables(inner, tables),
            _ => {}
        }
    }
}

impl Figure {
    /// A drawing, and what it shows for those who can't see it. The SVG goes into HTML as it is, so it
    /// must come from this program, with every text in it escaped.
    pub fn new(svg: impl Into<String>, description: impl Into<Text>) -> Self {
        Self {
            svg: svg.into(),
            description: description.into(),
            caption: Text::default(),
            characters: Vec::new(),
            lying: false,
        }
    }

    /// The same with what a screen shows of it, line by line, in characters.
    pub fn in_characters(mut self, lines: Vec<String>) -> Self {
        // Control characters in a name must not reach a terminal.
        self.characters = lines.iter().map(|line| text(line).to_string()).collect();
        self
    }

    /// The same on a page of its own that lies on its side, since it is too wide for one that stands.
    pub fn lying(mut self) -> Self {
        self.lying = true;
        self
    }

    /// The drawing alone.
    pub fn svg(&self) -> &str {
        &self.svg
    }

    /// The same with a line below it.
    pub fn caption(mut self, caption: impl Into<Text>) -> Self {
        self.caption = caption.into();
        self
    }
}

/// A heading below the title. Level 1 is the highest, 4 the lowest; others are taken as the nearest.
pub fn heading(level: u8, text: impl Into<Text>) -> Block {
    Block::Heading { level: level.clamp(1, 4), text: text.into() }
}

/// Running text.
pub fn paragraph(text: impl Into<Text>) -> Block {
    Block::Paragraph(text.into())
}

/// Blocks that stay on one printed page if they fit on one.
pub fn together<B: Into<Block>>(blocks: impl IntoIterator<Item = B>) -> Block {
    Block::Together(blocks.into_iter().map(Into::into).collect())
}

/// What follows starts on a new page.
pub fn page_break() -> Block {
    Block::PageBreak
}

macro_rules! block_from {
    ($($name:ident),+) => {$(
        impl From<$name> for Block {
            fn from(block: $name) -> Self {
                Self::$name(block)
            }
        }
    )+};
}

block_from!(List, Table, Caution, Boxes, Chain, Tree, Figure, Chart);
