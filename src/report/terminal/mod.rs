//! A document as lines for a screen or a text file.
//!
//! No line is wider than asked for unless a single word is, and none ends in a space. Numbers are never
//! broken over two lines. Colour comes only on top of words that say the same.

mod blocks;
mod boxes;
mod columns;
mod style;
mod table;
mod tree;
mod wrap;

pub use style::Style;

use crate::report::document::Document;

/// Narrower screens than this are taken as this wide.
pub const NARROWEST: usize = 20;
/// Wider ones than this as this wide: no eye finds the next line.
pub const WIDEST: usize = 1000;

/// The document in lines of at most `width` columns, [`NARROWEST`] to [`WIDEST`]. A screen has no pages, so no footer.
pub fn render(document: &Document, width: usize, style: Style) -> String {
    let width = width.clamp(NARROWEST, WIDEST);
    let mut groups = vec![blocks::title(document.title(), width, style)];
    groups.extend(blocks::groups(document.blocks(), width, style));
    groups.retain(|lines| !lines.is_empty());
    let mut text = groups.iter().map(|lines| joined(lines)).collect::<Vec<_>>().join("\n");
    // A no-break space has done its work; a copied line must hold ordinary ones.
    for no_break in ['\u{a0}', '\u{2007}', '\u{202f}'] {
        text = text.replace(no_break, " ");
    }
    text.lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

fn joined(lines: &[String]) -> String {
    lines.iter().map(|line| format!("{line}\n")).collect()
}
