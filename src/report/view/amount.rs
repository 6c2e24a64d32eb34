//! How masses, amounts and ratios look in a plan: to the digits that a balance or a tolerance supports.

use crate::plan::{Balance, Plan, Window};
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

/// Both ends of a window, rounded inward so that the numbers on paper lie inside.
pub(super) fn ends(window: Window, balance: Option<&Balance>) -> (String, String) {
    let (low, high) = balance.map_or((window.low, window.high), |balance| window.on_display(balance));
    (mass(low, balance), mass(high, balance))
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
