//! The build sheet: which cell is built when, with boxes for what is really there.

use jiff::tz::TimeZone;

use super::amount::short;
use super::cautions::cautions_on_sheet;
use super::cell::capital;
use super::moment::moment;
use crate::caution::Review;
use crate::input::Warning;
use crate::record::cell::Cell;
use crate::report::document::{
    Block, Caution, Document, Table, Text, WriteIn, big, checklist, column, facts, heading, muted, paragraph,
    text, write_ins,
};

/// The sheet of cells in their building order. All share a design; the batches may differ from set to set.
pub fn build_sheet(cells: &[Cell], review: &Review, warnings: &[Warning], zone: &TimeZone) -> Document {
    let mut cells: Vec<&Cell> = cells.iter().collect();
    cells.sort_by_key(|cell| (cell.set.built, cell.position, cell.code.clone()));
    let name = cells.first().map(|cell| cell.set.design.name.as_str()).unwrap_or_default();
    let mut document = Document::new(format!("Build sheet: {name}")).footer(name).as_form();
    document.push(write_ins([
        WriteIn::new("Date").width(2),
        WriteIn::new("Built by").width(2),
        WriteIn::new("Temperature").unit("°C").width(2),
        WriteIn::new("Humidity").unit("%").width(2),
    ]));
    document.push(overview(&cells, zone));
    document.extend(cautions_on_sheet(review));
    document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    document.push(order(&cells));
    document.extend(steps(&cells));
    document.push(paragraph(muted(
        "Build in this order, whatever goes wrong with one: a spoilt cell is retired, not built again under its code. \
         Enter the real masses with meltbook cell weigh.",
    )));
    document
}

fn overview(cells: &[&Cell], zone: &TimeZone) -> Block {
    let mut lines: Vec<(&str, Text)> = vec![("Cells", cells.len().to_string().into())];
    if let Some(first) = cells.first() {
        let set = &first.set;
        lines.push(("Planned", moment(set.built, zone).into()));
        lines.push(("Order", format!("drawn at random from seed {}", set.seed).into()));
        if !set.deviations.is_empty() {
            lines.push(("Deviations", set.deviations.join("; ").into()));
        }
        lines.extend(set.operator.iter().map(|operator| ("Operator", operator.into())));
        let permit = set.permit.as_ref();
        lines.extend(permit.map(|permit| {
            ("Procedure", format!("{}, responsible {}", permit.procedure, permit.person).into())
        }));
    }
    facts(lines)
}

/// One row a cell: for each batch of it the dose and a box for the real mass.
fn order(cells: &[&Cell]) -> Table {
    let most = cells.iter().map(|cell| cell.contents.len()).max().unwrap_or_default();
    let blocked = cells.iter().any(|cell| cell.block.is_some());
    let mut columns =
        vec![column("Order").key("position").right().wide(12), column("Cell").key("cell").wide(16)];
    if blocked {
        columns.push(column("Block").key("block").wide(28));
    }
    for number in 1..=most {
        let nth = |name: &str| if most == 1 { name.to_owned() } else { format!("{name}_{number}") };
        columns.push(column("Dose").unit("g").key(nth("dose_g")).wide(26));
        columns.push(column("Weighed").unit("g").key(nth("weighed_g")).write_in(22));
    }
    let negative = negative(cells);
    columns.extend(negative.map(|name| column(capital(name)).unit("g").key("negative_g").write_in(20)));
    columns.push(column("Closed at").key("closed_at").write_in(18));
    columns.push(column("Seen").key("seen").write_in(24));
    let mut table = Table::new(columns).caption("Build in this order");
    for cell in cells {
        let mut row = vec![text(cell.position.to_string()), big(cell.code.to_string())];
        if blocked {
            row.push(text(cell.block.clone().unwrap_or_default()));
        }
        for number in 0..most {
            let content = cell.contents.get(number);
            row.push(content.map_or_else(Text::default, |content| {
                text(format!("{} ", content.batch)).then(big(short(content.planned_g, 6)))
            }));
            let weighed = content.and_then(|content| content.weighed_g);
            row.push(weighed.map_or_else(Text::default, |grams| text(short(grams, 7))));
        }
        table.push(row);
    }
    table
}

/// The material of the negative electrode, which is weighed too.
fn negative<'c>(cells: &[&'c Cell]) -> Option<&'c str> {
    let fields = &cells.first()?.set.design.fields;
    fields.iter().find(|(name, _)| name == "negative material").map(|(_, material)| material.as_str())
}

/// What the design says is done, then what it says of the materials.
fn steps(cells: &[&Cell]) -> Vec<Block> {
    let Some(first) = cells.first() else { return Vec::new() };
    let fields = &first.set.design.fields;
    let steps: Vec<&String> =
        fields.iter().filter(|(name, _)| name.starts_with("step ")).map(|(_, step)| step).collect();
    let others = fields.iter().filter(|(name, _)| !name.starts_with("step "));
    let mut blocks =
        vec![heading(2, "The design"), facts(others.map(|(name, value)| (capital(name), value.clone())))];
    if !steps.is_empty() {
        blocks.push(checklist(steps).into());
    }
    blocks
}
