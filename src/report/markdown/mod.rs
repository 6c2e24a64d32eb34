//! A document as Markdown with GitHub's tables (GitHub Flavored Markdown Spec 0.29, 4.10).

mod escape;
mod table;

use self::escape::{inline, line};
use self::table::Grid;
use crate::report::chart;
use crate::report::document::{
    Block, Boxes, Caution, Chain, Chart, Document, Fact, Figure, List, Table, Text, Tree, WriteIn, column,
};

/// The document, one empty line between blocks.
pub fn render(document: &Document) -> String {
    let mut parts = vec![format!("# {}", inline(document.title()))];
    parts.extend(blocks(document.blocks()));
    parts.retain(|part| !part.is_empty());
    parts.join("\n\n") + "\n"
}

fn blocks(blocks: &[Block]) -> Vec<String> {
    blocks.iter().map(block).collect()
}

fn block(block: &Block) -> String {
    match block {
        Block::Heading { level, text } => format!("{} {}", "#".repeat(usize::from(*level) + 1), inline(text)),
        Block::Paragraph(text) => line(text),
        Block::List(list) => points(list),
        Block::Facts(facts) => self::facts(facts),
        Block::Table(table) => self::table(table),
        Block::Caution(caution) => self::caution(caution),
        Block::Boxes(boxes) => self::boxes(boxes),
        Block::Chain(chain) => self::chain(chain),
        Block::Tree(tree) => self::tree(tree, 0),
        Block::Figure(figure) => self::figure(figure),
        Block::Chart(chart) => self::chart(chart),
        Block::Together(inner) => blocks(inner).join("\n\n"),
        Block::PageBreak => "---".to_owned(),
    }
}

fn points(list: &List) -> String {
    let mark = |number: usize| match list.mark(number).as_str() {
        // A square to tick is a kind of bullet here.
        "[ ] " => "- [ ] ".to_owned(),
        mark => mark.to_owned(),
    };
    let points = list.items.iter().enumerate();
    points.map(|(index, item)| format!("{}{}", mark(index + 1), line(item))).collect::<Vec<_>>().join("\n")
}

fn facts(facts: &[Fact]) -> String {
    let fact = |fact: &Fact| format!("- **{}:** {}", inline(&plain(&fact.label)), inline(&fact.value));
    facts.iter().map(fact).collect::<Vec<_>>().join("\n")
}

fn table(table: &Table) -> String {
    if table.columns().is_empty() {
        return line(table.caption_text());
    }
    let grid = Grid::of(table).to_string();
    if table.caption_text().is_blank() { grid } else { format!("{}\n\n{grid}", line(table.caption_text())) }
}

fn caution(caution: &Caution) -> String {
    let mut lines = vec![format!("> **{}** {}", caution.severity.word(), inline(&caution.title))];
    lines.extend(caution.details.iter().map(|detail| format!("> {}", line(detail))));
    if !caution.source.is_blank() {
        lines.push(format!("> Source: {}", inline(&caution.source)));
    }
    // Each line is a paragraph of its own.
    lines.join("\n>\n")
}

/// A row of boxes is a table with one empty row.
fn boxes(boxes: &Boxes) -> String {
    let row = |row: &Vec<WriteIn>| {
        let labelled = |write_in: &WriteIn| column(&write_in.label).unit(&write_in.unit);
        let table = Table::new(row.iter().map(labelled)).row(row.iter().map(|write_in| &write_in.value));
        self::table(&table)
    };
    boxes.rows.iter().map(row).collect::<Vec<_>>().join("\n\n")
}

fn chain(chain: &Chain) -> String {
    let mut steps =
        Table::new([column("Quantity"), column("Calculation"), column("Value")]).caption(&chain.title);
    for step in &chain.steps {
        steps.push([&step.label, &step.formula, &step.value]);
    }
    table(&steps)
}

/// Points within points (CommonMark 0.30, 5.2): each level stands two columns further in.
fn tree(tree: &Tree, level: usize) -> String {
    let own = format!("{}- {}", "  ".repeat(level), line(&tree.line));
    let branches = tree.branches.iter().map(|branch| self::tree(branch, level + 1));
    std::iter::once(own.trim_end().to_owned()).chain(branches).collect::<Vec<_>>().join("\n")
}

fn figure(figure: &Figure) -> String {
    let shown = if figure.characters.is_empty() {
        format!("Drawing: {}", inline(&figure.description))
    } else {
        fenced(&figure.characters)
    };
    if figure.caption.is_blank() { shown } else { format!("{}\n\n{shown}", line(&figure.caption)) }
}

/// Lines as they are, between fences longer than any in them (CommonMark 0.30, 4.5).
fn fenced(lines: &[String]) -> String {
    let text = lines.join("\n");
    let longest = text.split(|c| c != '`').map(str::len).max().unwrap_or(0);
    let fence = "`".repeat(3.max(longest + 1));
    format!("{fence}\n{text}\n{fence}")
}

/// As characters in a block of code, which every reader of Markdown leaves alone.
fn chart(chart: &Chart) -> String {
    let lines = chart::lines(chart, 80);
    let drawn = lines.iter().map(|line| line.trim_end()).collect::<Vec<_>>().join("\n").replace('`', "'");
    let drawn = format!("```text\n{drawn}\n```");
    if chart.caption.is_blank() { drawn } else { format!("{}\n\n{drawn}", line(&chart.caption)) }
}

fn plain(text: &Text) -> Text {
    Text::from(text.to_string())
}
