//! Water that a liquid has taken up on standing, by its mass.

use crate::plan::{Balance, Estimate};
use crate::quantity::{FractionInterval, Mass};

/// A liquid weighed before and after, net, nothing taken out in between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MassGain<'a> {
    /// Mass before; above 0.
    pub before: Mass,
    /// Mass after; above 0.
    pub after: Mass,
    /// Water before.
    pub water_before: &'a FractionInterval,
    /// The balance of both weighings.
    pub balance: Option<&'a Balance>,
}

impl MassGain<'_> {
    /// Water after, as a mass fraction, if all that was gained or lost is water:
    /// w₁ = (m₁ − m₀ + w₀ m₀)/m₁. Below zero where more was lost than there was water. `None` without a
    /// mass before and after.
    pub fn water(&self) -> Option<Estimate> {
        let (before, after) = (self.before.get(), self.after.get());
        if before <= 0.0 || after <= 0.0 {
            return None;
        }
        let dry = 1.0 - self.water_before.value.get();
        let mut water = Estimate::of((after - before * dry) / after);
        match self.balance {
            Some(balance) => {
                let u = balance.net_uncertainty().get();
                water.budget.add("mass before", -dry / after, u);
                water.budget.add("mass after", before * dry / after.powi(2), u);
            }
            None => water.budget.unstated.push("masses: no balance is stated".to_owned()),
        }
        match self.water_before.standard_uncertainty {
            Some(u) => water.budget.add("water before", before / after, u.get()),
            None => water.budget.unstated.push("water before: no uncertainty is stated".to_owned()),
        }
        Some(water)
    }
}
