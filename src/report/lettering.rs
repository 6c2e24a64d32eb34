//! How wide text in a drawing is, since a drawing has to say where each line begins.
//!
//! Advance widths of Helvetica and Helvetica Bold for ASCII in thousandths of the type size; Liberation
//! Sans, from which they were read, has the same ones by design. Other characters are taken as wide.

use unicode_width::UnicodeWidthChar;

/// The typefaces that drawings ask for: all have about these widths.
pub(super) const FONT: &str = "Arial, Helvetica, 'Liberation Sans', sans-serif";

/// The weight of a line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Weight {
    Regular,
    Bold,
}

const FIRST: u32 = 0x20;

#[rustfmt::skip]
const REGULAR: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];

#[rustfmt::skip]
const BOLD: [u16; 95] = [
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
    975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
    333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
];

/// Width of a line in units of its type size.
pub(super) fn width(text: &str, weight: Weight) -> f64 {
    text.chars().map(|c| character_width(c, weight)).sum()
}

fn character_width(c: char, weight: Weight) -> f64 {
    let table = match weight {
        Weight::Regular => &REGULAR,
        Weight::Bold => &BOLD,
    };
    let place = u32::from(c).checked_sub(FIRST).and_then(|place| usize::try_from(place).ok());
    match place.and_then(|place| table.get(place)) {
        Some(&thousandths) => f64::from(thousandths) / 1000.0,
        None if matches!(c, '–' | '·' | '°' | 'µ' | '×' | '\u{a0}') => 0.56,
        // Half a column is a letter of medium width; a full column of a wide script is one em and less.
        None => 0.72 * c.width().unwrap_or(0).min(2) as f64,
    }
}

/// Lines none wider than `most`, in units of the type size. A single word that is wider is broken between
/// two characters, so that none of it is lost. A text without words has no line.
pub(super) fn wrap(text: &str, weight: Weight, most: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if width(&longer, weight) <= most {
            line = longer;
            continue;
        }
        lines.extend((!line.is_empty()).then(|| std::mem::take(&mut line)));
        let mut pieces = broken(word, weight, most);
        line = pieces.pop().unwrap_or_default();
        lines.extend(pieces);
    }
    lines.extend((!line.is_empty()).then_some(line));
    lines
}

fn broken(word: &str, weight: Weight, most: f64) -> Vec<String> {
    let mut pieces = vec![String::new()];
    let mut reached = 0.0;
    for c in word.chars() {
        let wide = character_width(c, weight);
        if most < reached + wide && 0.0 < reached {
            pieces.push(String::new());
            reached = 0.0;
        }
        reached += wide;
        if let Some(piece) = pieces.last_mut() {
            piece.push(c);
        }
    }
    pieces
}

/// A text that any reader of SVG takes: characters that XML 1.0 (2.2) does not know become spaces.
pub(super) fn drawable(text: &str) -> String {
    let one_line = super::document::text(text).to_string();
    one_line.replace(['\u{fffe}', '\u{ffff}'], " ")
}

/// A length in a drawing, to a hundredth of its unit.
pub(super) fn length(value: f64) -> String {
    let text = format!("{value:.2}");
    let short = text.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" { "0".to_owned() } else { short.to_owned() }
}
