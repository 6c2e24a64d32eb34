//! Each kind of block as lines.

use unicode_width::UnicodeWidthStr;

use super::style::{Ink, Style};
use super::wrap::{hang, width_of, wrap};
use super::{boxes, table, tree};
use crate::report::chart;
use crate::report::document::{
    Block, Caution, Chain, Chart, Fact, Figure, List, Severity, Table, Text, column, muted, text,
};

/// The lines of each block; an empty line is wanted between any two.
pub(super) fn groups(blocks: &[Block], width: usize, style: Style) -> Vec<Vec<String>> {
    let mut groups = Vec::new();
    for block in blocks {
        match block {
            Block::Together(inner) => groups.extend(self::groups(inner, width, style)),
            other => groups.push(lines(other, width, style)),
        }
    }
    groups
}

fn lines(block: &Block, width: usize, style: Style) -> Vec<String> {
    match block {
        Block::Heading { level, text } => heading(*level, text, width, style),
        Block::Paragraph(text) => wrap(text, width, style),
        Block::List(list) => points(list, width, style),
        Block::Facts(facts) => self::facts(facts, width, style),
        Block::Table(table) => table::lines(table, width, style),
        Block::Caution(caution) => self::caution(caution, width, style),
        Block::Boxes(boxes) => boxes::lines(boxes, width, style),
        Block::Chain(chain) => self::chain(chain, width, style),
        Block::Tree(tree) => tree::lines(tree, width, style),
        Block::Figure(figure) => self::figure(figure, width, style),
        Block::Chart(chart) => self::chart(chart, width, style),
        Block::Together(inner) => groups(inner, width, style).concat(),
        Block::PageBreak => vec!["─".repeat(width)],
    }
}

/// The title, with a double rule below it.
pub(super) fn title(text: &Text, width: usize, style: Style) -> Vec<String> {
    ruled(text, "═", width, style)
}

fn heading(level: u8, text: &Text, width: usize, style: Style) -> Vec<String> {
    match level {
        1 => ruled(text, "─", width, style),
        _ => wrap(&bold(text), width, style),
    }
}

fn ruled(text: &Text, rule: &str, width: usize, style: Style) -> Vec<String> {
    let mut lines = wrap(&bold(text), width, style);
    let widest = wrap(text, width, Style::Plain).iter().map(|line| line.width()).max().unwrap_or(0);
    if 0 < widest {
        lines.push(rule.repeat(widest.min(width)));
    }
    lines
}

fn bold(text: &Text) -> Text {
    crate::report::document::strong(text.to_string())
}

fn points(list: &List, width: usize, style: Style) -> Vec<String> {
    let marks: Vec<String> = (1..=list.items.len()).map(|number| list.mark(number)).collect();
    let widest = marks.iter().map(String::len).max().unwrap_or(0);
    let point =
        |(mark, item): (&String, &Text)| hang(&format!("{mark:>widest$}"), widest, item, width, style);
    marks.iter().zip(&list.items).flat_map(point).collect()
}

/// Names in one column, values in the next; a name too long for its column stands above its value.
pub(super) fn facts(facts: &[Fact], width: usize, style: Style) -> Vec<String> {
    let most = width / 3;
    let fits = |label: usize| label <= most;
    let column =
        facts.iter().map(|fact| width_of(&fact.label)).filter(|&label| fits(label)).max().unwrap_or(2);
    let mut lines = Vec::new();
    for fact in facts {
        let label = wrap(&fact.label, width, style);
        let label_width = width_of(&fact.label);
        if fits(label_width) {
            let first = format!("{}{}", label.concat(), " ".repeat(column - label_width.min(column) + 2));
            lines.extend(hang(&first, column + 2, &fact.value, width, style));
        } else {
            lines.extend(label);
            lines.extend(hang(&" ".repeat(column + 2), column + 2, &fact.value, width, style));
        }
    }
    lines
}

/// The word, then a bar whose weight says the same, then the text.
fn caution(caution: &Caution, width: usize, style: Style) -> Vec<String> {
    let (bar, ink) = match caution.severity {
        Severity::Block => ("┃┃", Ink::Red),
        Severity::Warn => ("┃ ", Ink::Yellow),
        Severity::Note => ("│ ", Ink::Bold),
    };
    let inner = width.saturating_sub(9);
    let mut text = wrap(&bold(&caution.title), inner, style);
    text.extend(caution.details.iter().flat_map(|detail| wrap(detail, inner, style)));
    if !caution.source.is_blank() {
        text.extend(wrap(&source(&caution.source), inner, style));
    }
    if text.is_empty() {
        text.push(String::new());
    }
    let word = |index: usize| if index == 0 { caution.severity.word() } else { "" };
    let line = |(index, line): (usize, String)| {
        format!("{} {line}", style.draw(ink, &format!("{:5} {bar}", word(index))))
    };
    text.into_iter().enumerate().map(line).collect()
}

fn source(source: &Text) -> Text {
    muted("Source: ").then(muted(source.to_string()))
}

fn chain(chain: &Chain, width: usize, style: Style) -> Vec<String> {
    let mut table = Table::new([column(""), column(""), column("")]);
    for step in &chain.steps {
        // A value is never torn from its unit.
        let value = format!("= {}", step.value).replace(' ', "\u{a0}");
        table.push([step.label.clone(), step.formula.clone(), text(value)]);
    }
    let mut lines = wrap(&bold(&chain.title), width, style);
    lines.extend(table::lines(&table, width - 2, style).iter().map(|line| format!("  {line}")));
    lines
}

fn figure(figure: &Figure, width: usize, style: Style) -> Vec<String> {
    let widest = figure.characters.iter().map(|line| line.width()).max().unwrap_or(0);
    if 0 < widest && widest <= width {
        let caption = wrap(&muted(figure.caption.to_string()), width, style);
        return figure.characters.iter().cloned().chain(caption).collect();
    }
    let mut lines = wrap(&figure.caption, width, style);
    lines.extend(wrap(&muted(format!("[drawing: {}]", figure.description)), width, style));
    lines
}

/// The caption first, so that it is known what comes.
fn chart(chart: &Chart, width: usize, style: Style) -> Vec<String> {
    let mut lines = wrap(&chart.caption, width, style);
    lines.extend(chart::lines(chart, width));
    lines
}
