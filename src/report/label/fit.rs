//! What fits on a label: type as large as it can be, and no more left off than must be.

use super::content::LabelContent;
use super::lines::{Cut, LEADING, Line, Lines, lines, signal};
use super::stock::{LabelStock, Measures};
use crate::report::lettering::{Weight, width};

/// By so much a type size is lowered at a time, in millimetres.
const STEP: f64 = 0.1;

/// Lines with their places.
pub(super) struct Fitted {
    pub placed: Vec<Placed>,
    pub left_off: Vec<&'static str>,
}

/// A line and where it begins, in millimetres from the upper left corner.
pub(super) struct Placed {
    pub line: Line,
    pub x: f64,
    /// Height of its baseline.
    pub y: f64,
}

/// The place for the code.
pub(super) fn code_line(code: &str, measures: &Measures) -> Placed {
    let wide = width(code, Weight::Bold);
    let place = |size: f64, x: f64, y: f64| Placed {
        line: Line { text: code.to_owned(), weight: Weight::Bold, size },
        x,
        y,
    };
    if measures.code_below {
        let free = measures.height - measures.qr_inset - measures.qr_side;
        let side = measures.qr_side - 1.5;
        let size = measures.code_size.min(side / wide).min(free / 1.1);
        let x = measures.qr_inset + (measures.qr_side - size * wide) / 2.0;
        // Capitals are 0.72 of the type size high: they stand in the middle of what is free, but close below
        // the squares and never so low that a small letter would be cut.
        let below = ((free - 0.72 * size) / 2.0).max(0.22 * size).max(free - 1.6 * size);
        return place(size, x.max(measures.qr_inset), measures.height - below);
    }
    let (left, right) = text_edges(measures);
    let size = measures.code_size.min(0.6 * (right - left) / wide);
    place(size, left, measures.margin + 0.8 * size)
}

fn text_edges(measures: &Measures) -> (f64, f64) {
    (measures.qr_inset + measures.qr_side + 0.8, measures.width - measures.margin)
}

/// The text with as little left off as possible, then as large as possible. What has the last cut is kept
/// even if it should not fit, which the tests rule out for any content.
pub(super) fn fit(label: &LabelContent, stock: LabelStock) -> Fitted {
    let (largest, smallest) = stock.measures().text_sizes;
    let steps = ((largest - smallest) / STEP).round() as usize;
    for count in 0..=Cut::IN_ORDER.len() {
        let sizes = (0..=steps).map(|step| largest - STEP * step as f64);
        let fitting =
            sizes.map(|size| place(label, stock, &Cut::IN_ORDER[..count], size)).find(|(_, fits)| *fits);
        if let Some((fitted, _)) = fitting {
            return fitted;
        }
    }
    place(label, stock, &Cut::IN_ORDER, smallest).0
}

/// The lines below each other, and whether all of them lie on the label.
fn place(label: &LabelContent, stock: LabelStock, cuts: &[Cut], size: f64) -> (Fitted, bool) {
    let measures = stock.measures();
    let (left, right) = text_edges(&measures);
    let Lines { lines, left_off, .. } = lines(label, stock, cuts, size, right - left);
    let mut lines = lines.into_iter().peekable();
    let mut placed = Vec::new();
    let mut top = measures.margin;
    if !measures.code_below {
        let code = code_line(&label.code, &measures);
        let beside = code.x + code.line.size * width(&label.code, Weight::Bold) + 1.5;
        top = code.y + 0.1 * code.line.size;
        // The signal word stands beside the code if there is room for all of it.
        let has_room = |line: &Line| beside + line.size * width(&line.text, line.weight) <= right;
        let is_all = |line: &Line| line.text == signal(label, cuts);
        if let Some(line) = lines.next_if(|line| has_room(line) && is_all(line)) {
            placed.push(Placed { line, x: beside, y: code.y });
        }
    }
    for line in lines {
        let y = top + 0.85 * line.size;
        top += LEADING * line.size;
        placed.push(Placed { line, x: left, y });
    }
    (Fitted { placed, left_off }, top <= measures.height - measures.margin + 1e-9)
}
