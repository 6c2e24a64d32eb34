//! Boxes joined by arrows, drawn from left to right as SVG. Black on white, no script, no font of its own.
//!
//! The boxes are put into layers so that each arrow leads to the right (Sugiyama, Tagawa and Toda, IEEE
//! Trans. Syst. Man Cybern. 11 (1981) 109; from memory): `layer` says which box stands in which column,
//! `order` which stands above which, `place` where exactly, `draw` writes it down.

mod draw;
mod layer;
mod order;
mod place;

/// What is to be drawn.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Diagram {
    /// What it shows, in one line.
    pub title: String,
    /// The boxes. Each stands behind those with arrows to it.
    pub boxes: Vec<DiagramBox>,
    /// The arrows.
    pub arrows: Vec<Arrow>,
}

/// A box with a few words.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct DiagramBox {
    /// In large type, one or more lines.
    pub head: Vec<String>,
    /// What kind of thing it is.
    pub kind: String,
    /// In small type below.
    pub lines: Vec<String>,
    /// All that is to be said of it; a browser shows it when pointed at.
    pub full: String,
    /// Its outline.
    pub outline: Outline,
    /// Stands for several things.
    pub stacked: bool,
    /// The one from which all is seen.
    pub framed: bool,
    /// No longer there.
    pub dashed: bool,
}

/// The outline of a box: it says the same as the word in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Outline {
    /// Square corners.
    #[default]
    Square,
    /// Round corners.
    Round,
    /// Square corners and a second line on the left.
    Barred,
}

/// From one box to a later one.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Arrow {
    /// Place of the box where it starts.
    pub from: usize,
    /// Place of the box that it points to.
    pub to: usize,
    /// What it says.
    pub label: String,
}

impl Diagram {
    /// The drawing.
    pub(super) fn svg(&self) -> String {
        self.svg_and_size().0
    }

    /// The drawing, and its width and height in pixels of a browser (1/96 in).
    pub(super) fn svg_and_size(&self) -> (String, (f64, f64)) {
        let columns = layer::columns(self);
        let columns = order::fewer_crossings(columns);
        let places = place::places(self, columns);
        (draw::svg(self, &places), (places.width, places.height))
    }
}
