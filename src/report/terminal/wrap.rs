//! Text broken into lines at its spaces.

use unicode_width::UnicodeWidthStr;

use super::style::{Ink, Style};
use crate::report::document::{SpanKind, Text};

/// A word, or a line of them: pieces of one kind each.
#[derive(Clone, Default)]
struct Run(Vec<(SpanKind, String)>);

/// The lines of a text, none wider than `width` unless one word is. A text without words has no line.
pub(super) fn wrap(text: &Text, width: usize, style: Style) -> Vec<String> {
    let mut lines: Vec<Run> = Vec::new();
    for word in words(text) {
        match lines.last_mut() {
            Some(line) if line.width() + 1 + word.width() <= width => line.append(word),
            _ => lines.push(word),
        }
    }
    lines.iter().map(|line| line.draw(style)).collect()
}

/// The same, with `first` before the first line and as many spaces before the others.
pub(super) fn hang(first: &str, first_width: usize, text: &Text, width: usize, style: Style) -> Vec<String> {
    let lines = wrap(text, width.saturating_sub(first_width), style);
    if lines.is_empty() {
        return vec![first.trim_end().to_owned()];
    }
    let indent = " ".repeat(first_width);
    let start = |index: usize| if index == 0 { first } else { indent.as_str() };
    lines.iter().enumerate().map(|(index, line)| format!("{}{line}", start(index))).collect()
}

/// The width of the longest word.
pub(super) fn longest_word(text: &Text) -> usize {
    words(text).iter().map(Run::width).max().unwrap_or(0)
}

/// The width of a text on one line.
pub(super) fn width_of(text: &Text) -> usize {
    let words = words(text);
    words.iter().map(Run::width).sum::<usize>() + words.len().saturating_sub(1)
}

fn words(text: &Text) -> Vec<Run> {
    let mut words = vec![Run::default()];
    for span in text.spans() {
        for (index, piece) in span.as_str().split(' ').enumerate() {
            if 0 < index {
                words.push(Run::default());
            }
            if let (Some(word), false) = (words.last_mut(), piece.is_empty()) {
                word.0.push((span.kind(), piece.to_owned()));
            }
        }
    }
    words.retain(|word| !word.0.is_empty());
    words
}

impl Run {
    fn width(&self) -> usize {
        self.0.iter().map(|(_, piece)| piece.width()).sum()
    }

    /// Adds a space and a word. The space is drawn like its neighbours where they are alike.
    fn append(&mut self, word: Run) {
        let before = self.0.last().map(|piece| piece.0);
        let after = word.0.first().map(|piece| piece.0);
        let kind = before.filter(|_| before == after).unwrap_or(SpanKind::Plain);
        self.0.push((kind, " ".to_owned()));
        self.0.extend(word.0);
    }

    fn draw(&self, style: Style) -> String {
        let alike = self.0.chunk_by(|one, next| one.0 == next.0);
        let drawn = alike.map(|pieces| {
            let text: String = pieces.iter().map(|piece| piece.1.as_str()).collect();
            style.draw(pieces.first().map_or(Ink::Plain, |piece| Ink::of(piece.0)), &text)
        });
        drawn.collect()
    }
}
