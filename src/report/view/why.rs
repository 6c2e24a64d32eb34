//! The calculation behind each mass and ratio.

use super::amount::{percent, short};
use crate::plan::{Line, Plan, RatioResult, why};
use crate::quantity::significant;
use crate::report::document::{Block, Chain, Table, column, heading, paragraph};

/// The chain of every line, then the uncertainty budget of every ratio.
pub fn why_blocks(plan: &Plan) -> Vec<Block> {
    let mut blocks = vec![heading(1, "Why these grams")];
    blocks.extend(plan.lines.iter().map(|line| chain(plan, line).into()));
    for ratio in &plan.ratios {
        blocks.push(budget(ratio).into());
        blocks.extend(unstated(ratio));
    }
    blocks
}

fn chain(plan: &Plan, line: &Line) -> Chain {
    let chain = Chain::new(line.component.name.as_str());
    why(plan, line).into_iter().fold(chain, |chain, step| {
        chain.step(step.label, step.arithmetic, format!("{} g", short(step.result.get(), 9)))
    })
}

fn budget(ratio: &RatioResult) -> Table {
    let caption = format!(
        "Uncertainty of {} per {}: {} (first order, JCGM 100:2008)",
        ratio.component.name,
        ratio.to.name,
        short(ratio.value, 9)
    );
    let mut table = Table::new([
        column("Source"),
        column("Standard uncertainty"),
        column("Relative sensitivity"),
        column("Part of u").decimal(),
        column("Variance").unit("%").decimal(),
    ])
    .caption(caption);
    let percents = ratio.budget.percent_of_variance();
    for (c, share) in ratio.budget.contributions.iter().zip(percents) {
        table.push([
            c.source.clone(),
            significant(c.standard_uncertainty, 3),
            significant(c.sensitivity, 4),
            significant(c.size() * ratio.value, 3),
            format!("{share:.1}"),
        ]);
    }
    for pair in &ratio.budget.correlations {
        let [first, second] = ratio.budget.pair(pair);
        let share = ratio.budget.percent_of_pair(pair);
        table.push([
            format!(
                "reading shared by {first} and {second}: covariance {} g²",
                significant(pair.covariance, 3)
            ),
            String::new(),
            String::new(),
            String::new(),
            format!("{share:.1}"),
        ]);
    }
    let together = ratio.budget.standard_uncertainty();
    let alone = ratio.budget.correlations.is_empty();
    let sum = if alone { "Root of the sum of squares" } else { "Root of the sum of squares and covariances" };
    table.total([
        sum.to_owned(),
        String::new(),
        String::new(),
        significant(ratio.standard_uncertainty(), 3),
        format!("u = {}", percent(together, 3)),
    ])
}

fn unstated(ratio: &RatioResult) -> Vec<Block> {
    let mut blocks = Vec::new();
    if !ratio.budget.correlations.is_empty() {
        blocks.push(paragraph(
            "Neighbours in one flask share a balance reading, what one gains by its error the other loses: twice \
             the product of both sensitivities and their covariance is in the sum.",
        ));
    }
    if !ratio.budget.unstated.is_empty() {
        blocks.push(paragraph(format!("Not in the budget: {}.", ratio.budget.unstated.join("; "))));
    }
    blocks
}
