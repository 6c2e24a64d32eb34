//! Checks against values from outside the project; the source stands beside each.

mod chemistry;
mod hazard_data;
mod hazard_heat;
mod hazard_rules;
