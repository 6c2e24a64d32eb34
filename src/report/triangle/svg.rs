//! A triangle as SVG 1.1.

use maud::{Markup, html};

use super::contour::{isolines, region};
use super::{Field, Place, Triangle, TriangleMark};
use crate::report::document::{Shape, Stroke};
use crate::report::lettering::{FONT, Weight, drawable, length, width, wrap};

/// Length of an edge.
const EDGE: f64 = 470.0;
/// Room to the left and right.
const BESIDE: f64 = 95.0;
/// Room above the upper corner, for its name.
const ABOVE: f64 = 44.0;
/// Room below, for numbers, names and the title of the axes.
const BELOW: f64 = 66.0;
/// Size of letters.
const SIZE: f64 = 12.0;
/// Numbers along an edge.
const TICKS: usize = 5;
/// Shortest isoline that bears its number.
const LEAST_LABELLED: f64 = 40.0;
/// Nearer to a point than this no number stands.
const CLOSE: f64 = 28.0;

fn height() -> f64 {
    EDGE * 3f64.sqrt() / 2.0
}

/// Where a place is drawn.
fn at([first, _, third]: Place) -> (f64, f64) {
    (BESIDE + EDGE * (third + first / 2.0), ABOVE + height() * (1.0 - first))
}

pub(super) fn svg(triangle: &Triangle) -> String {
    let (wide, high) = (length(EDGE + 2.0 * BESIDE), length(ABOVE + height() + BELOW));
    let drawing = html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(wide) height=(high)
            viewBox=(format!("0 0 {wide} {high}")) font-family=(FONT) font-size=(length(SIZE)) {
            title { (drawable(&triangle.description)) }
            @if let Some(field) = &triangle.field { (shades(field)) }
            (grid())
            @if let Some(field) = &triangle.field { (lines(field)) }
            @for mark in &triangle.marks { (line(mark)) }
            @if let Some(field) = &triangle.field { (numbers(field, &triangle.marks)) }
            path d=(closed(&[[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])) fill="none" stroke="#000" {}
            (names(triangle))
            @for mark in &triangle.marks { (self::mark(mark)) }
        }
    };
    drawing.into_string()
}

fn way(places: &[Place]) -> String {
    let points = places.iter().enumerate().map(|(index, place)| {
        let (x, y) = at(*place);
        format!("{}{} {}", if index == 0 { "M" } else { "L" }, length(x), length(y))
    });
    points.collect()
}

fn closed(places: &[Place]) -> String {
    way(places) + "Z"
}

/// The lowest shade over all that has a value, and each higher one over what is above its level: pale is high.
fn shades(field: &Field) -> Markup {
    let (low, _) = field.lattice.range();
    let levels = std::iter::once(low).chain(field.levels.iter().copied());
    html! {
        g stroke="none" {
            @for (index, level) in levels.enumerate() {
                @let polygons: String = region(field, level).iter().map(|places| closed(places)).collect();
                path d=(polygons) fill=(shade(index, field.levels.len())) {}
            }
        }
    }
}

/// The palest shade, as a part of the way to white: white itself is what has no value.
const PALEST: f64 = 0.85;

/// From a light blue to a pale one; none is so dark that letters on it can't be read, in grey either.
fn shade(index: usize, count: usize) -> String {
    let part = if count == 0 { PALEST } else { PALEST * index as f64 / count as f64 };
    let mix = |dark: f64| (dark + (255.0 - dark) * part).round() as u8;
    format!("#{:02x}{:02x}{:02x}", mix(142.0), mix(174.0), mix(206.0))
}

/// Thin lines of equal fractions, with their numbers: those of the first component on the left, of the second below,
/// of the third on the right.
fn grid() -> Markup {
    html! {
        g stroke="#000" stroke-opacity="0.18" stroke-width="0.7" {
            @for part in (1..TICKS).map(|tick| tick as f64 / TICKS as f64) {
                @let rest = 1.0 - part;
                path d=(way(&[[part, rest, 0.0], [part, 0.0, rest]])) {}
                path d=(way(&[[rest, part, 0.0], [0.0, part, rest]])) {}
                path d=(way(&[[rest, 0.0, part], [0.0, rest, part]])) {}
            }
        }
        g fill="#444" font-size="11" {
            @for part in (1..TICKS).map(|tick| tick as f64 / TICKS as f64) {
                @let rest = 1.0 - part;
                @let number = format!("{part}");
                (words(at([part, rest, 0.0]), (-7.0, 4.0), "end", &number))
                (words(at([0.0, part, rest]), (-4.0, 15.0), "middle", &number))
                (words(at([rest, 0.0, part]), (7.0, 0.0), "start", &number))
            }
        }
    }
}

fn words((x, y): (f64, f64), (right, down): (f64, f64), anchor: &str, text: &str) -> Markup {
    html! { text x=(length(x + right)) y=(length(y + down)) text-anchor=(anchor) { (drawable(text)) } }
}

/// The names at the corners, and beside each edge whose numbers stand there.
fn names(triangle: &Triangle) -> Markup {
    let [first, second, third] = &triangle.corners;
    let ends = [([0.0, 1.0, 0.0], second, BESIDE), ([0.0, 0.0, 1.0], third, BESIDE)];
    let middle = |one: Place, other: Place| {
        let (a, b) = (at(one), at(other));
        ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0)
    };
    let [a, b, c] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    let turned = |(x, y): (f64, f64), angle: &str, text: String| {
        let place = format!("translate({} {}) rotate({angle})", length(x), length(y));
        html! { text transform=(place) text-anchor="middle" { (drawable(&text)) } }
    };
    let (left, right, below) = (middle(a, b), middle(a, c), middle(b, c));
    html! {
        g font-weight="bold" {
            (words(at(a), (0.0, -10.0), "middle", first))
            @for (place, name, room) in ends {
                @for (line, text) in wrap(name, Weight::Bold, 1.9 * room / SIZE).iter().enumerate() {
                    (words(at(place), (0.0, 32.0 + 14.0 * line as f64), "middle", text))
                }
            }
        }
        g fill="#444" font-size="11" {
            (turned((left.0 - 38.0, left.1 - 16.0), "-60", format!("{first} →")))
            (turned((right.0 + 38.0, right.1 - 16.0), "60", format!("{third} →")))
            (turned((below.0, below.1 + 32.0), "0", format!("← {second}")))
        }
    }
}

fn lines(field: &Field) -> Markup {
    html! {
        g fill="none" stroke="#444" stroke-width="0.9" {
            @for level in &field.levels {
                path d=(isolines(field, *level).iter().map(|piece| way(piece)).collect::<String>()) {}
            }
        }
    }
}

/// A number in the middle of each piece of an isoline that is long enough, but for those that a point would cover.
fn numbers(field: &Field, marks: &[TriangleMark]) -> Markup {
    let points: Vec<(f64, f64)> = marks
        .iter()
        .filter_map(|mark| if let TriangleMark::Points { places, .. } = mark { Some(places) } else { None })
        .flat_map(|places| places.iter().map(|place| at(*place)))
        .collect();
    let free = |(x, y): (f64, f64)| points.iter().all(|(px, py)| CLOSE < (px - x).hypot(py - y));
    html! {
        // White around the letters keeps a number readable on its line.
        g font-size="11" fill="#222" stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke" {
            @for level in &field.levels {
                @for piece in isolines(field, *level).iter().filter(|piece| LEAST_LABELLED < extent(piece)) {
                    @let place = halfway(piece);
                    @if free(place) { (words(place, (0.0, 4.0), "middle", &field.number(*level))) }
                }
            }
        }
    }
}

fn extent(piece: &[Place]) -> f64 {
    piece.windows(2).map(|pair| apart(pair[0], pair[1])).sum()
}

fn apart(one: Place, other: Place) -> f64 {
    let ((x0, y0), (x1, y1)) = (at(one), at(other));
    (x1 - x0).hypot(y1 - y0)
}

fn halfway(piece: &[Place]) -> (f64, f64) {
    let mut left = extent(piece) / 2.0;
    for pair in piece.windows(2) {
        let own = apart(pair[0], pair[1]);
        if left <= own {
            let part = if own == 0.0 { 0.0 } else { left / own };
            let ((x0, y0), (x1, y1)) = (at(pair[0]), at(pair[1]));
            return (x0 + part * (x1 - x0), y0 + part * (y1 - y0));
        }
        left -= own;
    }
    piece.first().map_or((0.0, 0.0), |place| at(*place))
}

/// Lines lie below all numbers and points.
fn line(mark: &TriangleMark) -> Markup {
    let TriangleMark::Line { places, stroke } = mark else { return Markup::default() };
    let (colour, wide, dashes) = match stroke {
        Stroke::Strong => ("#004488", "2.2", "none"),
        Stroke::Thin | Stroke::Through => ("#555", "1", "none"),
        Stroke::Dotted => ("#000", "1.6", "1.6 3.2"),
        Stroke::Dashed => ("#000", "1.4", "5 4"),
    };
    html! { path d=(way(places)) fill="none" stroke=(colour) stroke-width=(wide) stroke-dasharray=(dashes) {} }
}

fn mark(mark: &TriangleMark) -> Markup {
    match mark {
        TriangleMark::Line { .. } => Markup::default(),
        TriangleMark::Points { places, shape, label } => html! {
            @for place in places { (symbol(at(*place), *shape)) }
            @if let Some(last) = places.last() { (beside(at(*last), label)) }
        },
        TriangleMark::Words { at: place, words: text } => html! {
            g font-style="italic" fill="#222" stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke" {
                (words(at(*place), (0.0, 4.0), "middle", text))
            }
        },
    }
}

/// A closed way around a place.
fn outline((x, y): (f64, f64), shape: Shape) -> String {
    let corners: &[(f64, f64)] = match shape {
        Shape::Triangle | Shape::FilledTriangle => &[(0.0, -4.8), (4.6, 3.8), (-4.6, 3.8)],
        Shape::Diamond => &[(0.0, -5.0), (5.0, 0.0), (0.0, 5.0), (-5.0, 0.0)],
        _ => &[(-4.0, -4.0), (4.0, -4.0), (4.0, 4.0), (-4.0, 4.0)],
    };
    let step = |(at, (right, down)): (usize, &(f64, f64))| {
        format!("{}{} {}", if at == 0 { "M" } else { "L" }, length(x + right), length(y + down))
    };
    corners.iter().enumerate().map(step).collect::<String>() + "Z"
}

fn symbol((x, y): (f64, f64), shape: Shape) -> Markup {
    let (cx, cy) = (length(x), length(y));
    match shape {
        Shape::Filled => html! { circle cx=(cx) cy=(cy) r="4.5" fill="#000" stroke="#fff" {} },
        Shape::Hollow => html! { circle cx=(cx) cy=(cy) r="4" fill="#fff" stroke="#000" {} },
        Shape::FilledSquare | Shape::FilledTriangle => {
            html! { path d=(outline((x, y), shape)) fill="#000" stroke="#fff" {} }
        }
        Shape::Square | Shape::Triangle | Shape::Diamond => {
            html! { path d=(outline((x, y), shape)) fill="#fff" stroke="#000" {} }
        }
        Shape::Plus => {
            let (left, right) = (length(x - 4.5), length(x + 4.5));
            let (top, bottom) = (length(y - 4.5), length(y + 4.5));
            html! { path d=(format!("M{left} {cy}L{right} {cy}M{cx} {top}L{cx} {bottom}")) stroke="#000" stroke-width="1.5" {} }
        }
        Shape::Cross => {
            let (left, right) = (length(x - 4.0), length(x + 4.0));
            let (top, bottom) = (length(y - 4.0), length(y + 4.0));
            html! { path d=(format!("M{left} {top}L{right} {bottom}M{left} {bottom}L{right} {top}")) stroke="#000" stroke-width="1.5" {} }
        }
    }
}

/// To the right of a point, or to its left where there is no room.
fn beside((x, y): (f64, f64), label: &str) -> Markup {
    let room = EDGE + 2.0 * BESIDE - x - 12.0;
    let fits = width(label, Weight::Bold) * SIZE < room;
    let (shift, anchor) = if fits { (9.0, "start") } else { (-9.0, "end") };
    html! {
        g font-weight="bold" stroke="#fff" stroke-width="3" stroke-linejoin="round" paint-order="stroke" {
            (words((x, y), (shift, 4.0), anchor, label))
        }
    }
}
