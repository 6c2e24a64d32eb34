//! What `plan` shows.

use super::amount::{ends, percent, planned, short};
use crate::plan::{Line, LineKind, Plan, conventions};
use crate::quantity::{Mass, significant, to_digits_of};
use crate::report::document::{Block, Document, Table, bullets, column, facts, heading, paragraph};

/// The plan without warnings and cautions, which stand beside it. The first table has one row for each
/// thing to weigh.
pub fn plan_document(plan: &Plan) -> Document {
    let recipe = &plan.request.recipe;
    let mut lines = vec![("Composition", recipe.shorthand()), ("Size", plan.request.size.text())];
    lines.extend(recipe.source.clone().map(|source| ("Source", source)));
    let mut document =
        Document::new(format!("Plan: {}", recipe.name)).with(facts(lines)).with(weighings(plan));
    document.extend(totals(plan));
    document.extend(stocks(plan));
    document
}

/// Composition, ratios and conventions: what follows when the grams have been read.
pub fn plan_background(plan: &Plan) -> Vec<Block> {
    let mut blocks = vec![heading(1, "Composition"), composition(plan).into()];
    if !plan.ratios.is_empty() {
        blocks.push(heading(1, "Ratios"));
        blocks.push(ratios(plan).into());
    }
    blocks.push(heading(1, "What these numbers count"));
    blocks.push(bullets(conventions(plan).into_iter().map(|convention| convention.text)).into());
    blocks
}

fn weighings(plan: &Plan) -> Table {
    let by_volume = plan.lines.iter().any(|line| line.volume.is_some());
    let bottles = plan.lines.iter().any(|line| line.supply.label.is_some());
    let mut columns = vec![
        column("Component").key("component"),
        column("In the recipe").key("asked"),
        column("Amount").unit("mmol").key("amount_mmol").decimal(),
        column(if plan.is_corrected_for_buoyancy() { "Balance shows" } else { "Weigh" })
            .unit("g")
            .key("weigh_g")
            .decimal(),
        column("From").unit("g").key("low_g").decimal(),
        column("To").unit("g").key("high_g").decimal(),
    ];
    if by_volume {
        columns.push(column("or").unit("mL").key("volume_ml").decimal());
    }
    if bottles {
        columns.push(column("Out of").key("bottle"));
    }
    let mut table = Table::new(columns);
    for line in &plan.lines {
        table.push(weighing(plan, line, by_volume, bottles));
    }
    let what = if plan.is_corrected_for_buoyancy() { "On the display" } else { "In the flask" };
    let mut total = vec![what.to_owned(), String::new(), String::new(), planned(plan.shown_mass(), plan)];
    total.resize(table.columns().len(), String::new());
    table.total(total)
}

fn weighing(plan: &Plan, line: &Line, by_volume: bool, bottles: bool) -> Vec<String> {
    let ends = line.window.map(|window| ends(window, plan.request.balance.as_ref()));
    let (low, high) = ends.unwrap_or_default();
    let mut cells = vec![
        line.component.id.to_string(),
        asked(line),
        line.amount.map_or(String::new(), |amount| significant(amount.get() * 1e3, 5)),
        planned(line.target(), plan),
        low,
        high,
    ];
    if by_volume {
        cells.push(line.volume.as_ref().map_or(String::new(), |volume| short(volume.volume.get(), 4)));
    }
    if bottles {
        cells.push(line.supply.label.clone().unwrap_or_default());
    }
    cells
}

/// What the recipe says of a line.
pub(super) fn asked(line: &Line) -> String {
    match &line.kind {
        LineKind::Part { ratio } => format!("part {ratio}"),
        LineKind::Addition { asked } => asked.clone(),
        LineKind::Water => "to the target".to_owned(),
    }
}

fn totals(plan: &Plan) -> Vec<Block> {
    let composition = &plan.composition;
    let mut lines = vec![
        ("Dry pure components", format!("{} g", planned(composition.dry_pure(), plan))),
        (
            "Water",
            format!(
                "{} g, {} wt%",
                planned(composition.water, plan),
                short(composition.water_fraction().percent(), 4)
            ),
        ),
    ];
    if Mass::ZERO < composition.unknown {
        let fraction = percent(composition.unknown_fraction().get(), 3);
        lines.push(("Impurities", format!("{} g, {fraction}", planned(composition.unknown, plan))));
    }
    if let Some(volume) = plan.volume {
        lines.push(("Volume of the solution", format!("{} mL", short(volume.get(), 5))));
    }
    vec![facts(lines)]
}

fn stocks(plan: &Plan) -> Vec<Block> {
    let Some(limiting) = &plan.limiting else { return Vec::new() };
    let mut table = Table::new([
        column("Stock").key("component"),
        column("There is").unit("g").decimal(),
        column(if plan.request.weighed.is_empty() { "Used" } else { "Still to add" }).unit("g").decimal(),
        column("Left").unit("g").decimal(),
    ]);
    for stock in &limiting.stocks {
        table.push([
            stock.component.to_string(),
            planned(stock.have, plan),
            planned(stock.used, plan),
            planned(stock.left, plan),
        ]);
    }
    let says = format!(
        "The largest batch from this stock is {} g; {} ends it.",
        planned(limiting.batch, plan),
        limiting.component
    );
    vec![table.into(), paragraph(says)]
}

fn composition(plan: &Plan) -> Table {
    let density = plan.request.solution_density().map(|density| density.value.value);
    let shares = plan.composition.shares(density);
    let mut columns = vec![
        column("Component").key("component"),
        column("x, water counted").key("mole_fraction").decimal(),
        column("x, water not counted").key("mole_fraction_dry").decimal(),
        column("Mass fraction").unit("wt%").key("mass_percent").decimal(),
        column("Molality").unit("mol/kg").key("molality_mol_per_kg").decimal(),
    ];
    if density.is_some() {
        columns.push(column("Molarity").unit("mol/L").key("molarity_mol_per_l").decimal());
    }
    let mut table = Table::new(columns);
    let number = |value: Option<f64>| value.map_or(String::new(), |value| format!("{value:.4}"));
    for share in shares {
        let mut cells = vec![
            share.component,
            number(share.mole_fraction.map(|x| x.get())),
            number(share.mole_fraction_dry.map(|x| x.get())),
            format!("{:.3}", share.mass_fraction.percent()),
            number(share.molality.map(|m| m.get())),
        ];
        if density.is_some() {
            cells.push(number(share.molarity.map(|c| c.get())));
        }
        table.push(cells);
    }
    table
}

fn ratios(plan: &Plan) -> Table {
    let mut table = Table::new([
        column("Ratio").key("component"),
        column("Planned").key("ratio").decimal(),
        column("As rounded").key("rounded_ratio").decimal(),
        column("Standard uncertainty").key("u").decimal(),
        column("Relative, k = 2").unit("%").key("expanded_percent").decimal(),
    ]);
    for ratio in &plan.ratios {
        let u = ratio.standard_uncertainty();
        table.push([
            format!("{} per {}", ratio.component.id, ratio.to.id),
            to_digits_of(ratio.value, u, 5),
            ratio.rounded.map_or(String::new(), |rounded| to_digits_of(rounded, u, 5)),
            short(u, 2),
            short(ratio.budget.standard_uncertainty() * 200.0, 2),
        ]);
    }
    table
}
