//! The uncertainty of amounts and ratios, relative, first order, every source kept (JCGM 100:2008, 5.1).
//!
//! n = m a (1 − w) / M out of a bottle with assay a, moisture w (the last only on the dried basis), so
//! the relative sensitivities are 1/m, 1/a, −1/(1 − w), −1/M. A ratio by mass has no M.

use super::balance::{Balance, Weighing};
use super::correction::{counts_dry, water_sensitivity};
use super::plan_type::Line;
use crate::component::RatioBasis;
use crate::quantity::{Budget, Correlation, FractionInterval, Mass};

/// Sources of one line's amount. A sign of −1 puts them into a denominator.
pub(super) fn amount_budget(line: &Line, balance: Option<&Balance>) -> Budget {
    let mut budget = Budget::default();
    add_line(&mut budget, line, RatioBasis::Mole, balance, 1.0);
    budget
}

/// The relative budget of `numerator` over `denominator`, two of `lines`. Weighed one after another into
/// one flask, neighbours share a reading with opposite signs.
pub(super) fn ratio_budget(
    lines: &[Line],
    (numerator, denominator): (usize, usize),
    basis: RatioBasis,
    balance: Option<&Balance>,
    weighing: Weighing,
) -> Budget {
    let mut budget = Budget::default();
    for (index, sign) in [(numerator, 1.0), (denominator, -1.0)] {
        match lines.get(index) {
            Some(line) if line.component.is_water() => {
                add_water(&mut budget, lines, line, basis, balance, sign)
            }
            Some(line) => add_line(&mut budget, line, basis, balance, sign),
            None => {}
        }
    }
    // A wet bottle counts in its own component and in the water: one source, whose sensitivities add up.
    let mut budget = budget.merged();
    let neighbours = numerator.abs_diff(denominator) == 1;
    if let (Some(balance), Weighing::Cumulative, true) = (balance, weighing, neighbours) {
        let place = |index: usize| {
            let source = lines.get(index).map(mass_source);
            budget.contributions.iter().position(|c| Some(&c.source) == source.as_ref())
        };
        if let (Some(first), Some(second)) = (place(numerator), place(denominator)) {
            let covariance = -balance.reading_variance();
            budget.correlations.push(Correlation { first, second, covariance });
        }
    }
    budget
}

fn mass_source(line: &Line) -> String {
    format!("mass of {}", line.component.id)
}

/// All water of the batch: what is added, and what the other bottles bring.
fn add_water(
    budget: &mut Budget,
    lines: &[Line],
    water: &Line,
    basis: RatioBasis,
    balance: Option<&Balance>,
    sign: f64,
) {
    let brought = |line: &Line| if line.component.is_water() { line.weigh } else { line.correction.water() };
    let total: Mass = lines.iter().map(brought).sum();
    for line in lines.iter().filter(|line| Mass::ZERO < brought(line)) {
        if let Some(balance) = balance {
            let sensitivity = sign * (brought(line) / line.weigh) / total.get();
            budget.add(mass_source(line), sensitivity, balance.net_uncertainty().get());
        }
        if !line.component.is_water() {
            let (name, quality) = (&line.component.id, &line.supply.quality);
            let by = water_sensitivity(&line.correction, quality);
            if by.assay != 0.0 {
                let sensitivity = sign * by.assay / total.get();
                add_fraction(budget, &format!("assay of {name}"), quality.assay.as_ref(), sensitivity);
            }
            let sensitivity = sign * by.moisture / total.get();
            add_fraction(budget, &format!("moisture of {name}"), quality.moisture.as_ref(), sensitivity);
        }
    }
    if let (RatioBasis::Mole, Some(formula)) = (basis, &water.component.formula) {
        let sensitivity = -sign / formula.molar_mass().get();
        budget.add(
            format!("molar mass of {}", water.component.id),
            sensitivity,
            formula.molar_mass_uncertainty().get(),
        );
    }
    if balance.is_none() {
        budget.unstated.push(format!("{}: no balance is stated", mass_source(water)));
    }
}

/// What the basis counts of a line: moles or grams of the pure component.
fn add_line(budget: &mut Budget, line: &Line, basis: RatioBasis, balance: Option<&Balance>, sign: f64) {
    let name = &line.component.id;
    match balance {
        Some(balance) if Mass::ZERO < line.weigh => {
            let u = balance.net_uncertainty().get();
            budget.add(mass_source(line), sign / line.weigh.get(), u);
        }
        Some(_) => {}
        None => budget.unstated.push(format!("{}: no balance is stated", mass_source(line))),
    }
    let quality = &line.supply.quality;
    let assay = quality.assay_value();
    add_fraction(budget, &format!("assay of {name}"), quality.assay.as_ref(), sign / assay);
    if counts_dry(quality) {
        let sensitivity = -sign / (1.0 - quality.moisture_value());
        add_fraction(budget, &format!("moisture of {name}"), quality.moisture.as_ref(), sensitivity);
    }
    if let (RatioBasis::Mole, Some(formula)) = (basis, &line.component.formula) {
        // Of the form in the bottle, whose mass is what is weighed.
        let water = quality.crystal_water(&line.component) * crate::chemistry::water_molar_mass().get();
        let molar_mass = formula.anhydrous_molar_mass().get() + water;
        budget.add(
            format!("molar mass of {name}"),
            -sign / molar_mass,
            formula.molar_mass_uncertainty().get(),
        );
    }
}

fn add_fraction(budget: &mut Budget, source: &str, fraction: Option<&FractionInterval>, sensitivity: f64) {
    match fraction.map(|fraction| fraction.standard_uncertainty) {
        Some(Some(u)) => budget.add(source, sensitivity, u.get()),
        Some(None) => budget.unstated.push(format!("{source}: no uncertainty is stated")),
        None => {}
    }
}
