//! The weighing sheet: a plan to be weighed from, with boxes for what is really there. Made to be read at
//! arm's length and filled in with gloves on.

use super::amount::{ends, planned, short};
use super::cautions::cautions_to_sign;
use super::finding::{makes_it_a_no, warning_shown};
use super::plan::asked;
use super::recipe::procedure_steps;
use super::sheet_list::sheet_list;
use crate::caution::Review;
use crate::input::Warning;
use crate::plan::{Line, LineKind, Plan, Size, Weighing, conventions};
use crate::quantity::Mass;
use crate::recipe::Procedure;
use crate::report::document::{
    Block, Document, Table, Text, WriteIn, big, checklist, column, facts, heading, muted, paragraph, second,
    strong, text, together, write_ins,
};

/// The sheet of a plan. Cautions come before anything is weighed, worst first, and then what is wrong with the
/// numbers; what is only to be known about them stands at the end.
pub fn sheet_document(plan: &Plan, review: &Review, warnings: &[Warning]) -> Document {
    let recipe = &plan.request.recipe;
    let title = if recipe.is_shorthand() {
        "Weighing sheet".to_owned()
    } else {
        format!("Weighing sheet: {}", recipe.name)
    };
    let mut document =
        Document::new(title).footer(recipe.name.as_str()).as_form().with_data(sheet_list(plan));
    document.push(write_ins([
        WriteIn::new("Lot code").width(3),
        WriteIn::new("Date").width(2),
        WriteIn::new("Weighed by").width(2),
        WriteIn::new("Checked by").width(2),
    ]));
    document.push(overview(plan));
    document.extend(cautions_to_sign(review));
    let (grave, light): (Vec<&Warning>, Vec<&Warning>) = warnings.iter().partition(|w| makes_it_a_no(w));
    document.extend(grave.into_iter().map(warning_shown));
    document.extend(light.iter().filter(|w| takes_the_window(w)).map(|w| warning_shown(w)));
    document.extend(weighings(plan));
    document.push(conditions());
    document.extend(procedure(&plan.request.recipe.procedure));
    document.push(results());
    document.extend(small_print(plan, light.into_iter().filter(|w| !takes_the_window(w))));
    document
}

/// True for what says why there is no window: it stands where the window is missed.
fn takes_the_window(warning: &Warning) -> bool {
    matches!(warning.code.as_ref(), "tolerance_used_up" | "no_step_in_window")
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
    let mut before = Mass::ZERO;
    let mut first = weighing_table(plan, "Weigh in this order");
    let mut later = weighing_table(plan, "After the liquid has formed").continued();
    if plan.request.weighing == Weighing::Cumulative {
        first = first.caption(
            "Weigh in this order into one flask: tare it empty and not again, and aim at the display after each",
        );
    }
    for (number, line) in (1..).zip(&plan.lines) {
        let row = weighing(plan, number, line, before);
        before = before + line.shown();
        if matches!(line.kind, LineKind::Part { .. }) { first.push(row) } else { later.push(row) }
    }
    let mut tables = vec![first.into()];
    if !later.rows().is_empty() {
        tables.push(later.into());
    }
    tables
}

fn weighing_table(plan: &Plan, caption: &str) -> Table {
    let component = match plan.lines.iter().any(|line| line.volume.is_some()) {
        true => column("Component").unit(format!("mL at {} °C", plan.request.liquids_at.value.celsius())),
        false => column("Component"),
    };
    let mut columns = vec![
        column("").key("number").right().wide(6),
        component.key("component"),
        column("Bottle").key("bottle").write_in(19),
        column("Target").unit("g, window below").key("target_g").wide(38),
    ];
    columns.extend(match plan.request.weighing {
        Weighing::Each => vec![
            column("Tare").unit("g").key("tare_g").write_in(20),
            column("Gross").unit("g").key("gross_g").write_in(20),
            column("By difference").unit("g").key("net_g").write_in(21),
            column("Running total").unit("g").key("running_total_g").right().wide(22),
        ],
        Weighing::Cumulative => vec![
            column("Display before").unit("g").key("display_before_g").right().wide(20),
            column("Display after").unit("g").key("display_after_g").right().wide(20),
            column("Display read").unit("g").key("display_read_g").write_in(21),
            column("By difference").unit("g").key("net_g").write_in(21),
        ],
    });
    columns.push(column("Initials").key("initials").write_in(13));
    Table::new(columns).caption(caption)
}

/// `before` is what stands on the display, or is in the flask, before this one.
fn weighing(plan: &Plan, number: usize, line: &Line, before: Mass) -> Vec<Text> {
    let window = match line.window {
        Some(window) => {
            let (low, high) = ends(window, plan.request.balance.as_ref());
            format!("{low}\u{a0}to\u{a0}{high}")
        }
        None => "no window given".to_owned(),
    };
    let after = planned(before + line.shown(), plan);
    let mut cells = vec![
        text(number.to_string()),
        component(line),
        text(line.supply.label.as_deref().unwrap_or_default()),
        big(planned(line.target(), plan)).then(second(window)),
    ];
    cells.extend(match plan.request.weighing {
        Weighing::Each => [Text::default(), Text::default(), Text::default(), text(after)],
        Weighing::Cumulative => {
            [text(planned(before, plan)), strong(after), Text::default(), Text::default()]
        }
    });
    cells.push(Text::default());
    cells
}

fn component(line: &Line) -> Text {
    let mut cell = strong(&line.component.name).then(text(" ")).then(muted(asked(line)));
    if let Some(form) = &line.supply.quality.form {
        cell = cell.then(second(format!("as {}", form.name)));
    }
    if let Some(volume) = &line.volume {
        cell = cell.then(second(format!("or {}\u{a0}mL", short(volume.volume.get(), 4))));
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

fn small_print<'w>(plan: &Plan, warnings: impl Iterator<Item = &'w Warning>) -> Vec<Block> {
    let counts = conventions(plan).into_iter().map(|convention| convention.text).collect::<Vec<_>>();
    let mut blocks = Vec::new();
    let all = warnings.map(|warning| warning.message.as_str()).collect::<Vec<_>>();
    if !all.is_empty() {
        blocks.push(paragraph(strong("Mind: ").then(all.join("; ")).then(".")));
    }
    blocks.push(paragraph(muted(format!("What these numbers count: {}.", counts.join("; ")))));
    blocks
}
