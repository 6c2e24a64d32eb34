//! The build list of a study: a sheet to build by.

use crate::input::Warning;
use crate::record::Code;
use crate::record::life::BatchStatus;
use crate::record::study::{ListedCell, Planned};
use crate::report::document::{
    Caution, Document, Table, WriteIn, big, column, facts, heading, muted, paragraph, text, write_ins,
};
use crate::report::view::amount::short;

/// What the list asks of one batch.
#[derive(Debug, Clone, PartialEq)]
pub struct BatchShare {
    /// The batch.
    pub batch: Code,
    /// The place of its electrolyte.
    pub electrolyte: usize,
    /// How far it has come.
    pub status: BatchStatus,
    /// Cells that take of it.
    pub cells: usize,
    /// What is left of it, in grams.
    pub left_g: f64,
}

impl BatchShare {
    /// What is left for each of its cells, in grams.
    pub fn per_cell_g(&self) -> f64 {
        self.left_g.max(0.0) / self.cells.max(1) as f64
    }
}

/// The list. `batches` are those of each electrolyte, in the order that the list counts them; `codes` are the cells
/// that were built by it, by their places in the order.
pub fn build_list_document(
    planned: &Planned,
    list: &[ListedCell],
    batches: &[BatchShare],
    codes: &dyn Fn(u32) -> Option<Code>,
    warnings: &[Warning],
) -> Document {
    let code = planned.code.to_string();
    let mut document =
        Document::new(format!("Build list of study {code}")).footer(format!("study {code}")).as_form();
    document.push(write_ins([
        WriteIn::new("Date").width(2),
        WriteIn::new("Built by").width(2),
        WriteIn::new("Temperature").unit("°C").width(2),
        WriteIn::new("Humidity").unit("%").width(2),
    ]));
    document.push(facts([
        ("Question", planned.question.clone()),
        (
            "Cells",
            format!("{} of each of {} electrolytes", planned.per_electrolyte, planned.electrolytes.len()),
        ),
        (
            "Order",
            format!(
                "{} blocks with {} of each, drawn at random from seed {}",
                planned.blocks.len(),
                planned.per_block(),
                planned.seed
            ),
        ),
    ]));
    document.extend(warnings.iter().map(|warning| Caution::warn(warning.message.as_str())));
    let order = order(planned, list, batches, codes);
    document = document.with_data(order.clone()).with(order);
    if !batches.is_empty() {
        document.push(heading(2, "The batches"));
        document.push(shares(planned, batches));
    }
    document.push(paragraph(muted(
        "Build in this order, block by block, whatever goes wrong with one. meltbook cell build --study takes it from \
         here; cells built otherwise are taken in with meltbook study assign, and are named as departures.",
    )));
    document
}

fn order(
    planned: &Planned,
    list: &[ListedCell],
    batches: &[BatchShare],
    codes: &dyn Fn(u32) -> Option<Code>,
) -> Table {
    let mut table = Table::new([
        column("Order").key("position").right().wide(14),
        column("Block").key("block").wide(34),
        column("Electrolyte").key("electrolyte"),
        column("Batch").key("batch").wide(18),
        column("Cell").key("cell").write_in(20),
        column("Weighed").unit("g").key("weighed_g").write_in(26),
        column("Seen").key("seen").write_in(34),
    ])
    .caption("Build in this order");
    for listed in list {
        let of = || batches.iter().filter(|share| share.electrolyte == listed.electrolyte);
        let batch = of().nth(listed.batch).map(|share| share.batch.to_string());
        table.push([
            text(listed.position.to_string()),
            text(planned.blocks.get(listed.block).map_or("", String::as_str)),
            big(&planned.electrolytes[listed.electrolyte].name),
            text(batch.unwrap_or_default()),
            text(codes(listed.position).map_or(String::new(), |code| code.to_string())),
            text(""),
            text(""),
        ]);
    }
    table
}

fn shares(planned: &Planned, batches: &[BatchShare]) -> Table {
    let mut table = Table::new([
        column("Batch").key("batch"),
        column("Electrolyte").key("electrolyte"),
        column("Status").key("status"),
        column("Cells").key("cells").right(),
        column("Left").unit("g").key("left_g").decimal(),
        column("For each cell at most").unit("g").key("per_cell_g").decimal(),
    ]);
    for share in batches {
        table.push([
            share.batch.to_string(),
            planned.electrolytes[share.electrolyte].name.clone(),
            share.status.word().to_owned(),
            share.cells.to_string(),
            short(share.left_g, 5),
            short(share.per_cell_g(), 4),
        ]);
    }
    table
}
