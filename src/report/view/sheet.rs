//! The weighing sheet: a plan to be weighed from, with boxes for what is really there. Made to be read at
//! arm's length and filled in with gloves on.

use super::amount::{high_end, low_end, planned, short};
use super::cautions::cautions_on_sheet;
use super::plan::asked;
use super::recipe::procedure_steps;
use crate::caution::Review;
use crate::input::Warning;
use crate::plan::{Line, LineKind, Plan, Size, conventions};
use crate::quantity::Mass;
use crate::recipe::Procedure;
use crate::report::document::{
    Block, Document, Table, Text, WriteIn, big, checklist, column, facts, heading, muted, paragraph, strong,
    text, together, write_ins,
};

/// The sheet of a plan. Cautions come before anything is weighed, worst first; warnings about the numbers
/// stand below them.
pub fn sheet_document(plan: &Plan, review: &Review, warnings: &[Warning]) -> Document {
    let recipe = &plan.request.recipe;
    let title = if recipe.is_shorthand() {
        "Weighing sheet".to_owned()
    } else {
        format!("Weighing sheet: {}", recipe.name)
    };
    let mut document = Document::new(title).footer(recipe.name.as_str()).as_form();
    document.push(write_ins([
        WriteIn::new("Lot code").width(3),
        WriteIn::new("Date").width(2),
        WriteIn::new("Weighed by").width(2),
        WriteIn::new("Checked by").width(2),
    ]));
    document.push(overview(plan));
    document.extend(cautions_on_sheet(review));
    document.extend(weighings(plan));
    document.push(conditions());
    document.extend(procedure(&plan.request.recipe.procedure));
    document.push(results());
    document.extend(small_print(plan, warnings));
    document
}

fn overview(plan: &Plan) -> Block {
    let recipe = &plan.request.recipe;
    let mut lines = vec![("Composition", text(recipe.shorthand())), ("Batch", text(batch(plan)))];
    lines.extend(recipe.source.as_ref().map(|source| ("Source", muted(source))));
    facts(lines)
}

/// Size, mass in the flask where that is another number, and the balance.
fn batch(plan: &Plan) -> String {
    let mut parts = vec![plan.request.size.text()];
    if !matches!(plan.request.size, Size::Mass(_)) {
        parts.push(format!("{} g in the flask", planned(plan.mass, plan)));
    }
    parts.extend(plan.request.balance.as_ref().map(|balance| format!("balance {}", balance.text)));
    parts.join("; ")
}

/// The ratio first; what goes in after the liquid has formed in a table of its own.
fn weighings(plan: &Plan) -> Vec<Block> {
    let mut running = Mass::ZERO;
    let mut first = weighing_table("Weigh in this order");
    let mut later = weighing_table("After the liquid has formed").continued();
    for (number, line) in (1..).zip(&plan.lines) {
        running = running + line.target();
        let row = weighing(plan, number, line, running);
        if matches!(line.kind, LineKind::Part { .. }) { first.push(row) } else { later.push(row) }
    }
    let mut tables = vec![first.into()];
    if !later.rows().is_empty() {
        tables.push(later.into());
    }
    tables
}

fn weighing_table(caption: &str) -> Table {
    Table::new([
        column("").key("number").right().wide(6),
        column("Component").key("component"),
        column("Bottle").key("bottle").write_in(20),
        column("Target").unit("g, window below").key("target_g").wide(35),
        column("Tare").unit("g").key("tare_g").write_in(21),
        column("Gross").unit("g").key("gross_g").write_in(21),
        column("By difference").unit("g").key("net_g").write_in(22),
        column("Running\u{a0}total").unit("g").key("running_total_g").right().wide(22),
        column("Initials").key("initials").write_in(13),
    ])
    .caption(caption)
}

fn weighing(plan: &Plan, number: usize, line: &Line, running: Mass) -> Vec<Text> {
    let window = match line.window {
        Some(window) => {
            format!(" {}\u{a0}to\u{a0}{}", low_end(window.low, plan), high_end(window.high, plan))
        }
        None => " no window: see below".to_owned(),
    };
    vec![
        text(number.to_string()),
        component(plan, line),
        text(line.supply.label.as_deref().unwrap_or_default()),
        big(planned(line.target(), plan)).then(text(window)),
        Text::default(),
        Text::default(),
        Text::default(),
        text(planned(running, plan)),
        Text::default(),
    ]
}

fn component(plan: &Plan, line: &Line) -> Text {
    let mut cell = strong(&line.component.name).then(text(" ")).then(muted(asked(line)));
    if let Some(form) = &line.supply.quality.form {
        cell = cell.then(muted(format!(", as {}", form.name)));
    }
    if let Some(volume) = &line.volume {
        let at = plan.request.liquids_at.value.celsius();
        cell = cell.then(muted(format!(", or {}\u{a0}mL at {at}\u{a0}°C", short(volume.volume.get(), 4))));
    }
    cell
}

fn conditions() -> Block {
    write_ins([
        WriteIn::new("Humidity").unit("%"),
        WriteIn::new("Room").unit("°C"),
        WriteIn::new("Bottles open for").unit("min"),
        WriteIn::new("Flask and what is in it").unit("g").width(2),
    ])
    .into()
}

fn procedure(procedure: &Procedure) -> Vec<Block> {
    let mut steps = procedure_steps(procedure);
    if steps.is_empty() {
        steps.push("The recipe states no procedure: write down what is done".to_owned());
    }
    let boxes = write_ins([
        WriteIn::new("Heating from").unit("h:min"),
        WriteIn::new("to").unit("h:min"),
        WriteIn::new("Hottest").unit("°C"),
        WriteIn::new("End point seen").width(2),
    ]);
    vec![together([heading(2, "Procedure"), checklist(steps).into(), boxes.into()])]
}

fn results() -> Block {
    write_ins([
        WriteIn::new("Water found").unit("wt%"),
        WriteIn::new("Method").width(2),
        WriteIn::new("Measured on"),
        WriteIn::new("Looks").width(2),
    ])
    .into()
}

fn small_print(plan: &Plan, warnings: &[Warning]) -> Vec<Block> {
    let counts = conventions(plan).into_iter().map(|convention| convention.text).collect::<Vec<_>>();
    let mut blocks = Vec::new();
    if !warnings.is_empty() {
        let all = warnings.iter().map(|warning| warning.message.as_str()).collect::<Vec<_>>();
        blocks.push(paragraph(strong("Mind: ").then(all.join("; ")).then(".")));
    }
    blocks.push(paragraph(muted(format!("What these numbers count: {}.", counts.join("; ")))));
    blocks
}
