//! The uncertainty of amounts and ratios, relative, first order, every source kept (JCGM 100:2008, 5.1).
//!
//! n = m a (1 − w) / M out of a bottle with assay a, moisture w (the last only on the dried basis), so
//! the relative sensitivities are 1/m, 1/a, −1/(1 − w), −1/M. A ratio by mass has no M.

use super::balance::{Balance, Weighing};
use super::plan_type::Line;
use crate::component::{AssayBasis, RatioBasis};
use crate::quantity::{Budget, Correlation, FractionInterval, Mass};

/// Sources of one line's amount. A sign of −1 puts them into a denominator.
pub(super) fn amount_budget(line: &Line, balance: Option<&Balance>) -> Budget {
    let mut budget = Budget::default();
    add_line(&mut budget, line, RatioBasis::Mole, balance, 1.0);
    budget
}

/// The relative budget of `numerator` over `denominator`. Weighed one after another into one flask,
/// neighbours share a reading with opposite signs.
pub(super) fn ratio_budget(
    numerator: &Line,
    denominator: &Line,
    basis: RatioBasis,
    neighbours: bool,
    balance: Option<&Balance>,
    weighing: Weighing,
) -> Budget {
    let mut budget = Budget::default();
    add_line(&mut budget, numerator, basis, balance, 1.0);
    let second = budget.contributions.len();
    add_line(&mut budget, denominator, basis, balance, -1.0);
    if let (Some(balance), Weighing::Cumulative, true) = (balance, weighing, neighbours) {
        let covariance = -balance.reading_variance();
        budget.correlations.push(Correlation { first: 0, second, covariance });
    }
    budget
}

/// What the basis counts of a line: moles or grams of the pure component.
fn add_line(budget: &mut Budget, line: &Line, basis: RatioBasis, balance: Option<&Balance>, sign: f64) {
    let name = &line.component.id;
    match balance {
        Some(balance) if Mass::ZERO < line.weigh => {
            let u = balance.net_uncertainty().get();
            budget.add(format!("mass of {name}"), sign / line.weigh.get(), u);
        }
        Some(_) => {}
        None => budget.unstated.push(format!("mass of {name}: no balance is stated")),
    }
    let quality = &line.supply.quality;
    let assay = quality.assay_value();
    add_fraction(budget, &format!("assay of {name}"), quality.assay.as_ref(), sign / assay);
    let moisture_counts = quality.assay.is_none() || quality.basis == AssayBasis::Dried;
    if moisture_counts {
        let sensitivity = -sign / (1.0 - quality.moisture_value());
        add_fraction(budget, &format!("moisture of {name}"), quality.moisture.as_ref(), sensitivity);
    }
    if let (RatioBasis::Mole, Some(formula)) = (basis, &line.component.formula) {
        let molar_mass = formula.molar_mass();
        let u = formula.molar_mass_uncertainty();
        budget.add(format!("molar mass of {name}"), -sign / molar_mass.get(), u.get());
    }
}

fn add_fraction(budget: &mut Budget, source: &str, fraction: Option<&FractionInterval>, sensitivity: f64) {
    match fraction.map(|fraction| fraction.standard_uncertainty) {
        Some(Some(u)) => budget.add(source, sensitivity, u.get()),
        Some(None) => budget.unstated.push(format!("{source}: no uncertainty is stated")),
        None => {}
    }
}
