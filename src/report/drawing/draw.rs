//! The drawing itself.

use maud::{Markup, html};

use super::place::{Frame, HEAD, HEAD_LINE, PAD, Places, SMALL, SMALL_LINE, label_width, text_height};
use super::{Diagram, DiagramBox, Outline};
use crate::report::lettering::{FONT, Weight, drawable, length, width};

/// Length of the head of an arrow.
const TIP: f64 = 8.0;

/// The whole as SVG 1.1.
pub(super) fn svg(diagram: &Diagram, places: &Places) -> String {
    let (width, height) = (length(places.width), length(places.height));
    let drawing = html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(width) height=(height)
            viewBox=(format!("0 0 {width} {height}")) font-family=(FONT) font-size=(length(SMALL)) {
            title { (drawable(&diagram.title)) }
            g fill="none" stroke="#000" stroke-width="1" {
                @for (arrow, way) in diagram.arrows.iter().zip(&places.ways) {
                    path d=(line(way, &arrow.label, stands_at_start(diagram, arrow.from, arrow.to))) {}
                }
            }
            g { @for way in &places.ways { (tip(way)) } }
            @for (shown, frame) in diagram.boxes.iter().zip(&places.boxes) { (one_box(shown, frame)) }
            // White around the letters keeps a label readable where an arrow passes below it.
            g stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke" {
                @for (arrow, way) in diagram.arrows.iter().zip(&places.ways) {
                    (label(&arrow.label, way, stands_at_start(diagram, arrow.from, arrow.to)))
                }
            }
        }
    };
    drawing.into_string()
}

/// A smooth line through all points, level at each of them and beside its label; it ends where the head of
/// the arrow begins.
fn line(way: &[(f64, f64)], words: &str, at_start: bool) -> String {
    let (Some(&(left, _)), Some(&(right, last))) = (way.first(), way.last()) else { return String::new() };
    let beside = label_width(words);
    let mut path = format!("M{} {}", length(left), length(way[0].1));
    for (index, pair) in way.windows(2).enumerate() {
        let ((mut x0, y0), (mut x1, y1)) = (pair[0], pair[1]);
        if index % 2 == 1 {
            path.push_str(&format!("H{}", length(x1)));
            continue;
        }
        if at_start && x0 == left {
            x0 += beside;
            path.push_str(&format!("H{}", length(x0)));
        }
        if !at_start && x1 == right {
            x1 -= beside + TIP;
        }
        let half = length((x0 + x1) / 2.0);
        let (y0, x1, y1) = (length(y0), length(x1), length(y1));
        path.push_str(&format!("C{half} {y0} {half} {y1} {x1} {y1}"));
    }
    path.push_str(&format!("L{} {}", length(right - TIP + 1.0), length(last)));
    path
}

fn tip(way: &[(f64, f64)]) -> Markup {
    let Some(&(x, y)) = way.last() else { return Markup::default() };
    let back = length(x - TIP);
    let (low, high) = (length(y - TIP / 2.5), length(y + TIP / 2.5));
    html! { path d=(format!("M{} {}L{back} {low}L{back} {high}Z", length(x), length(y))) {} }
}

/// A label stands at the end of its arrow where fewer others begin or end.
fn stands_at_start(diagram: &Diagram, from: usize, to: usize) -> bool {
    let starts = diagram.arrows.iter().filter(|arrow| arrow.from == from).count();
    let ends = diagram.arrows.iter().filter(|arrow| arrow.to == to).count();
    starts <= ends
}

fn label(words: &str, way: &[(f64, f64)], at_start: bool) -> Markup {
    let (Some(first), Some(last)) = (way.first(), way.last()) else { return Markup::default() };
    let words = drawable(words);
    if at_start {
        return html! { text x=(length(first.0 + 4.0)) y=(length(first.1 - 3.0)) { (words) } };
    }
    let x = length(last.0 - TIP - 2.0);
    html! { text x=(x) y=(length(last.1 - 3.0)) text-anchor="end" { (words) } }
}

fn one_box(shown: &DiagramBox, frame: &Frame) -> Markup {
    let head_top = frame.middle() - text_height(shown) / 2.0 + PAD;
    let kind_top = head_top + HEAD_LINE * shown.head.len() as f64;
    let x = length(frame.left + PAD);
    let baseline = |top: f64, line: f64, size: f64| length(top + (line + 0.72 * size) / 2.0);
    html! {
        g {
            @if !shown.full.is_empty() { title { (drawable(&shown.full)) } }
            @if shown.stacked { (outline(shown, frame, 6.0)) (outline(shown, frame, 3.0)) }
            (outline(shown, frame, 0.0))
            @for (index, line) in shown.head.iter().enumerate() {
                text x=(x) y=(baseline(head_top + HEAD_LINE * index as f64, HEAD_LINE, HEAD))
                    font-size=(length(HEAD)) font-weight="bold" textLength=(wide(line, Weight::Bold, HEAD))
                    lengthAdjust="spacingAndGlyphs" { (drawable(line)) }
            }
            text x=(x) y=(baseline(kind_top, SMALL_LINE, SMALL)) font-style="italic" { (drawable(&shown.kind)) }
            @for (index, line) in shown.lines.iter().enumerate() {
                text x=(x) y=(baseline(kind_top + SMALL_LINE * (index as f64 + 1.0), SMALL_LINE, SMALL))
                    textLength=(wide(line, Weight::Regular, SMALL)) lengthAdjust="spacingAndGlyphs" {
                    (drawable(line))
                }
            }
        }
    }
}

/// As wide as was reckoned, whatever typeface draws it: nothing runs over the edge of its box.
fn wide(line: &str, weight: Weight, size: f64) -> String {
    length(size * width(line, weight))
}

fn outline(shown: &DiagramBox, frame: &Frame, behind: f64) -> Markup {
    let (left, top) = (frame.left + behind, frame.top + behind);
    let corner = if shown.outline == Outline::Round { "10" } else { "0" };
    let weight = if shown.framed { "3" } else { "1" };
    let dashes = shown.dashed.then_some("5 3");
    let bar = left + 3.5;
    html! {
        rect x=(length(left)) y=(length(top)) width=(length(frame.width)) height=(length(frame.height))
            rx=(corner) fill="#fff" stroke="#000" stroke-width=(weight) stroke-dasharray=[dashes] {}
        @if shown.outline == Outline::Barred {
            path d=(format!("M{} {}V{}", length(bar), length(top), length(top + frame.height)))
                stroke="#000" stroke-width="1" {}
        }
    }
}
