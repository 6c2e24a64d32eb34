//! One label as SVG, in millimetres.

use maud::{Markup, html};

use super::LabelError;
use super::content::LabelContent;
use super::fit::{Placed, code_line, fit};
use super::lines::{missing_on_package, needs_fold_out, on_fold_out};
use super::qr::{Qr, qr};
use super::stock::LabelStock;
use crate::report::lettering::{FONT, Weight, drawable, length, width};

/// A label that is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelDrawing {
    /// The label as SVG, as large as it is in print.
    pub svg: String,
    /// What had no room on it.
    pub left_off: Vec<&'static str>,
    /// True if the scheme asks a label for some of that: it is then printed with a fold-out.
    pub needs_fold_out: bool,
    /// What of it stands on that fold-out.
    pub on_fold_out: Vec<&'static str>,
    /// What stands nowhere but in the book.
    pub in_the_book: Vec<&'static str>,
    /// What of that even the smallest package carries itself: the label is then too small.
    pub too_small_for: Vec<&'static str>,
}

/// Draws a label.
///
/// # Errors
/// If the code can't be printed or is too long for a QR code on such a label.
pub fn label_drawing(label: &LabelContent, stock: LabelStock) -> Result<LabelDrawing, LabelError> {
    let (drawn, left_off) = drawn(label, stock)?;
    let (wide, high) = stock.size_mm();
    let (wide, high) = (length(wide), length(high));
    let svg = html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(format!("{wide}mm")) height=(format!("{high}mm"))
            viewBox=(format!("0 0 {wide} {high}")) font-family=(FONT) { (drawn) }
    };
    let too_small_for = missing_on_package(&left_off);
    let needs_fold_out = needs_fold_out(label, &left_off);
    let (on_fold_out, in_the_book) = on_fold_out(label, stock, &left_off);
    let svg = svg.into_string();
    Ok(LabelDrawing { svg, left_off, needs_fold_out, on_fold_out, in_the_book, too_small_for })
}

/// The label without a frame of reference of its own, and what had no room on it.
pub(super) fn drawn(
    label: &LabelContent,
    stock: LabelStock,
) -> Result<(Markup, Vec<&'static str>), LabelError> {
    let measures = stock.measures();
    let qr = checked_qr(&label.code, stock)?;
    let fitted = fit(label, stock);
    let inset = length(measures.qr_inset);
    let scale = measures.qr_side / qr.modules as f64;
    let markup = html! {
        title { "Label " (drawable(&label.code)) }
        path transform=(format!("translate({inset} {inset}) scale({scale:.5})")) shape-rendering="crispEdges"
            d=(qr.path) {}
        (text(&code_line(&label.code, &measures)))
        @for placed in &fitted.placed { (text(placed)) }
    };
    Ok((markup, fitted.left_off))
}

fn checked_qr(code: &str, stock: LabelStock) -> Result<Qr, LabelError> {
    let side = stock.measures().qr_side;
    if code.trim() != code || code.is_empty() || drawable(code) != code {
        return Err(LabelError::BadCode { code: code.to_owned() });
    }
    let too_long = |module_mm: f64| LabelError::CodeTooLong {
        code: code.to_owned(),
        stock,
        module_mm: format!("{module_mm:.2}"),
    };
    let qr = qr(code).ok_or_else(|| too_long(0.0))?;
    let module_mm = side / qr.modules as f64;
    if module_mm + 1e-9 < LabelStock::SMALLEST_MODULE_MM { Err(too_long(module_mm)) } else { Ok(qr) }
}

/// A line that is as wide as was reckoned, whatever typeface prints it: nothing runs over the edge.
pub(super) fn text(placed: &Placed) -> Markup {
    let line = &placed.line;
    let bold = (line.weight == Weight::Bold).then_some("bold");
    let wide = length(line.size * width(&line.text, line.weight));
    html! {
        text x=(length(placed.x)) y=(length(placed.y)) font-size=(length(line.size)) font-weight=[bold]
            textLength=(wide) lengthAdjust="spacingAndGlyphs" { (line.text) }
    }
}
