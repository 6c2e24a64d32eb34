//! Each kind of block as HTML.

use maud::{Markup, PreEscaped, html};

use super::table;
use crate::report::chart;
use crate::report::document::{
    Block, Boxes, Caution, Chain, Chart, Fact, Figure, List, ListKind, Severity, Text, Tree, WriteIn,
};

/// Blocks one after the other.
pub(super) fn all(blocks: &[Block]) -> Markup {
    html! { @for block in blocks { (one(block)) } }
}

fn one(block: &Block) -> Markup {
    match block {
        Block::Heading { level, text } => heading(*level, text),
        Block::Paragraph(text) => html! { p { (text) } },
        Block::List(list) => points(list),
        Block::Facts(facts) => self::facts(facts),
        Block::Table(table) => table::table(table),
        Block::Caution(caution) => self::caution(caution),
        Block::Boxes(boxes) => self::boxes(boxes),
        Block::Chain(chain) => self::chain(chain),
        Block::Tree(tree) => html! { ul.tree { (self::tree(tree)) } },
        Block::Figure(figure) => self::figure(figure),
        Block::Chart(chart) => self::chart(chart),
        Block::Together(inner) => html! { section.together { (all(inner)) } },
        Block::PageBreak => html! { div.page-break {} },
    }
}

fn heading(level: u8, text: &Text) -> Markup {
    match level {
        1 => html! { h2 { (text) } },
        2 => html! { h3 { (text) } },
        3 => html! { h4 { (text) } },
        _ => html! { h5 { (text) } },
    }
}

fn points(list: &List) -> Markup {
    match list.kind {
        ListKind::Bullets => html! { ul { @for item in &list.items { li { (item) } } } },
        ListKind::Numbered => html! { ol { @for item in &list.items { li { (item) } } } },
        ListKind::Checklist => html! { ul.checklist { @for item in &list.items { li { (item) } } } },
    }
}

fn facts(facts: &[Fact]) -> Markup {
    html! {
        dl.facts {
            @for fact in facts { div { dt { (fact.label) } dd { (fact.value) } } }
        }
    }
}

/// The word and the weight of the frame both say how heavy it is.
fn caution(caution: &Caution) -> Markup {
    let class = match caution.severity {
        Severity::Block => "caution block",
        Severity::Warn => "caution warn",
        Severity::Note => "caution note",
    };
    html! {
        aside class=(class) {
            p.caution-title { span.severity { (caution.severity.word()) } " " (caution.title) }
            @for detail in &caution.details { p { (detail) } }
            @if !caution.source.is_blank() { p.muted { "Source: " (caution.source) } }
        }
    }
}

fn boxes(boxes: &Boxes) -> Markup {
    html! {
        div.boxes {
            @for row in &boxes.rows { div.box-row { @for write_in in row { (self::write_in(write_in)) } } }
        }
    }
}

/// Free height for each line of handwriting below the label; the style says how much.
fn write_in(write_in: &WriteIn) -> Markup {
    let share = format!(
        "flex:{} 1 0;min-height:calc(var(--label) + {} * var(--line))",
        write_in.width, write_in.lines
    );
    html! {
        div.box style=(share) {
            span.label { (write_in.label) }
            span.value { (write_in.value) }
            span.unit { (write_in.unit) }
        }
    }
}

fn chain(chain: &Chain) -> Markup {
    html! {
        div.chain {
            @if !chain.title.is_blank() { p.chain-title { (chain.title) } }
            table {
                tbody {
                    @for step in &chain.steps {
                        tr {
                            td { (step.label) }
                            td.formula { (step.formula) }
                            td.equals { "=" }
                            td { (step.value) }
                        }
                    }
                }
            }
        }
    }
}

fn tree(tree: &Tree) -> Markup {
    html! {
        li {
            (tree.line)
            @if !tree.branches.is_empty() { ul { @for branch in &tree.branches { (self::tree(branch)) } } }
        }
    }
}

fn figure(figure: &Figure) -> Markup {
    html! {
        figure class=[figure.lying.then_some("lying")] {
            div role="img" aria-label=(figure.description.to_string()) { (PreEscaped(&figure.svg)) }
            @if !figure.caption.is_blank() { figcaption { (figure.caption) } }
        }
    }
}

fn chart(chart: &Chart) -> Markup {
    html! {
        figure.chart {
            div role="img" aria-label=(chart.description.to_string()) { (PreEscaped(chart::svg(chart))) }
            @if !chart.caption.is_blank() { figcaption { (chart.caption) } }
        }
    }
}
