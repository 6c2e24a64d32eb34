//! A triangle as characters.

use unicode_width::UnicodeWidthStr as _;

use super::{Field, Place, Triangle, TriangleMark};
use crate::report::document::Stroke;

/// Rows from the upper corner to the lower edge.
const ROWS: usize = 22;
/// Columns on each side of the middle, in the lowest row: letters are about twice as high as wide.
const HALF: usize = 25;
/// What stands for the parts between isolines, from the lowest up.
const SIGNS: &str = "abcdefghijklmnopqrstuvwxyz";

/// The lines of the drawing with a legend below.
pub(super) fn lines(triangle: &Triangle) -> Vec<String> {
    let mut canvas = vec![vec![' '; 2 * HALF + 1]; ROWS + 1];
    if let Some(field) = &triangle.field {
        fill(&mut canvas, field);
    }
    outline(&mut canvas);
    for mark in &triangle.marks {
        draw(&mut canvas, mark);
    }
    let [first, second, third] = &triangle.corners;
    let margin = second.width().max(4) / 2;
    let indent = " ".repeat(margin);
    let mut lines = vec![format!("{}{first}", " ".repeat((margin + HALF).saturating_sub(first.width() / 2)))];
    lines.extend(
        canvas
            .into_iter()
            .map(|row| format!("{indent}{}", row.into_iter().collect::<String>()).trim_end().to_owned()),
    );
    let gap = (2 * HALF + 1 + margin).saturating_sub(second.width() + third.width() / 2);
    lines.push(format!("{second}{}{third}", " ".repeat(gap.max(2))));
    lines.extend(triangle.field.iter().flat_map(legend));
    lines.extend(triangle.marks.iter().filter_map(named));
    lines
}

/// The place that a character stands for; `None` outside of the triangle.
fn place(row: usize, column: usize) -> Option<Place> {
    let first = 1.0 - row as f64 / ROWS as f64;
    let across = (column as f64 - HALF as f64) / (2 * HALF) as f64;
    let third = across + (1.0 - first) / 2.0;
    let second = 1.0 - first - third;
    let inside = |part: f64| -0.01 <= part;
    (inside(second) && inside(third)).then(|| [first, second.max(0.0), third.max(0.0)])
}

/// The character of a place.
fn cell([first, _, third]: Place) -> (usize, usize) {
    let row = (ROWS as f64 * (1.0 - first)).round() as usize;
    let column = (HALF as f64 + 2.0 * HALF as f64 * (third - (1.0 - first) / 2.0)).round() as usize;
    (row.min(ROWS), column.min(2 * HALF))
}

fn fill(canvas: &mut [Vec<char>], field: &Field) {
    for (row, cells) in canvas.iter_mut().enumerate() {
        for (column, cell) in cells.iter_mut().enumerate() {
            let Some(value) = place(row, column).and_then(|place| field.lattice.at(place)) else { continue };
            let passed = field.levels.iter().filter(|level| **level <= value).count();
            *cell = SIGNS.chars().nth(passed).unwrap_or('z');
        }
    }
}

/// Only where nothing else stands.
fn outline(canvas: &mut [Vec<char>]) {
    let corners = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]];
    for at in 0..3 {
        for place in between(corners[at], corners[(at + 1) % 3]) {
            let (row, column) = cell(place);
            if canvas[row][column] == ' ' {
                canvas[row][column] = '.';
            }
        }
    }
}

fn between(one: Place, other: Place) -> impl Iterator<Item = Place> {
    let steps = 4 * HALF;
    (0..=steps).map(move |step| {
        let part = step as f64 / steps as f64;
        std::array::from_fn(|at| one[at] + part * (other[at] - one[at]))
    })
}

fn draw(canvas: &mut [Vec<char>], mark: &TriangleMark) {
    match mark {
        TriangleMark::Line { places, stroke } => {
            let sign = if *stroke == Stroke::Strong { '•' } else { '·' };
            // A hand-width of dots says no more on a screen than the words beside it.
            let shown = *stroke != Stroke::Dotted;
            for pair in places.windows(2).filter(|_| shown) {
                for place in between(pair[0], pair[1]) {
                    let (row, column) = cell(place);
                    canvas[row][column] = sign;
                }
            }
        }
        TriangleMark::Points { places, shape, .. } => {
            for place in places {
                let (row, column) = cell(*place);
                canvas[row][column] = shape.sign();
            }
        }
        TriangleMark::Words { .. } => {}
    }
}

/// What each letter means, several in a line.
fn legend(field: &Field) -> Vec<String> {
    let (low, high) = field.lattice.range();
    let ends = |at: usize| {
        let from = at.checked_sub(1).and_then(|before| field.levels.get(before));
        match (from, field.levels.get(at)) {
            (None, None) => format!("{} to {} {}", field.number(low), field.number(high), field.unit),
            (None, Some(to)) => format!("below {} {}", field.number(*to), field.unit),
            (Some(from), None) => format!("{} {} and above", field.number(*from), field.unit),
            (Some(from), Some(to)) => {
                format!("{} to {} {}", field.number(*from), field.number(*to), field.unit)
            }
        }
    };
    let entries: Vec<String> = SIGNS
        .chars()
        .take(field.levels.len() + 1)
        .enumerate()
        .map(|(at, sign)| format!("{sign} {}", ends(at).trim_end()))
        .collect();
    let widest = entries.iter().map(|entry| entry.width()).max().unwrap_or(0);
    let rows = entries.chunks((72 / (widest + 3)).max(1));
    let padded = |entry: &String| format!("{entry}{}", " ".repeat(widest + 3 - entry.width()));
    rows.map(|row| row.iter().map(padded).collect::<String>().trim_end().to_owned()).collect()
}

fn named(mark: &TriangleMark) -> Option<String> {
    match mark {
        TriangleMark::Points { shape, label, .. } if !label.is_empty() => {
            Some(format!("{} {label}", shape.sign()))
        }
        _ => None,
    }
}
