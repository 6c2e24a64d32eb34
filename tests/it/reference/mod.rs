//! Checks against values from outside the project; the source stands beside each.

mod blend;
mod chemistry;
mod components;
mod curve_fits;
mod distributions;
mod hazard_data;
mod hazard_heat;
mod hazard_rules;
mod karl_fischer;
mod made;
mod power;
mod practice;
mod rows;
mod uncertainty;
mod weighing;
pub mod worked_case;
