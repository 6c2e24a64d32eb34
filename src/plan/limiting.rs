//! Stocks: the largest batch that they allow, and what is left over.

use serde::{Deserialize, Serialize};

use super::error::PlanError;
use super::solve::UnitBatch;
use crate::component::{Component, ComponentId};
use crate::quantity::Mass;

use super::request::PlanRequest;

/// Which stock ends the batch and what is left of each.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Limiting {
    /// The component that ends it.
    pub component: ComponentId,
    /// Ratio units that the stocks allow.
    pub units: f64,
    /// Mass in the flask of that batch.
    pub batch: Mass,
    /// What this plan takes from each stock and leaves.
    pub stocks: Vec<StockUse>,
}

/// One stock before and after.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct StockUse {
    /// The component.
    pub component: ComponentId,
    /// What there is.
    pub have: Mass,
    /// What the plan takes.
    pub used: Mass,
    /// What is left; negative if there is not enough.
    pub left: Mass,
}

/// Gross grams of each component per ratio unit, water to add among them.
pub(super) fn needs(unit: &UnitBatch) -> Vec<(ComponentId, Mass)> {
    let water = ComponentId::from_text(Component::WATER).map(|id| (id, unit.added_water));
    let lines = unit.lines().map(|line| (line.component.id.clone(), line.correction.gross));
    lines.chain(water.filter(|_| Mass::ZERO < unit.added_water)).collect()
}

/// Ratio units that the stated stocks allow, and the component that ends them; `None` without a stock.
pub(super) fn largest(request: &PlanRequest, unit: &UnitBatch) -> Option<(ComponentId, f64)> {
    let limits =
        needs(unit).into_iter().filter(|(_, need)| Mass::ZERO < *need).filter_map(|(component, need)| {
            let stock = request.supply(&component).stock?;
            Some((component, stock.value / need))
        });
    limits.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// The whole answer for a batch of `units` ratio units.
pub(super) fn limiting(request: &PlanRequest, unit: &UnitBatch, units: f64) -> Option<Limiting> {
    let (component, most) = largest(request, unit)?;
    let stocks = needs(unit).into_iter().filter_map(|(component, need)| {
        let have = request.supply(&component).stock?.value;
        let used = need * units;
        // The limiting stock itself may come out a rounding error away from nothing.
        let left = have - used;
        let left = if left.get().abs() <= 1e-12 * have.get() { Mass::ZERO } else { left };
        Some(StockUse { component, have, used, left })
    });
    let stocks = stocks.collect();
    Some(Limiting { component, units: most, batch: unit.mass() * most, stocks })
}

/// The same as an error where there is nothing to start from.
pub(super) fn largest_batch(request: &PlanRequest, unit: &UnitBatch) -> Result<f64, PlanError> {
    let (component, units) = largest(request, unit).ok_or(PlanError::NoStock)?;
    if 0.0 < units {
        return Ok(units);
    }
    let stock = request.supply(&component).stock.map_or(Mass::ZERO, |stock| stock.value);
    Err(PlanError::EmptyStock { name: component.to_string(), stock })
}
