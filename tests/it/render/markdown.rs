//! Markdown: tables keep their shape whatever stands in them, and no text becomes a tag or a mark.

use meltbook::report::document::{Document, Table, Text, code, column, heading, paragraph, strong, text};
use meltbook::report::markdown;
use proptest::prelude::*;

use super::sample::{any_document, any_table, gallery};

/// Bars that end a cell (GFM 0.29, 4.10: "It is possible to include a pipe in a cell's content by escaping it").
fn cells_in(line: &str) -> usize {
    let mut escaped = false;
    let mut bars = 0;
    for c in line.chars() {
        if c == '|' && !escaped {
            bars += 1;
        }
        escaped = c == '\\' && !escaped;
    }
    bars - 1
}

/// The page without its code spans (CommonMark 0.30, 6.1: from a run of backticks to the next of that length).
fn outside_code(page: &str) -> String {
    let mut outside = String::new();
    let mut rest = page;
    while let Some(at) = rest.find(['`', '\\']) {
        outside.push_str(&rest[..at]);
        rest = &rest[at..];
        if let Some(escaped) = rest.strip_prefix('\\') {
            rest = escaped.strip_prefix(|_: char| true).unwrap_or_default();
            continue;
        }
        let run = rest.len() - rest.trim_start_matches('`').len();
        let after = &rest[run..];
        let closing = |(end, _): &(usize, &str)| {
            let tail = &after[*end..];
            tail.len() - tail.trim_start_matches('`').len() == run && !after[..*end].ends_with('`')
        };
        let (end, _) = after.match_indices('`').find(closing).expect("every code span is closed");
        rest = &after[end + run..];
    }
    outside + rest
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn tables_have_one_number_of_columns(table in any_table()) {
        let columns = table.columns().len();
        let rows = table.rows().len() + usize::from(table.total_row().is_some());
        let page = markdown::render(&Document::new("t").with(table));
        let lines: Vec<&str> = page.lines().filter(|line| line.starts_with('|')).collect();
        prop_assert_eq!(lines.len(), rows + 2);
        for line in lines {
            prop_assert_eq!(cells_in(line), columns, "{}", line);
        }
    }

    #[test]
    fn no_text_becomes_a_tag(document in any_document()) {
        let outside = outside_code(&markdown::render(&document)).replace("<code>", "").replace("</code>", "");
        prop_assert!(!outside.contains('<'), "{}", outside);
    }
}

fn one(text: impl Into<Text>) -> String {
    let page = markdown::render(&Document::new("t").with(paragraph(text)));
    page.trim_start_matches("# t\n\n").trim_end().to_owned()
}

#[test]
fn marks_are_shown_as_they_are() {
    assert_eq!(
        one("a*b_c [d](e) <f> & `g` | $h$"),
        "a\\*b\\_c \\[d\\](e) &lt;f&gt; &amp; \\`g\\` \\| \\$h\\$"
    );
    assert_eq!(one("- no point"), "\\- no point");
    assert_eq!(one("# no heading"), "\\# no heading");
    assert_eq!(one("12. no point"), "12\\. no point");
    assert_eq!(one("12.5 g"), "12.5 g");
    assert_eq!(one("-5 °C"), "-5 °C");
    assert_eq!(one("--- no rule"), "\\--- no rule");
}

#[test]
fn spans_are_marked() {
    assert_eq!(one(text("a").then(strong(" b ")).then("c")), "a **b** c");
    assert_eq!(one(code("x | y")), "`x | y`");
    assert_eq!(one(code("a`b``c")), "```a`b``c```");
    assert_eq!(one(code("`")), "`` ` ``");
    assert_eq!(one(code("a").then(code("b"))), "`ab`");
    let table = Table::new([column("a")]).row([code("x \\| y")]);
    assert!(markdown::render(&Document::new("t").with(table)).contains("| <code>x \\\\\\| y</code> |"));
}

#[test]
fn a_table_without_columns_is_its_caption() {
    assert_eq!(markdown::render(&Document::new("t").with(Table::new([]).caption("none"))), "# t\n\nnone\n");
}

#[test]
fn headings_go_below_the_title() {
    let page = markdown::render(&Document::new("t").with(heading(1, "one")).with(heading(9, "deep")));
    assert_eq!(page, "# t\n\n## one\n\n##### deep\n");
}

#[test]
fn severity_is_a_word() {
    let page = markdown::render(&gallery());
    for word in ["> **BLOCK** ", "> **WARN** ", "> **NOTE** "] {
        assert!(page.contains(word), "{word}");
    }
}
