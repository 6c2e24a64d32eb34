//! HTML: nothing that was typed becomes a tag, every tag is closed, nothing comes from elsewhere.

use meltbook::report::document::{Document, Text, paragraph, strong, text};
use meltbook::report::html::{self, PageSize};
use proptest::prelude::*;

use super::sample::{any_document, gallery};

const EMPTY: [&str; 3] = ["meta", "br", "col"];
const KNOWN: [&str; 42] = [
    "html",
    "head",
    "title",
    "style",
    "body",
    "main",
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "p",
    "ul",
    "ol",
    "li",
    "dl",
    "dt",
    "dd",
    "div",
    "span",
    "strong",
    "code",
    "table",
    "caption",
    "thead",
    "tbody",
    "tr",
    "th",
    "td",
    "colgroup",
    "col",
    "aside",
    "section",
    "figure",
    "figcaption",
    "svg",
    "path",
    "meta",
    "br",
    "i",
    "b",
    "a",
];
const ATTRIBUTES: [&str; 17] = [
    "lang",
    "charset",
    "name",
    "content",
    "class",
    "style",
    "scope",
    "role",
    "aria-label",
    "xmlns",
    "width",
    "height",
    "viewBox",
    "d",
    "fill",
    "stroke",
    "stroke-width",
];

/// Walks over all tags (HTML Living Standard, 13.1.2): each known, with known quoted attributes, and
/// closed in turn. Gives the text between them.
fn text_between_tags(page: &str) -> String {
    let mut open: Vec<&str> = Vec::new();
    let mut text = String::new();
    let mut rest = page.strip_prefix("<!DOCTYPE html>").unwrap_or(page);
    while let Some(start) = rest.find('<') {
        text.push_str(&rest[..start]);
        let end = start + rest[start..].find('>').expect("every tag ends");
        let tag = &rest[start + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name), "closed in turn");
            continue;
        }
        let (name, attributes) = tag.split_once(' ').unwrap_or((tag, ""));
        let name = name.trim_end_matches('/');
        assert!(KNOWN.contains(&name), "unknown tag {name:?}");
        check_attributes(attributes.trim_end_matches('/'));
        if !EMPTY.contains(&name) && !tag.ends_with('/') {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "not closed: {open:?}");
    text.push_str(rest);
    text
}

fn check_attributes(mut attributes: &str) {
    while !attributes.trim().is_empty() {
        let (name, value) = attributes.trim_start().split_once("=\"").expect("quoted");
        assert!(ATTRIBUTES.contains(&name), "unknown attribute {name:?}");
        attributes = value.split_once('"').expect("quoted").1;
    }
}

fn unescape(text: &str) -> String {
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn any_text_stays_text(document in any_document()) {
        text_between_tags(&html::page(&document, PageSize::A4));
        text_between_tags(&html::body(&document));
    }

    #[test]
    fn no_text_is_lost(document in any_document()) {
        let shown = unescape(&text_between_tags(&html::body(&document)));
        prop_assert!(shown.starts_with(&document.title().to_string()));
        for table in document.tables() {
            for cell in table.rows().iter().flatten() {
                prop_assert!(shown.contains(&cell.to_string()), "{cell:?} is missing");
            }
        }
    }
}

#[test]
fn the_name_of_the_page_has_no_tags() {
    let page = html::page(&Document::new(strong("a").then(" <b>")), PageSize::A4);
    assert!(page.contains("<title>a &lt;b&gt;</title>"));
    assert!(page.contains("<h1><strong>a</strong> &lt;b&gt;</h1>"));
}

#[test]
fn the_four_characters_are_escaped() {
    let document = Document::new("a").with(paragraph("<b>&\""));
    assert!(html::body(&document).contains("<p>&lt;b&gt;&amp;&quot;</p>"));
}

#[test]
fn the_footer_cannot_leave_its_css_string() {
    let document = Document::new("a").footer("E-1 \"} </style>");
    let style = html::style(&document, PageSize::Letter);
    assert!(
        style
            .contains("size: letter; @bottom-left { content: \"E\\2d 1 \\22 \\7d  \\3c \\2f style\\3e \"; }")
    );
}

#[test]
fn the_page_needs_nothing_from_elsewhere() {
    let page = html::page(&gallery(), PageSize::A4).replace("http://www.w3.org/2000/svg", "");
    for elsewhere in ["http:", "https:", "url(", "@import", "<script", "<link", "src="] {
        assert!(!page.contains(elsewhere), "{elsewhere}");
    }
    assert!(page.starts_with("<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\">"));
}

#[test]
fn control_characters_become_spaces() {
    let given: Text = text("a\u{1b}[31m\nb\u{202e}c");
    assert_eq!(given.to_string(), "a [31m b c");
}
