//! What batches of some recipes need, against what stands on the shelf, and what it costs.

use std::collections::BTreeMap;

use clap::Args;
use jiff::civil::Date;
use serde_json::{Value, json};

use super::plan_request::plan_as_asked;
use super::recipe_source::recipe;
use super::shelf::quantity;
use crate::cli::args::Common;
use crate::cli::outcome::Failure;
use crate::component::ComponentTable;
use crate::input::{Fault, Faults, Place};
use crate::plan::Plan;
use crate::quantity::Mass;
use crate::record::bottle::Bottle;
use crate::report::document::{Document, Table, column, paragraph};
use crate::report::view::Shelf;

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
    cost: Option<(f64, String)>,
}

struct BatchCost {
    recipe: String,
    cost: Option<(f64, String)>,
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
        for text in &args.recipes {
            match recipe(common, table, text) {
                Ok(recipe) => plans.extend(mass.clone().and_then(|mass| {
                    let plan = plan_as_asked(&recipe, mass, table).map_err(|error| {
                        let place = Place::in_text("RECIPE", text.as_str(), 0..text.len());
                        Fault::new(error.code(), error.to_string(), place).with_hint(error.hint())
                    });
                    faults.collect(plan)
                })),
                Err(Failure::Input(found)) => faults.extend(found),
                Err(storage) => return Err(storage),
            }
        }
        Ok(faults.or(Self::of_plans(&plans, args.cells, bottles, today))?)
    }

    /// What plans need, added up.
    pub(in crate::cli) fn of_plans(
        plans: &[Plan],
        cells: Option<u32>,
        bottles: &[Bottle],
        today: Date,
    ) -> Self {
        let usable: Vec<&Bottle> = bottles.iter().filter(|row| Shelf::of(row, today).is_usable()).collect();
        let batches = plans.iter().map(|plan| BatchCost::of(plan, bottles)).collect();
        Self { lines: lines(plans, &usable, bottles), batches, cells }
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
            json!({
                "component": line.component,
                "needed_g": line.needed_g,
                "there_g": line.there_g,
                "short_g": line.short_g,
                "cost": line.cost.as_ref().map(|(amount, _)| amount),
                "currency": line.cost.as_ref().map(|(_, currency)| currency),
            })
        });
        let batches = self.batches.iter().map(|batch| {
            let cost = batch.cost.as_ref().map(|(amount, _)| *amount);
            json!({
                "recipe": batch.recipe,
                "cost": cost,
                "cost_per_cell": cost.zip(self.cells).map(|(cost, cells)| cost / f64::from(cells.max(1))),
                "currency": batch.cost.as_ref().map(|(_, currency)| currency),
                "unpriced": batch.unpriced,
            })
        });
        json!({ "lines": lines.collect::<Vec<_>>(), "batches": batches.collect::<Vec<_>>() })
    }

    pub(in crate::cli) fn document(&self) -> Document {
        let mut costs =
            Table::new([column("Batch"), column("Costs"), column("Per cell"), column("Without a price")]);
        for batch in &self.batches {
            let per_cell =
                batch.cost.as_ref().zip(self.cells).map_or(String::new(), |((amount, currency), cells)| {
                    format!("{:.3} {currency}", amount / f64::from(cells.max(1)))
                });
            costs.push([batch.recipe.clone(), money(&batch.cost), per_cell, batch.unpriced.join(", ")]);
        }
        Document::new("What these batches need").with(self.table()).with(costs).with(paragraph(
            "Prices follow from the bottles in the book, by mass; a bottle past its date or given to waste does not \
             count as there. Components are counted pure: a real bottle needs a little more.",
        ))
    }

    /// Each component: what is needed, what is there, what is to be bought.
    pub(in crate::cli) fn table(&self) -> Table {
        let mut table = Table::new([
            column("Component").key("component"),
            column("Needed").unit("g").key("needed_g").decimal(),
            column("There").unit("g").key("there_g").decimal(),
            column("To buy").unit("g").key("short_g").decimal(),
            column("Costs").key("cost"),
        ]);
        for line in &self.lines {
            table.push([
                line.component.clone(),
                format!("{:.2}", line.needed_g),
                format!("{:.2}", line.there_g),
                format!("{:.2}", line.short_g),
                money(&line.cost),
            ]);
        }
        table
    }
}

fn money(cost: &Option<(f64, String)>) -> String {
    match cost {
        Some((amount, currency)) => format!("{amount:.2} {currency}"),
        None => "no price known".to_owned(),
    }
}

fn lines(plans: &[Plan], usable: &[&Bottle], bottles: &[Bottle]) -> Vec<NeedLine> {
    let mut needed: BTreeMap<String, f64> = BTreeMap::new();
    for line in plans.iter().flat_map(|plan| &plan.lines) {
        *needed.entry(line.component.id.to_string()).or_default() += line.weigh.get();
    }
    let line = |(component, needed_g): (String, f64)| {
        let there_g: f64 = usable
            .iter()
            .filter(|row| row.component == component)
            .map(|row| row.left_g)
            .fold(0.0, |a, b| a + b);
        let cost = price_per_gram(&component, bottles).map(|(price, currency)| (price * needed_g, currency));
        NeedLine { short_g: (needed_g - there_g).max(0.0), component, needed_g, there_g, cost }
    };
    needed.into_iter().map(line).collect()
}

impl BatchCost {
    fn of(plan: &Plan, bottles: &[Bottle]) -> Self {
        let mut total: Option<(f64, String)> = None;
        let mut unpriced = Vec::new();
        for line in &plan.lines {
            match (price_per_gram(line.component.id.as_str(), bottles), &mut total) {
                (None, _) => unpriced.push(line.component.name.clone()),
                (Some((price, currency)), None) => total = Some((price * line.weigh.get(), currency)),
                (Some((price, currency)), Some((sum, known))) if *known == currency => {
                    *sum += price * line.weigh.get()
                }
                // Sums over currencies mean nothing.
                (Some((_, currency)), Some(_)) => {
                    unpriced.push(format!("{} (in {currency})", line.component.name))
                }
            }
        }
        Self { recipe: plan.request.recipe.name.clone(), cost: total, unpriced }
    }
}

/// Price per gram by the bottle that came last, with its currency.
pub(super) fn price_per_gram(component: &str, bottles: &[Bottle]) -> Option<(f64, String)> {
    let priced = bottles.iter().filter(|row| row.component == component && 0.0 < row.net_g);
    let last = priced.filter(|row| row.price.is_some()).max_by(|a, b| a.received.cmp(&b.received))?;
    let (amount, currency) = last.price.clone()?;
    Some((amount / last.net_g, currency))
}
