//! Faults as a person reads them: what is wrong, the line with a marker, and the way out.

use std::sync::Arc;

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet, normalize_untrusted_str};

use super::terminal::Style;
use crate::input::{Excerpt, Fault, Faults, Place};

/// All faults, each with its picture, an empty line between them. Long lines are cut to `width` columns
/// around the marker; messages are not.
pub fn render(faults: &Faults, width: usize, style: Style) -> String {
    let pictures: Vec<String> = faults.iter().map(|fault| picture(fault, width, style)).collect();
    pictures.join("\n")
}

fn picture(fault: &Fault, width: usize, style: Style) -> String {
    let renderer = match style {
        Style::Plain => Renderer::plain(),
        Style::Ansi => Renderer::styled(),
    };
    let renderer = renderer.decor_style(DecorStyle::Ascii).term_width(width.max(40));
    let shown = Shown::of(&fault.place);
    let title = Level::ERROR.primary_title(normalize_untrusted_str(&fault.message)).id(fault.code);
    let group = match &shown {
        Shown::Lines { origin, excerpt } => title.element(lines(origin, excerpt)),
        Shown::Flag { text, span } => title.element(flag(text, span.clone())),
        Shown::Name(_) => Group::with_title(title),
    };
    let mut picture = renderer.render(&[group]);
    picture.push('\n');
    if let Shown::Name(name) = shown {
        picture.push_str(&format!(" --> {name}\n"));
    }
    if let Some(hint) = &fault.hint {
        let help = Level::HELP.secondary_title(normalize_untrusted_str(hint));
        picture.push_str(&renderer.render(&[Group::with_title(help)]));
        picture.push('\n');
    }
    picture.lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

/// What can be shown of a place.
enum Shown {
    /// A file: the line in question with its number.
    Lines { origin: String, excerpt: Excerpt },
    /// A flag or argument, as it was typed.
    Flag { text: String, span: std::ops::Range<usize> },
    /// A name only.
    Name(String),
}

impl Shown {
    fn of(place: &Place) -> Self {
        let origin = normalize_untrusted_str(&place.origin);
        match &place.excerpt {
            None => Self::Name(origin),
            Some(excerpt) if excerpt.text.contains('\n') => Self::Lines { origin, excerpt: excerpt.clone() },
            Some(excerpt) => {
                let shift = origin.len() + 2;
                let text = format!("{origin} \"{}\"", excerpt.text);
                Self::Flag { text, span: excerpt.span.start + shift..excerpt.span.end + shift }
            }
        }
    }
}

fn lines<'a>(origin: &'a str, excerpt: &'a Excerpt) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let text: &str = Arc::as_ref(&excerpt.text);
    Snippet::source(text)
        .path(origin)
        .annotation(AnnotationKind::Primary.span(first_line_of(text, excerpt.span.clone())))
}

fn flag(text: &str, span: std::ops::Range<usize>) -> Snippet<'_, annotate_snippets::Annotation<'_>> {
    Snippet::source(text).line_numbering(false).annotation(AnnotationKind::Primary.span(span))
}

/// A span over several lines, such as a whole table, is marked on its first line only: the picture stays
/// as short as the fault.
fn first_line_of(text: &str, span: std::ops::Range<usize>) -> std::ops::Range<usize> {
    let end = text[span.clone()].find('\n').map_or(span.end, |at| span.start + at);
    span.start..end
}
