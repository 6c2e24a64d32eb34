//! What batches of some recipes need, against what stands on the shelf, and what it costs.

use std::collections::BTreeMap;
use std::sync::Arc;

use clap::Args;
use jiff::civil::Date;
use serde_json::{Value, json};

use super::cost::Cost;
use super::plan_request::plan_out_of;
use super::recipe_source::recipe;
use super::shelf::quantity;
use super::stores::Stores;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::{Component, ComponentTable};
use crate::input::{Fault, Faults, Place};
use crate::plan::Plan;
use crate::quantity::Mass;
use crate::record::bottle::Bottle;
use crate::report::document::{Document, Table, column, paragraph};

/// The arguments of `bottle need`.
#[derive(Debug, Args)]
pub(in crate::cli) struct NeedArgs {
    /// One or more recipes: paths, names or shorthands
    #[arg(required = true, value_name = "RECIPE")]
    recipes: Vec<String>,
    /// Mass in the flask of each batch
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    mass: String,
    /// Cells that each batch fills, for the cost per cell
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    cells: Option<u32>,
}

/// The answer.
pub(in crate::cli) struct Need {
    lines: Vec<NeedLine>,
    batches: Vec<BatchCost>,
    cells: Option<u32>,
}

struct NeedLine {
    component: String,
    needed_g: f64,
    there_g: f64,
    short_g: f64,
    /// The bottles, in the order in which they would be used.
    bottles: Vec<String>,
    taken_as: String,
    cost: Cost,
    /// The bottle whose price what must be bought has.
    buy_like: Option<String>,
}

struct BatchCost {
    recipe: String,
    cost: Cost,
    /// Names of what has no price, wholly or in part.
    unpriced: Vec<String>,
}

impl Need {
    /// Adds the needs of all recipes up. Bottles past their date or gone don't count.
    pub(in crate::cli) fn of(
        common: &Common,
        args: &NeedArgs,
        table: &ComponentTable,
        bottles: &[Bottle],
        today: Date,
    ) -> Result<Self, Failure> {
        let mut faults = Faults::none();
        let mass = faults.collect(quantity::<Mass>("--mass", &args.mass));
        let mut plans: Vec<Plan> = Vec::new();
        let stores = Stores::of(bottles, today);
        let supplies = stores.supplies();
        for text in &args.recipes {
            match recipe(common, table, text) {
                Ok(recipe) => plans.extend(mass.clone().and_then(|mass| {
                    let plan = plan_out_of(&recipe, mass, supplies.clone(), table).map_err(|error| {
                        let place = Place::in_text("RECIPE", text.as_str(), 0..text.len());
                        Fault::new(error.code(), error.to_string(), place).with_hint(error.hint())
                    });
                    faults.collect(plan)
                })),
                Err(Failure::Input(found)) => faults.extend(found),
                Err(storage) => return Err(storage),
            }
        }
        Ok(faults.or(Self::of_plans(&plans, args.cells, bottles, &stores))?)
    }

    /// What plans out of the supplies of these stores need, added up.
    pub(in crate::cli) fn of_plans(
        plans: &[Plan],
        cells: Option<u32>,
        bottles: &[Bottle],
        stores: &Stores<'_>,
    ) -> Self {
        Self { lines: lines(plans, stores, bottles), batches: batch_costs(plans, stores, bottles), cells }
    }

    /// Grams of each component.
    pub(in crate::cli) fn needed(&self) -> impl Iterator<Item = (&str, f64)> {
        self.lines.iter().map(|line| (line.component.as_str(), line.needed_g))
    }

    /// True if something must be bought.
    pub(in crate::cli) fn is_short(&self) -> bool {
        self.lines.iter().any(|line| 0.0 < line.short_g)
    }

    pub(in crate::cli) fn answer(&self) -> Value {
        let lines = self.lines.iter().map(|line| {
            let cost = line.cost.single().filter(|_| line.cost.unpriced_g <= 0.0);
            json!({
                "component": line.component,
                "needed_g": line.needed_g,
                "there_g": line.there_g,
                "short_g": line.short_g,
                "bottles": line.bottles,
                "taken_as": line.taken_as,
                "cost": cost.map(|(amount, _)| amount),
                "currency": cost.map(|(_, currency)| currency),
                "costs": line.cost.answer(),
                "unpriced_g": line.cost.unpriced_g,
                "bought_at_price_of": line.buy_like,
            })
        });
        let batches = self.batches.iter().map(|batch| {
            let cost = batch.cost.single().map(|(amount, _)| *amount);
            json!({
                "recipe": batch.recipe,
                "cost": cost,
                "cost_per_cell": cost.zip(self.cells).map(|(cost, cells)| cost / f64::from(cells.max(1))),
                "currency": batch.cost.single().map(|(_, currency)| currency),
                "costs": batch.cost.answer(),
                "unpriced": batch.unpriced,
            })
        });
        json!({ "lines": lines.collect::<Vec<_>>(), "batches": batches.collect::<Vec<_>>() })
    }

    pub(in crate::cli) fn document(&self) -> Document {
        let mut costs =
            Table::new([column("Batch"), column("Costs"), column("Per cell"), column("Without a price")]);
        for batch in &self.batches {
            let cells = self.cells.map(|cells| f64::from(cells.max(1)));
            let per_cell = cells.map_or(String::new(), |cells| batch.cost.words(cells, 3));
            let known = Some(batch.cost.words(1.0, 2)).filter(|words| !words.is_empty());
            let money = known.unwrap_or_else(|| NO_PRICE.to_owned());
            costs.push([batch.recipe.clone(), money, per_cell, batch.unpriced.join(", ")]);
        }
        Document::new("What these batches need").with(self.table()).with(costs).with(paragraph(self.basis()))
    }

    /// What the grams are, in words.
    pub(in crate::cli) fn basis(&self) -> String {
        let in_turn = match self.lines.iter().any(|line| 1 < line.bottles.len()) {
            true => {
                " Several bottles are used in turn, the one that expires first before the others; the \
                 batches are planned for the fullest of them."
            }
            false => "",
        };
        let each: Vec<String> = self
            .lines
            .iter()
            .filter_map(|line| Some(format!("{} like {}", line.component, line.buy_like.as_ref()?)))
            .collect();
        let bought = match each.as_slice() {
            [] => String::new(),
            each => format!(
                " What is to buy has the price of the newest bottle that counts: {}.",
                each.join(", ")
            ),
        };
        format!(
            "Prices are those of the bottles that the grams come from, by mass, each currency for itself.{bought} Grams are counted by form, assay and moisture of the bottles in the book, as a plan corrects them. A \
             bottle past its date or given to waste does not count as there.{in_turn}"
        )
    }

    /// Each component: what is needed, what is there, what is to be bought.
    pub(in crate::cli) fn table(&self) -> Table {
        let mut table = Table::new([
            column("Component").key("component"),
            column("Needed").unit("g").key("needed_g").decimal(),
            column("There").unit("g").key("there_g").decimal(),
            column("To buy").unit("g").key("short_g").decimal(),
            column("Counted as").key("taken_as"),
            column("Costs").key("cost"),
        ]);
        for line in &self.lines {
            table.push([
                line.component.clone(),
                format!("{:.2}", line.needed_g),
                format!("{:.2}", line.there_g),
                format!("{:.2}", line.short_g),
                line.taken_as.clone(),
                money(&line.cost),
            ]);
        }
        table
    }
}

const NO_PRICE: &str = "no price known";

fn money(cost: &Cost) -> String {
    let words = cost.words(1.0, 2);
    match (words.is_empty(), 0.0 < cost.unpriced_g) {
        (true, _) => NO_PRICE.to_owned(),
        (false, true) => format!("{words}, of {:.2} g {NO_PRICE}", cost.unpriced_g),
        (false, false) => words,
    }
}

fn lines(plans: &[Plan], stores: &Stores<'_>, bottles: &[Bottle]) -> Vec<NeedLine> {
    let mut needed: BTreeMap<String, (Arc<Component>, Mass)> = BTreeMap::new();
    for line in plans.iter().flat_map(|plan| &plan.lines) {
        let component = || (Arc::clone(&line.component), Mass::ZERO);
        let (_, sum) = needed.entry(line.component.id.to_string()).or_insert_with(component);
        *sum = *sum + line.correction.anhydrous;
    }
    let line = |(id, (component, anhydrous)): (String, (Arc<Component>, Mass))| {
        let drawn = stores.draw(&component, anhydrous);
        NeedLine {
            component: id,
            needed_g: drawn.needed_g,
            there_g: drawn.there_g,
            short_g: drawn.short_g,
            bottles: drawn.from.iter().map(|(row, _)| row.code.to_string()).collect(),
            taken_as: drawn.taken_as(),
            cost: drawn.cost(bottles),
            buy_like: drawn.buy_like.filter(|_| 0.0 < drawn.short_g).map(|row| row.code.to_string()),
        }
    };
    needed.into_iter().map(line).collect()
}

/// Each batch is weighed after the ones before it, out of what they left.
fn batch_costs(plans: &[Plan], stores: &Stores<'_>, bottles: &[Bottle]) -> Vec<BatchCost> {
    let mut used: BTreeMap<String, Mass> = BTreeMap::new();
    plans.iter().map(|plan| BatchCost::of(plan, stores, bottles, &mut used)).collect()
}

impl BatchCost {
    fn of(plan: &Plan, stores: &Stores<'_>, bottles: &[Bottle], used: &mut BTreeMap<String, Mass>) -> Self {
        let mut cost = Cost::default();
        let mut unpriced = Vec::new();
        for line in &plan.lines {
            let before = used.entry(line.component.id.to_string()).or_insert(Mass::ZERO);
            let now = *before + line.correction.anhydrous;
            let of = |anhydrous: Mass| stores.draw(&line.component, anhydrous).cost(bottles);
            let known = cost.unpriced_g;
            cost.add_since(of(now), &of(*before));
            *before = now;
            if known < cost.unpriced_g {
                unpriced.push(line.component.name.clone());
            }
        }
        Self { recipe: plan.request.recipe.name.clone(), cost, unpriced }
    }
}
