//! The terminal: within its width, no space at an end, no number broken, no colour unless asked for.

use meltbook::report::document::{
    Caution, Chain, Document, Figure, Table, WriteIn, bullets, column, facts, heading, page_break, paragraph,
    text, write_ins,
};
use meltbook::report::terminal::{self, Style};
use proptest::prelude::*;
use unicode_width::UnicodeWidthStr;

use super::sample::any_document;

/// The text without escape sequences (ECMA-48, 8.3.117).
fn without_colour(text: &str) -> String {
    let mut parts = text.split("\x1b[");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |shown, part| shown + part.split_once('m').expect("only colours").1)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn lines_keep_to_the_width(words in proptest::collection::vec("[a-zé0-9]{1,9}", 1..60), width in 20usize..120) {
        let mut table = Table::new([column(&words[0]), column("n").decimal(), column("by").write_in(15)]);
        for pair in words.chunks(4) {
            table.push([pair.join(" ")]);
        }
        let all = words.join(" ");
        let document = Document::new(&all)
            .footer(&all)
            .with(heading(1, &all))
            .with(paragraph(&all))
            .with(bullets([&all]))
            .with(facts([(&words[0], &all), (&all, &words[0])]))
            .with(Caution::block(&all).detail(&all).source(&all))
            .with(write_ins([WriteIn::new(&words[0]).unit("g").width(3), WriteIn::new(&all).lines(2)]))
            .with(Chain::new(&all).step(&words[0], &all, "1 g"))
            .with(Figure::new("", &all).caption(&all))
            .with(table)
            .with(page_break());
        for line in terminal::render(&document, width, Style::Plain).lines() {
            prop_assert!(line.width() <= width, "{} of {width}: {line:?}", line.width());
        }
    }

    #[test]
    fn any_document_is_tidy(document in any_document(), width in 20usize..120) {
        let plain = terminal::render(&document, width, Style::Plain);
        prop_assert!(!plain.contains('\x1b'));
        prop_assert!(plain.chars().all(|c| c == '\n' || !c.is_control()));
        for line in plain.lines() {
            prop_assert_eq!(line, line.trim_end());
        }
    }

    #[test]
    fn colour_changes_no_word(document in any_document(), width in 20usize..120) {
        let squeezed = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
        let plain = terminal::render(&document, width, Style::Plain);
        let ansi = without_colour(&terminal::render(&document, width, Style::Ansi));
        prop_assert_eq!(squeezed(&plain), squeezed(&ansi));
    }
}

#[test]
fn a_long_word_is_not_broken() {
    let word = "x".repeat(50);
    let document = Document::new("a").with(paragraph(format!("one {word} two")));
    let shown = terminal::render(&document, 30, Style::Plain);
    assert!(shown.contains(&format!("one\n{word}\ntwo\n")));
    assert!(shown.lines().all(|line| line.width() <= 30 || line == word));
}

#[test]
fn a_number_is_not_broken() {
    let table = Table::new([column("Component"), column("Weigh").unit("g").decimal()])
        .row(["a very long name of a component that wraps", "1234567.8901 ± 0.0002"]);
    for width in 20..80 {
        let shown = terminal::render(&Document::new("t").with(table.clone()), width, Style::Plain);
        assert!(shown.contains("1234567.8901 ± 0.0002"), "{width}: {shown}");
    }
}

#[test]
fn a_value_stays_with_its_unit() {
    let document = Document::new("a").with(paragraph(text("heat it to then 80\u{a0}°C and")));
    assert!(terminal::render(&document, 20, Style::Plain).contains("heat it to then\n80 °C and\n"));
}

#[test]
fn points_stand_below_each_other() {
    let table =
        Table::new([column("n").decimal()]).row(["1.25"]).row(["100"]).row(["0.5 ± 0.1"]).row(["none"]);
    let shown = terminal::render(&Document::new("t").with(table), 40, Style::Plain);
    assert!(shown.contains("\n  1.25\n100\n  0.5 ± 0.1\n       none\n"), "{shown}");
}

#[test]
fn extremes_are_drawn() {
    let empty =
        Document::new("").with(Table::new([])).with(Chain::new("")).with(bullets([""; 0])).with(page_break());
    for width in [0, usize::MAX] {
        let shown = terminal::render(&empty, width, Style::Plain);
        assert!(shown.ends_with("─\n"), "{shown}");
    }
}
