//! Checks against values from outside the project; the source stands beside each.

mod blend;
mod cell;
mod chemistry;
mod components;
mod discharge;
mod hazard_data;
mod hazard_heat;
mod hazard_rules;
mod karl_fischer;
mod made;
mod practice;
mod uncertainty;
mod weighing;
pub mod worked_case;
