//! The escape sequences of a terminal (ECMA-48, SGR), and the choice to use none.

use crate::report::document::SpanKind;

/// Whether a terminal's colours may be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Style {
    /// Text alone.
    #[default]
    Plain,
    /// Text with bold, faint and coloured parts.
    Ansi,
}

/// What a part of a line is drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ink {
    Plain,
    Bold,
    Faint,
    Code,
    Red,
    Yellow,
}

impl Ink {
    pub(super) fn of(kind: SpanKind) -> Self {
        match kind {
            SpanKind::Plain | SpanKind::Second => Self::Plain,
            SpanKind::Strong | SpanKind::Big => Self::Bold,
            SpanKind::Code => Self::Code,
            SpanKind::Muted => Self::Faint,
        }
    }

    fn sequence(self) -> &'static str {
        match self {
            Self::Plain => "",
            Self::Bold => "\x1b[1m",
            Self::Faint => "\x1b[2m",
            Self::Code => "\x1b[36m",
            Self::Red => "\x1b[1;31m",
            Self::Yellow => "\x1b[1;33m",
        }
    }
}

impl Style {
    /// The text drawn with an ink, if this style has inks.
    pub(super) fn draw(self, ink: Ink, text: &str) -> String {
        if self == Self::Plain || ink == Ink::Plain || text.is_empty() {
            return text.to_owned();
        }
        format!("{}{text}\x1b[0m", ink.sequence())
    }
}
