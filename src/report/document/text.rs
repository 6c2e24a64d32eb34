//! One line of text made of spans: what is meant by each, not how it looks.

use std::fmt;

/// One line of text.
///
/// Line breaks, tabs and other control characters, and the marks that reverse the direction of writing,
/// become spaces: no typed text can move a terminal's cursor or show a lot code backwards. Put a
/// no-break space (U+00A0) between a value and its unit where they must stay on one line.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Text(Vec<Span>);

/// A part of a text that means one thing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span {
    kind: SpanKind,
    text: String,
}

/// What a span is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpanKind {
    /// Ordinary text.
    Plain,
    /// Words that must not be missed.
    Strong,
    /// Something typed exactly so: a code, a command, a path.
    Code,
    /// Less important than what stands beside it.
    Muted,
    /// A value to be read at arm's length, such as a mass to be weighed.
    Big,
    /// What belongs to a value or name: its window, its volume. On paper a line of its own in readable type.
    Second,
}

/// Ordinary text.
pub fn text(text: impl AsRef<str>) -> Text {
    Text::of(SpanKind::Plain, text.as_ref())
}

/// Words that must not be missed.
pub fn strong(text: impl AsRef<str>) -> Text {
    Text::of(SpanKind::Strong, text.as_ref())
}

/// Something typed exactly so: a code, a command, a path.
pub fn code(text: impl AsRef<str>) -> Text {
    Text::of(SpanKind::Code, text.as_ref())
}

/// Text less important than what stands beside it.
pub fn muted(text: impl AsRef<str>) -> Text {
    Text::of(SpanKind::Muted, text.as_ref())
}

/// A value to be read at arm's length.
pub fn big(text: impl AsRef<str>) -> Text {
    Text::of(SpanKind::Big, text.as_ref())
}

/// What belongs to a value or name, on paper a line of its own in readable type. In a line of text a space
/// sets it off, which is put before it here.
pub fn second(text: impl AsRef<str>) -> Text {
    Text::of(SpanKind::Second, &format!(" {}", text.as_ref()))
}

impl Text {
    fn of(kind: SpanKind, text: &str) -> Self {
        if text.is_empty() { Self::default() } else { Self(vec![Span { kind, text: one_line(text) }]) }
    }

    /// This text, then another.
    pub fn then(mut self, next: impl Into<Text>) -> Self {
        for span in next.into().0 {
            match self.0.last_mut() {
                Some(last) if last.kind == span.kind => last.text.push_str(&span.text),
                _ => self.0.push(span),
            }
        }
        self
    }

    /// True if there is nothing to see.
    pub fn is_blank(&self) -> bool {
        self.0.iter().all(|span| span.text.trim().is_empty())
    }

    /// Its spans in order.
    pub fn spans(&self) -> &[Span] {
        &self.0
    }

    /// The text and what follows its first `bytes` bytes. A cut inside a character is moved before it.
    pub(in crate::report) fn split(&self, bytes: usize) -> (Text, Text) {
        let (mut head, mut tail, mut left) = (Text::default(), Text::default(), bytes);
        for span in &self.0 {
            let at = (0..=left.min(span.text.len())).rev().find(|&at| span.text.is_char_boundary(at));
            let (before, after) = span.text.split_at(at.unwrap_or(0));
            head = head.then(Text::of(span.kind, before));
            tail = tail.then(Text::of(span.kind, after));
            left = left.saturating_sub(span.text.len());
        }
        (head, tail)
    }
}

impl Span {
    /// What it is.
    pub fn kind(&self) -> SpanKind {
        self.kind
    }

    /// Its text.
    pub fn as_str(&self) -> &str {
        &self.text
    }
}

fn one_line(text: &str) -> String {
    let unseen = |c: char| {
        c.is_control() || matches!(c, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
    };
    text.replace(unseen, " ")
}

/// The text without its meaning.
impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|span| f.write_str(&span.text))
    }
}

impl From<&str> for Text {
    fn from(plain: &str) -> Self {
        text(plain)
    }
}

impl From<String> for Text {
    fn from(plain: String) -> Self {
        text(plain)
    }
}

impl From<&String> for Text {
    fn from(plain: &String) -> Self {
        text(plain)
    }
}

impl From<&Text> for Text {
    fn from(text: &Text) -> Self {
        text.clone()
    }
}
