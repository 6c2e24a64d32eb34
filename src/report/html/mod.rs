//! A document as one HTML page that needs nothing else: no script, no network, no font of its own.
//!
//! Made for paper: black and white, boxes to write in with gloves on, weighing targets in large type.

mod blocks;
mod fit;
mod table;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::report::document::{Document, Span, SpanKind, Text};

const PRINT_CSS: &str = include_str!("../print.css");

/// The paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PageSize {
    /// 210 mm × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 in × 11 in.
    Letter,
}

impl PageSize {
    /// Width and height in millimetres.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
        }
    }

    /// Its name in CSS (CSS Paged Media 3, 7.1).
    pub(in crate::report) fn css(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "letter",
        }
    }
}

/// A complete page. Print it from any browser; page numbers need one that knows page margin boxes
/// (CSS Paged Media 3, 5).
pub fn page(document: &Document, size: PageSize) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (document.title().to_string()) }
                style { (PreEscaped(style(document, size))) }
            }
            body { main class=[document.is_form().then_some("form")] { (content(document)) } }
        }
    };
    page.into_string() + "\n"
}

/// The title and blocks alone, to be put into a page that has the style already.
pub fn body(document: &Document) -> String {
    content(document).into_string()
}

/// The style that [`body`] expects around it.
pub fn style(document: &Document, size: PageSize) -> String {
    let (form, margin) = match document.is_form() {
        true => (fit::writing(document, size).css(), " margin: 8mm 10mm 11mm;"),
        false => (String::new(), ""),
    };
    let paper = size.css();
    format!(
        "{PRINT_CSS}{form}@page {{ size: {paper};{margin} @bottom-left {{ content: {}; }} }}\n\
         @page lying {{ size: {paper} landscape; }}\n",
        css_string(&document.footer.to_string()),
    )
}

fn content(document: &Document) -> Markup {
    html! {
        h1 { (document.title()) }
        (blocks::all(document.blocks()))
    }
}

/// A text as a string of CSS, with everything but letters and digits escaped, so that it can neither end
/// the string nor the style element around it (CSS Syntax 3, 4.3.7).
fn css_string(text: &str) -> String {
    let escaped = text.chars().map(|c| match c {
        c if c.is_alphanumeric() || c == ' ' => c.to_string(),
        c => format!("\\{:x} ", u32::from(c)),
    });
    format!("\"{}\"", escaped.collect::<String>())
}

impl maud::Render for Text {
    fn render(&self) -> Markup {
        html! { @for span in self.spans() { (span) } }
    }
}

impl maud::Render for Span {
    fn render(&self) -> Markup {
        let text = self.as_str();
        match self.kind() {
            SpanKind::Plain => html! { (text) },
            SpanKind::Strong => html! { strong { (text) } },
            SpanKind::Code => html! { code { (text) } },
            SpanKind::Muted => html! { span.muted { (text) } },
            SpanKind::Big => html! { span.big { (text) } },
            SpanKind::Second => html! { span.second { (text) } },
        }
    }
}
