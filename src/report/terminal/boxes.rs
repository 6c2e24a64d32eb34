//! Boxes to write in, as labelled lines.

use unicode_width::UnicodeWidthStr;

use super::style::Style;
use super::wrap::{longest_word, width_of, wrap};
use crate::report::document::{Boxes, WriteIn, muted};

const GAP: usize = 2;
/// Less than this is no room to write in.
const LEAST: usize = 8;

/// The rows of boxes with an empty line between them.
pub(super) fn lines(boxes: &Boxes, width: usize, style: Style) -> Vec<String> {
    let rows: Vec<Vec<String>> = boxes.rows.iter().map(|row| self::row(row, width, style)).collect();
    rows.join(&String::new())
}

/// Side by side if every label and its line find room, else one below the other.
fn row(row: &[WriteIn], width: usize, style: Style) -> Vec<String> {
    let gaps = GAP * row.len().saturating_sub(1);
    let shares: usize = row.iter().map(|write_in| usize::from(write_in.width)).sum();
    let room = width.saturating_sub(gaps);
    let widths: Vec<usize> =
        row.iter().map(|write_in| room * usize::from(write_in.width) / shares.max(1)).collect();
    let fits = row.iter().zip(&widths).all(|(write_in, &width)| needed(write_in) <= width);
    if fits {
        let drawn: Vec<Vec<String>> =
            row.iter().zip(&widths).map(|(write_in, &width)| one(write_in, width, style)).collect();
        return side_by_side(&drawn, &widths);
    }
    let drawn: Vec<Vec<String>> = row.iter().map(|write_in| one(write_in, width, style)).collect();
    drawn.join(&String::new())
}

fn needed(write_in: &WriteIn) -> usize {
    let line = width_of(&write_in.value).max(LEAST) + width_of(&write_in.unit) + 1;
    line.max(longest_word(&write_in.label)).max(width_of(&write_in.label))
}

/// The label, then for every line an empty one to leave room and one to write on.
fn one(write_in: &WriteIn, width: usize, style: Style) -> Vec<String> {
    let mut lines = wrap(&muted(write_in.label.to_string()), width, style);
    let value = write_in.value.to_string();
    let unit = write_in.unit.to_string();
    let unit = if unit.is_empty() { unit } else { format!(" {unit}") };
    for line in 0..write_in.lines {
        let (printed, unit) = if line == 0 { (value.as_str(), unit.as_str()) } else { ("", "") };
        let rule = width.saturating_sub(printed.width() + unit.width());
        lines.push(String::new());
        lines.push(format!("{printed}{}{unit}", "_".repeat(rule)));
    }
    lines
}

fn side_by_side(boxes: &[Vec<String>], widths: &[usize]) -> Vec<String> {
    let height = boxes.iter().map(Vec::len).max().unwrap_or(0);
    let line = |index: usize| {
        let part = |(lines, &width): (&Vec<String>, &usize)| {
            let part = lines.get(index).map(String::as_str).unwrap_or_default();
            let shown = part.replace("\x1b[2m", "").replace("\x1b[0m", "").width();
            format!("{part}{}", " ".repeat((width + GAP).saturating_sub(shown)))
        };
        boxes.iter().zip(widths).map(part).collect::<String>().trim_end().to_owned()
    };
    (0..height).map(line).collect()
}
