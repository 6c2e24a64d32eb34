//! How masses, amounts and ratios look in a plan: to the digits that a balance or a tolerance supports.

use crate::plan::{Balance, Plan};
use crate::quantity::{Mass, decimals_for_step, significant};

/// A mass without its unit: to the balance's digit if one is stated, else to the milligram, or to four
/// significant digits below a tenth of a gram.
pub(super) fn mass(mass: Mass, balance: Option<&Balance>) -> String {
    match balance {
        Some(balance) => {
            let decimals = decimals_for_step(balance.readability.get());
            format!("{:.decimals$}", balance.round(mass).get())
        }
        None if mass.get().abs() < 0.1 => significant(mass.get(), 4),
        None => format!("{:.3}", mass.get()),
    }
}

/// A mass of this plan.
pub(super) fn planned(value: Mass, plan: &Plan) -> String {
    mass(value, plan.request.balance.as_ref())
}

/// The lower end of a window, rounded inward so that the number on paper lies inside.
pub(super) fn low_end(value: Mass, plan: &Plan) -> String {
    inward(value, plan.request.balance.as_ref(), f64::ceil)
}

/// The upper end of a window, rounded inward.
pub(super) fn high_end(value: Mass, plan: &Plan) -> String {
    inward(value, plan.request.balance.as_ref(), f64::floor)
}

/// Both ends of a window, rounded inward.
pub(super) fn ends((low, high): (Mass, Mass), balance: Option<&Balance>) -> (String, String) {
    (inward(low, balance, f64::ceil), inward(high, balance, f64::floor))
}

fn inward(value: Mass, balance: Option<&Balance>, direction: fn(f64) -> f64) -> String {
    let Some(balance) = balance else { return mass(value, None) };
    let step = balance.readability.get();
    // A window that ends on a digit of the display keeps that digit despite the dust of a division.
    let steps = value.get() / step;
    let near = steps.round();
    let steps = if (steps - near).abs() < 1e-9 * near.abs().max(1.0) { near } else { direction(steps) };
    mass(Mass::new(steps * step), Some(balance))
}

/// A plain number to so many significant digits, without trailing zeros after the point.
pub(in crate::report) fn short(value: f64, digits: usize) -> String {
    let text = significant(value, digits);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A relative size in percent.
pub(super) fn percent(value: f64, digits: usize) -> String {
    format!("{} %", short(value * 100.0, digits))
}
