//! Stocks: the largest batch that they allow, and what is left over.

use serde::{Deserialize, Serialize};

use super::error::PlanError;
use super::flag::Flag;
use super::plan_type::{Line, Plan};
use super::retarget::Retarget;
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

/// One stock before and after. With something in the flask already, `have` and `used` are from now on.
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
            let all = stock.value + request.in_flask(&component);
            Some((component, all / need))
        });
    limits.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// The whole answer for a batch of `units` ratio units.
pub(super) fn limiting(request: &PlanRequest, unit: &UnitBatch, units: f64) -> Option<Limiting> {
    let (component, most) = largest(request, unit)?;
    let stocks = needs(unit).into_iter().filter_map(|(component, need)| {
        let have = request.supply(&component).stock?.value;
        let used = need * units - request.in_flask(&component);
        let used = if used < Mass::ZERO { Mass::ZERO } else { used };
        let left = left(have, used);
        Some(StockUse { component, have, used, left })
    });
    let stocks = stocks.collect();
    Some(Limiting { component, units: most, batch: unit.mass() * most, stocks })
}

/// The limiting stock itself may come out a rounding error away from nothing.
fn left(have: Mass, used: Mass) -> Mass {
    let left = have - used;
    if left.get().abs() <= 1e-12 * (have.get() + used.get()) { Mass::ZERO } else { left }
}

impl Plan {
    /// The same plan, whose stocks and shortages are of what is still to be added.
    pub fn with_rest(mut self, rest: &Retarget) -> Self {
        for line in &mut self.lines {
            line.flags.retain(|flag| !matches!(flag, Flag::NotEnough { .. }));
        }
        for stock in self.limiting.iter_mut().flat_map(|limiting| &mut limiting.stocks) {
            let Some(now) = rest.lines.iter().find(|now| now.component == stock.component) else { continue };
            stock.used = now.to_add() + now.missing;
            stock.left = left(stock.have, stock.used);
        }
        if let Some(limiting) = &self.limiting {
            flag_shortages(&mut self.lines, limiting);
        }
        self
    }
}

/// Flags the lines whose stock is too small.
pub(super) fn flag_shortages(lines: &mut [Line], limiting: &Limiting) {
    for stock in limiting.stocks.iter().filter(|stock| stock.left < Mass::ZERO) {
        if let Some(line) = lines.iter_mut().find(|line| line.component.id == stock.component) {
            line.flags.push(Flag::NotEnough { missing: stock.left * -1.0 });
        }
    }
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
