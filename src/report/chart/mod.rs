//! Charts: one model, drawn as SVG by the library `plotters` and as characters for a screen by hand.

mod beside;
mod frame;
mod mark;
mod screen;
pub(super) mod strip;
mod svg;
mod ticks;
mod tone;

pub(super) use screen::lines;
pub(super) use svg::svg;
