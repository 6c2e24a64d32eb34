//! Text that Markdown shows as it is.

use crate::report::document::{Span, SpanKind, Text};

/// A text at the start of a line, where more characters have a meaning: those of lists, headings and rules.
pub(super) fn line(text: &Text) -> String {
    let inline = inline(text);
    let digits = inline.bytes().take_while(u8::is_ascii_digit).count();
    let (number, rest) = inline.split_at(digits);
    let mark = rest.chars().next();
    let ends_word = matches!(rest.chars().nth(1), None | Some(' ' | '-'));
    let means_more = match mark {
        Some('.' | ')') => 0 < digits && ends_word,
        Some('-' | '+') => digits == 0 && ends_word,
        Some('#' | '=') => digits == 0,
        _ => false,
    };
    if means_more { format!("{number}\\{rest}") } else { inline }
}

/// A text inside a line.
pub(super) fn inline(text: &Text) -> String {
    text.spans().iter().map(|part| span(part, code)).collect::<String>().trim().to_owned()
}

/// A text inside a cell of a table. A bar ends the cell even in code, where it can't be escaped.
pub(super) fn cell(text: &Text) -> String {
    let code = |inner: &str| match inner.contains('|') {
        true => format!("<code>{}</code>", escape(inner)),
        false => code(inner),
    };
    text.spans().iter().map(|part| span(part, code)).collect::<String>().trim().to_owned()
}

fn span(span: &Span, code: impl Fn(&str) -> String) -> String {
    match span.kind() {
        SpanKind::Plain | SpanKind::Muted | SpanKind::Second => escape(span.as_str()),
        SpanKind::Strong | SpanKind::Big => marked(span.as_str(), |inner| format!("**{}**", escape(inner))),
        SpanKind::Code => marked(span.as_str(), code),
    }
}

/// The marks stand directly at the words, or they would be shown as stars.
fn marked(text: &str, mark: impl Fn(&str) -> String) -> String {
    let inner = text.trim();
    if inner.is_empty() {
        return text.to_owned();
    }
    let start = text.len() - text.trim_start().len();
    format!("{}{}{}", &text[..start], mark(inner), &text[start + inner.len()..])
}

/// Between more backticks than the text has in a row.
fn code(text: &str) -> String {
    let longest = text.split(|c| c != '`').map(str::len).max().unwrap_or(0);
    let fence = "`".repeat(longest + 1);
    let space = if text.starts_with('`') || text.ends_with('`') { " " } else { "" };
    format!("{fence}{space}{text}{space}{fence}")
}

fn escape(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => escaped.push_str("&lt;"),
            '>' => escaped.push_str("&gt;"),
            '&' => escaped.push_str("&amp;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '~' | '$' => {
                escaped.push('\\');
                escaped.push(c);
            }
            _ => escaped.push(c),
        }
    }
    escaped
}
