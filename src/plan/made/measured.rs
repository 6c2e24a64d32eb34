//! A batch of which more, or less, is known than what was weighed: its water as titrated, or its composition
//! alone.

use super::{ComponentEstimate, Estimate, Estimates, Made, MadeAs};
use crate::component::Composition;
use crate::quantity::MassFraction;

impl Made {
    /// The same batch with its water as measured: what is not water stays, and the mass follows,
    /// W = D w / (1 − w). `source` names the measurement in the budgets; `None` for its uncertainty says
    /// there that none is stated. A fraction of 1 or more leaves the batch as it is.
    pub fn with_measured_water(
        &self,
        fraction: MassFraction,
        standard_uncertainty: Option<MassFraction>,
        source: &str,
        view: &MadeAs<'_>,
    ) -> Self {
        let w = fraction.get();
        if !(0.0..1.0).contains(&w) {
            return self.clone();
        }
        let mut estimates = self.estimates.clone();
        let mut dry = estimates.mass.clone();
        dry.add(estimates.water.scaled(-1.0));
        let mut water = dry.scaled(w / (1.0 - w));
        match standard_uncertainty {
            Some(u) => water.budget.add(source, dry.value / (1.0 - w).powi(2), u.get()),
            None => water.budget.unstated.push(format!("{source}: no uncertainty is stated")),
        }
        dry.add(water.clone());
        estimates.mass = dry;
        estimates.water = water;
        Self::of(estimates, view)
    }

    /// A batch of which nothing but the composition is known. Its budgets say that no uncertainty is
    /// stated for `name`.
    pub fn of_composition(composition: &Composition, name: &str, view: &MadeAs<'_>) -> Self {
        let unstated = format!("composition of {name}: no uncertainty is stated");
        let estimate = |value: f64| {
            let mut estimate = Estimate::of(value);
            estimate.budget.unstated.push(unstated.clone());
            estimate
        };
        let components = composition.constituents.iter().map(|own| ComponentEstimate {
            component: std::sync::Arc::clone(&own.component),
            in_ratio: own.in_ratio,
            anhydrous: own.anhydrous.get(),
            amount: own.amount.map(|amount| estimate(amount.get())),
            named: estimate(own.anhydrous.get() * own.component.named_per_anhydrous()),
        });
        let estimates = Estimates {
            mass: estimate(composition.mass().get()),
            water: estimate(composition.water.get()),
            components: components.collect(),
            unknown: composition.unknown.get(),
            weighings: Vec::new(),
        };
        Self::of(estimates, view)
    }
}
