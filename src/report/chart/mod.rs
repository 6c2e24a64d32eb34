//! Charts: one model, drawn as SVG by the library `plotters` and as characters for a screen by hand.

mod frame;
mod screen;
mod svg;

pub(super) use screen::lines;
pub(super) use svg::svg;
