//! Checks against values from outside the project; the source stands beside each.

mod blend;
mod chemistry;
mod components;
mod curve_fits;
mod distributions;
mod exact_tests;
mod hazard_data;
mod hazard_heat;
mod hazard_rules;
mod karl_fischer;
mod made;
mod outliers;
mod power;
mod practice;
mod replicates;
mod rows;
mod uncertainty;
mod univariate;
mod weighing;
pub mod worked_case;
